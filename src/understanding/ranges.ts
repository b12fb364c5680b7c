import { alike, hasUnit } from './lexer'
import { inheriting } from './lists'
import { type Piece, readingIn } from './pieces'
import { Sayings } from './sayings'
import { between, textAt } from './stretch'
import type { Token } from './tokens'
import { listed, vocabulary } from './vocabulary'

type Tokens = readonly Token[]

const rangeWords = new Sayings(vocabulary.ranges.map((saying) => [saying, true] as const))

/** "12 volts or 24": the second is in the unit of the first. */
function leansBack(tokens: Tokens, one: Piece, other: Piece): boolean {
  const next = tokens[other.to]
  return (
    hasUnit(one) &&
    other.bare !== undefined &&
    between(tokens, one, other).includes('or') &&
    (next === undefined || next.kind === 'mark')
  )
}

/** Whether what stands between two numbers leaves open which of them it is: "to", "or", ", could be a". */
function eitherOr(tokens: Tokens, one: Piece, other: Piece): boolean {
  const from = textAt(tokens, one.to) === ',' ? one.to + 1 : one.to
  const article = ['a', 'an'].includes(textAt(tokens, other.from - 1)) ? 1 : 0
  return [other.from, other.from - article].some((to) => from < to && rangeWords.at(tokens, from)?.to === to)
}

/** "30 to 40 feet", "30-40 ft", "30 or 40 feet": no number, though both ends are kept. */
export function withRanges(tokens: Tokens, pieces: readonly Piece[]): Piece[] {
  const out: Piece[] = []
  for (let at = 0; at < pieces.length; at++) {
    const [one, other] = [pieces[at] as Piece, pieces[at + 1]]
    const joined = other && one.to < other.from && eitherOr(tokens, one, other)
    const opened =
      other &&
      ['between', 'from'].includes(textAt(tokens, one.from - 1)) &&
      ['and', 'to', '-'].includes(between(tokens, one, other).join(' '))
    const leaning = other && joined && leansBack(tokens, one, other) ? inheriting(other, one) : other
    const fits =
      other &&
      (hasUnit(other) || leaning !== other) &&
      other.kind === 'quantity' &&
      one.kind === 'quantity' &&
      (one.bare !== undefined || leaning !== other || alike(one, other))
    if (!fits || !(joined || opened) || other.members) {
      out.push(one)
      continue
    }
    const from = opened ? one.from - 1 : one.from
    const low = hasUnit(one) ? one : inheriting(one, other)
    out.push({
      ...other,
      kind: 'range',
      from,
      to: other.to,
      readings: [],
      low: low.readings[0]?.value ?? 0,
      high: leaning?.readings[0]?.value ?? 0,
      members: [low, leaning as Piece],
    })
    at += 1
  }
  return out
}

const correctionWords = new Sayings(vocabulary.corrections.map((saying) => [saying, true] as const))

const FILLERS = listed('correctionFillers')

/** "3 watts, no, 3.5 watts": nothing between them but a no and what goes with it. */
function denied(tokens: Tokens, one: Piece, other: Piece): boolean {
  const words = between(tokens, one, other)
  return words.includes('no') && words.every((word) => FILLERS.has(word))
}

/** Whether a quantity may stand in the place of another: of its kind, or the same unit by the foot. */
const mayReplace = (one: Piece, other: Piece): boolean =>
  alike(one, other) ||
  one.bare !== undefined ||
  (one.readings[0]?.dimension === 'power' && readingIn(other, 'powerPerLength') !== undefined)

const TURNS = listed('correctionTurns')

/** "60 feet, no, 65": the number that replaces has the unit of the one that it replaces. */
export function withUnitsOfReplaced(tokens: Tokens, pieces: readonly Piece[]): Piece[] {
  return pieces.map((piece, at) => {
    const before = pieces[at - 1]
    const next = tokens[piece.to]
    if (!before || piece.bare === undefined || !hasUnit(before) || before.kind !== 'quantity') return piece
    const words = between(tokens, before, piece)
    const replaces = words.some((word) => TURNS.has(word)) && words.every((word) => FILLERS.has(word))
    return replaces && (next === undefined || next.kind === 'mark') ? inheriting(piece, before) : piece
  })
}

/** So many words and marks at most stand between a number and the one that replaces it. */
const FARTHEST_CORRECTION = 12

/** "thirty feet no sorry make that forty two feet": the first is taken back. */
export function takenBack(tokens: Tokens, pieces: readonly Piece[]): ReadonlySet<Piece> {
  const out = new Set<Piece>()
  for (let at = 0; at + 1 < pieces.length; at++) {
    const [one, next, after] = [pieces[at] as Piece, pieces[at + 1] as Piece, pieces[at + 2]]
    // "no, three of 1/4 inch": the count stands before what replaces.
    const other = after && !hasUnit(next) && hasUnit(one) ? after : next
    if (one.kind !== other.kind || !mayReplace(one, other)) continue
    if (other.from - one.to > FARTHEST_CORRECTION || !hasUnit(other)) continue
    // "4 no. 9 mm cables" counts.
    if (between(tokens, one, other).join(' ') === 'no .' && !hasUnit(one)) continue
    if (denied(tokens, one, other)) out.add(one)
    for (let word = one.to; word < other.from; word++) {
      const found = correctionWords.at(tokens, word)
      if (found && found.to <= other.from) out.add(one)
    }
  }
  return out
}
