import type { Field } from '../questions/common/fields'
import { areThings, bareEnough, mayAllBeBare, mayBeBare } from './bare'
import { claimedPieces, figureCandidate, namedFigures, plainlyClaimed } from './claimed'
import { clean } from './clean'
import { type Cue, cuesOf } from './cues'
import { namedAlone } from './named'
import { bareNumbers, type Piece } from './pieces'
import { type Raw, rawOf } from './raw'
import type { Setting } from './reading'
import { bareUnit, type Candidate, flag, type Role, roleKey, rolesFor } from './roles'
import type { QuestionShape } from './shape'
import type { View } from './view'
import { listed } from './vocabulary'

const ALONE = 1
/** What was asked back is what a number alone most likely answers. */
const ASKED_FOR = 1.6

export function candidatesOf(
  shape: QuestionShape,
  view: View,
  setting: Setting,
  taken: ReadonlySet<Piece>,
): Candidate[] {
  const cues = cuesOf(shape, view)
  const claimed = claimedPieces(view)
  const out: Candidate[] = []
  const plain = new Set(
    rolesFor(shape).flatMap((role) =>
      role.part === 'fields'
        ? [...(cues.get(roleKey(role)) ?? [])].flatMap(([piece, { said }]) =>
            said.length > 0 ? [piece] : [],
          )
        : [],
    ),
  )
  const figures = namedFigures(
    shape,
    view,
    new Set([...claimed.after].filter((piece) => claimed.nearest.has(piece) || !plain.has(piece))),
  )
  const claims = plainlyClaimed(shape, cues, claimed.nearest)
  for (const piece of claimed.nearest) if (figures.has(piece)) claims.add(piece)
  const named = claimed.any ? new Map<Piece, string>() : namedAlone(shape, view, setting.unitOf)
  const things = setting.has.size > 0 ? bareThings(view) : new Set<Piece>()
  for (const role of rolesFor(shape)) {
    const byPiece = cues.get(roleKey(role))
    const isNamed = role.part === 'fields' && [...named.values()].includes(role.id)
    if (!byPiece && !isNamed && !takesUncalled(role, setting) && !claimed.any) continue
    for (const piece of view.pieces) {
      if (taken.has(piece) || piece.kind === 'label' || piece.kind === 'range') continue
      const said = byPiece?.get(piece)
      if (said?.never) continue
      const cue = role.part === 'fields' && named.get(piece) === role.id ? withName(said) : said
      const candidate =
        role.part === 'fields'
          ? !claims.has(piece) && fieldCandidate(shape, role, piece, cue, setting, things)
          : !(named.has(piece) && !claimed.any) && figureCandidate(shape, role, piece, cue, claimed, figures)
      if (candidate) out.push(candidate)
    }
  }
  return out
}

/** What the name of an input says, anywhere in the clause of the one quantity that it has. */
const NAMED = 2.45

const withName = (said: Cue | undefined): Cue => ({
  asked: false,
  never: false,
  rest: false,
  said: [],
  denied: [],
  ...said,
  points: Math.max(said?.points ?? 0, NAMED),
})

/** Whether a role may take a quantity that no phrase gives it. */
const takesUncalled = (role: Role, setting: Setting): boolean =>
  role.part === 'fields' &&
  (flag(role.words, 'alone') || setting.has.has(role.id) || setting.wants.has(role.id))

/** "two 250 ft spools" are spools of 250 ft, however many. */
const ofCountedThing = (shape: QuestionShape, { id }: Role): boolean =>
  rolesFor(shape).some(({ words }) => words.some(({ countOf }) => countOf === id))

/** "add a 40", "another 900": a number that an article or "another" makes one more thing of a list. */
function bareThings(view: View): ReadonlySet<Piece> {
  const out = new Set<Piece>()
  view.items.forEach((item, at) => {
    const before = view.items[at - 1]
    const word = before?.kind === 'word' ? before.text : ''
    if (item.kind === 'piece' && (item.piece.bare ?? 0) >= LEAST_THING && ONE_OF.has(word))
      out.add(item.piece)
  })
  return out
}

const LEAST_THING = 5
const ONE_OF = listed('oneThing')

/** "with 20 % to spare": 80 %. */
const restOf = (raw: Raw): Raw | undefined => {
  const percent = typeof raw === 'string' ? /^([\d.]+) %$/.exec(raw)?.[1] : undefined
  return percent === undefined ? undefined : `${clean(100 - Number(percent))} %`
}

function fieldCandidate(
  shape: QuestionShape,
  role: Role,
  piece: Piece,
  cue: Cue | undefined,
  setting: Setting,
  things: ReadonlySet<Piece>,
): Candidate | undefined {
  const oneMore = things.has(piece) && role.field?.kind === 'list' && setting.has.has(role.id)
  const cued = cue !== undefined && cue.points > 0
  const free =
    oneMore ||
    (areThings(piece) &&
      flag(role.words, 'alone') &&
      role.field?.kind === 'list' &&
      mayAllBeBare(piece, role.words)) ||
    ((flag(role.words, 'alone') || setting.has.has(role.id) || setting.wants.has(role.id)) &&
      piece.bare === undefined) ||
    (setting.wants.has(role.id) && role.words.some(({ bareOnly }) => bareOnly.includes(piece.bare ?? 0))) ||
    answersWhatWasAsked(role, piece, setting)
  if ((!cued && !free) || role.field === undefined) return undefined
  const bare = cued && !oneMore ? bareEnough(piece, cue, role.words) : bareNumbers(piece).length > 0
  const raw = rawOf(
    role.field,
    ofCountedThing(shape, role) ? { ...piece, times: 1 } : piece,
    bare
      ? (bareUnit(role.words) ?? (oneMore ? setting.unitOf?.get(role.id) : unitBefore(role, setting)))
      : undefined,
    {
      sum: flag(role.words, 'sum'),
      times: flag(role.words, 'times'),
    },
  )
  if (raw === undefined) return undefined
  const left = cue?.rest ? restOf(raw) : raw
  if (left === undefined) return undefined
  const [first] = setting.wants
  const wanted =
    role.id === first
      ? ASKED_FOR
      : setting.wants.has(role.id)
        ? 0.7
        : setting.has.has(role.id) && setting.has.size > 0 && !cued
          ? 0.6
          : 0
  // "two more drivers, 40 W each" go to a list before they are one load.
  const counted = piece.times > 1 && role.field.kind !== 'list'
  const base = counted ? 0 : (flag(role.words, 'alone') ? ALONE : 0.4) + (isUsual(role, piece) ? USUAL : 0)
  // What may stand uncalled is no more meant where phrases call two inputs alike.
  const score = (cued ? cue.points : 0) + (free && !cued ? base : 0) + wanted
  const far = outside(role.field, piece) ? OUT_OF_RANGE : 0
  return { piece, role, score: score + far, raw: left, why: cued ? 'phrase' : 'alone' }
}

/** What an input usually is: 15 A are a breaker before they are a load, 230 V a supply before they are a tape. */
const isUsual = ({ words }: Role, { readings }: Piece): boolean =>
  words.some(({ bareOnly }) => bareOnly.includes(readings[0]?.value ?? Number.NaN))
const USUAL = 0.3

/** "existing is 900": in the unit it had, where the number is not what was asked for. */
const unitBefore = ({ id, field }: Role, { wants, unitOf }: Setting): string | undefined =>
  wants.size === 0 && field?.kind !== 'list' ? unitOf?.get(id) : undefined

/** "ninety six", after "how many watts?". */
const answersWhatWasAsked = (role: Role, piece: Piece, setting: Setting): boolean => {
  const [first] = setting.wants
  const unit = bareUnit(role.words)
  return role.id === first && piece.bare !== undefined && Boolean(unit) && mayBeBare(piece.bare, role.words)
}

/** A value that the input cannot have counts against the role, so that one that can have it wins. */
const OUT_OF_RANGE = -2.5

function outside(field: Field<unknown>, piece: Piece): boolean {
  const inner = field.item ?? field
  const [dimension] = inner.dimensions ?? []
  const reading = piece.readings.find((each) => inner.dimensions?.includes(each.dimension as never))
  const range = inner.ranges?.[reading?.unit ?? ''] ?? (dimension ? inner.range : undefined)
  return (
    reading !== undefined && range !== undefined && (reading.value < range.min || reading.value > range.max)
  )
}
