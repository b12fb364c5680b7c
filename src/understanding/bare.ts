import type { RoleWords } from './asking'
import type { Cue } from './cues'
import { bareNumbers, type Piece } from './pieces'
import { bareUnit } from './roles'

/** "two 75s and a 40": numbers in the plural are things, and need no unit. */
export const areThings = (piece: Piece): boolean =>
  bareNumbers(piece).length > 0 && [piece, ...(piece.members ?? [])].some(({ plural }) => plural === true)

export const mayAllBeBare = (piece: Piece, words: readonly RoleWords[]): boolean =>
  words.some(({ bare }) => bare !== undefined) && bareNumbers(piece).every((value) => mayBeBare(value, words))

/** A number without a unit needs a plain phrase to be a quantity, and a mere "one" the plainest. */
export const bareEnough = (piece: Piece, cue: Cue, words: readonly RoleWords[]): boolean =>
  piece.bare === undefined ||
  (cue.points >= (piece.plain ? (isUsualValue(piece.bare, words) ? 2 : 2.4) : 4) &&
    mayBeBare(piece.bare, words) &&
    !(isMereOne(piece) && bareUnit(words) !== 'count' && bareUnit(words) !== 'plain'))

/** A value that few other things have: 24 is a voltage before it is anything else, where a phrase hints at it. */
const isUsualValue = (value: number, words: readonly RoleWords[]): boolean =>
  words.some(({ bareOnly }) => bareOnly.includes(value))

/** "with one feed": a spoken "one" counts, and measures nothing. */
export const isMereOne = (piece: Piece): boolean => piece.bare === 1 && piece.plain === false
export const UNITS = /^(?:V|A|W|m|ft|in)$/

export const mayBeBare = (value: number, words: readonly RoleWords[]): boolean =>
  words.every(({ bareRange, bareOnly }) => {
    const inRange = bareRange === undefined || (value >= bareRange[0] && value <= bareRange[1])
    return inRange && (bareOnly.length === 0 || bareOnly.includes(value))
  })
