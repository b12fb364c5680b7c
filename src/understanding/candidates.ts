import type { Field, Input } from '../questions/common/fields'
import type { RoleWords } from './asking'
import type { Meaning } from './book'
import { roleWords } from './book'
import { matchesFor, type View } from './line'
import type { Match } from './phrases'
import { bareNumbers, type Piece } from './pieces'
import { type Raw, rawOf } from './raw'
import type { Setting } from './reading'
import type { QuestionShape } from './shape'
import { listed } from './vocabulary'

export type Role = {
  part: 'fields' | 'figures'
  id: string
  field: Field<unknown> | undefined
  words: readonly RoleWords[]
}
export type Candidate = { piece: Piece; role: Role; score: number; raw: Raw | undefined; why: string }

export const roleKey = (role: { part: string; id: string }): string => `${role.part}.${role.id}`
export const flag = (words: readonly RoleWords[], name: 'alone' | 'sum' | 'many' | 'times'): boolean =>
  words[0]?.[name] || words.some((each) => each[name])
export const bareUnit = (words: readonly RoleWords[]): string | undefined =>
  words.find((each) => each.bare !== undefined)?.bare

function rolesOf(shape: QuestionShape): Role[] {
  const fields = Object.entries(shape.inputs).map(
    ([id, input]: [string, Input]): Role => ({
      part: 'fields',
      id,
      field: input.field,
      words: roleWords(shape.id, 'fields', id),
    }),
  )
  const figures = Object.keys(shape.figures).map(
    (id): Role => ({
      part: 'figures',
      id,
      field: undefined,
      words: roleWords(shape.id, 'figures', id),
    }),
  )
  return [...fields, ...figures].filter((role) => role.words.length > 0)
}

const roles = new WeakMap<QuestionShape, Role[]>()
export const rolesFor = (shape: QuestionShape): Role[] => {
  const known = roles.get(shape)
  if (known) return known
  const made = rolesOf(shape)
  roles.set(shape, made)
  return made
}

type Stretch = { from: number; to: number }

/** `said` are the plain phrases that give the piece this role, `denied` those that say it is not. */
type Cue = {
  points: number
  asked: boolean
  never: boolean
  rest: boolean
  said: Stretch[]
  denied: Stretch[]
}

/** A phrase within a longer one that says otherwise says nothing: "existing load is [50 watts more]". */
const within = (inner: Stretch, outer: Stretch): boolean =>
  inner.from >= outer.from && inner.to <= outer.to && inner.to - inner.from < outer.to - outer.from

const PLAIN = 4

/** The phrases that plainly say what a quantity is, by the item that it stands at. */
function plainBySubject(matches: readonly Match<Meaning>[]): Map<number, Match<Meaning>[]> {
  const plain = new Map<number, Match<Meaning>[]>()
  for (const match of matches) {
    const { value, subject, loose } = match
    if (value.kind !== 'role' || value.part !== 'fields' || value.points < PLAIN) continue
    if (loose > 0 || subject === undefined) continue
    const known = plain.get(subject)
    if (known) known.push(match)
    else plain.set(subject, [match])
  }
  return plain
}

/** A phrase within a longer one that gives its quantity another role: "30 cm OFF to the side" is no height. */
function isPartOfOther(
  plain: ReadonlyMap<number, readonly Match<Meaning>[]>,
  match: Match<Meaning>,
): boolean {
  const { value, subject, loose } = match
  if (value.kind !== 'role' || value.part !== 'fields' || value.points < PLAIN || loose > 0) return false
  return (plain.get(subject ?? -1) ?? []).some(
    (other) =>
      other.value.kind === 'role' &&
      other.value.id !== value.id &&
      other.from === match.from &&
      within(match, other),
  )
}

/** What stands right behind a quantity names it best: in "joist 2 inch hole" the 2 inches are a hole's. */
const isNamedBehind = (no: Stretch, yes: Stretch, subject: number): boolean =>
  no.from < subject && no.to === subject + 1 && yes.from === subject

/** What the phrases say of each piece, by role. */
function cuesOf(shape: QuestionShape, view: View): Map<string, Map<Piece, Cue>> {
  const cues = new Map<string, Map<Piece, Cue>>()
  const matches = matchesFor(view, shape.id)
  const plain = plainBySubject(matches)
  for (const match of matches) {
    const { value, subject, from, to, loose } = match
    if (value.kind !== 'role' || (value.question !== undefined && value.question !== shape.id)) continue
    const item = subject === undefined ? undefined : view.items[subject]
    if (item?.kind !== 'piece' || isPartOfOther(plain, match)) continue
    const key = roleKey({ part: value.part, id: value.id })
    const byPiece = cues.get(key) ?? new Map<Piece, Cue>()
    cues.set(key, byPiece)
    const before = byPiece.get(item.piece) ?? {
      points: 0,
      asked: false,
      never: false,
      rest: false,
      said: [],
      denied: [],
    }
    // What stands close says more than what is far away.
    const closeness = Math.min(0.3, 0.05 * (to - from - loose)) - Math.min(1.1, 0.1 * loose)
    if (value.points < 0 && view.items.slice(from + 1, to).some(({ colon }) => colon)) continue
    const said = value.points >= PLAIN && loose === 0 ? [...before.said, { from, to }] : before.said
    const denied = value.points < 0 ? [...before.denied, { from, to }] : before.denied
    byPiece.set(item.piece, {
      said,
      denied,
      points: value.points > 0 ? Math.max(before.points, value.points + closeness) : before.points,
      asked: before.asked || value.asked,
      rest: before.rest || value.rest === true,
      never: denied.some(
        (no) => !said.some((yes) => within(no, yes) || isNamedBehind(no, yes, subject ?? 0)),
      ),
    })
  }
  return cues
}

/** "with 20 % to spare": 80 %. */
const restOf = (raw: Raw): Raw | undefined => {
  const percent = typeof raw === 'string' ? /^([\d.]+) %$/.exec(raw)?.[1] : undefined
  return percent === undefined ? undefined : `${Number((100 - Number(percent)).toPrecision(12))} %`
}

/** "two 75s and a 40": numbers in the plural are things, and need no unit. */
const areThings = (piece: Piece): boolean =>
  bareNumbers(piece).length > 0 && [piece, ...(piece.members ?? [])].some(({ plural }) => plural === true)

const mayAllBeBare = (piece: Piece, words: readonly RoleWords[]): boolean =>
  words.some(({ bare }) => bare !== undefined) && bareNumbers(piece).every((value) => mayBeBare(value, words))

/** Whether a phrase says that a piece is not this input: "below 22 volts" is no supply voltage. */
export const saidNotToBe = (shape: QuestionShape, view: View, id: string, piece: Piece): boolean =>
  cuesOf(shape, view)
    .get(roleKey({ part: 'fields', id }))
    ?.get(piece)?.never === true

/** Pieces that a phrase gives to a choice which has no such value: "25 mm conduit". */
export function notChoices(
  shape: QuestionShape,
  view: View,
  given: ReadonlyMap<string, unknown>,
  used: ReadonlySet<Piece>,
): { field: string; pieces: Piece[] }[] {
  const cues = cuesOf(shape, view)
  return rolesFor(shape).flatMap((role) => {
    if (role.field?.kind !== 'choice' || given.has(role.id)) return []
    const cued = [...(cues.get(roleKey(role)) ?? [])].filter(
      ([piece, cue]) => cue.points >= 3 && !cue.never && !used.has(piece) && piece.kind !== 'label',
    )
    return cued.length > 0 ? [{ field: role.id, pieces: cued.map(([piece]) => piece) }] : []
  })
}

/** Pieces after somebody's "says" in the same sentence, and the first of them where no other clause begins before it. */
function claimedPieces(view: View): { after: Set<Piece>; nearest: Set<Piece>; any: boolean } {
  const after = new Set<Piece>()
  const nearest = new Set<Piece>()
  let any = false
  for (const { value, to } of view.matches) {
    if (value.kind !== 'claim' || value.how !== 'said') continue
    any = true
    let first = true
    for (let at = to; at < view.items.length; at++) {
      const item = view.items[at]
      if (item?.kind === 'stop') break
      if (item?.kind === 'comma' && at > to + 1) first = false
      if (item?.kind !== 'piece') continue
      after.add(item.piece)
      if (first) nearest.add(item.piece)
      first = false
    }
  }
  return { after, nearest, any }
}

/** What comes first after "he says" and what a phrase says a figure is: a claim, and no input. */
function plainlyClaimed(
  shape: QuestionShape,
  cues: ReadonlyMap<string, ReadonlyMap<Piece, Cue>>,
  nearest: ReadonlySet<Piece>,
): Set<Piece> {
  const out = new Set<Piece>()
  for (const role of rolesFor(shape)) {
    const field = role.part === 'figures' ? figureField(shape.figures[role.id]?.unit ?? '') : undefined
    for (const [piece, cue] of cues.get(roleKey(role)) ?? []) {
      const fits = field !== undefined && nearest.has(piece) && piece.bare === undefined && !cue.never
      if (
        fits &&
        cue.points >= 4 &&
        rawOf(field, piece, undefined, { sum: false, times: false }) !== undefined
      )
        out.add(piece)
    }
  }
  return out
}

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
  const claims = plainlyClaimed(shape, cues, claimed.nearest)
  const things = setting.has.size > 0 ? bareThings(view) : new Set<Piece>()
  for (const role of rolesFor(shape)) {
    const byPiece = cues.get(roleKey(role))
    if (!byPiece && !takesUncalled(role, setting) && !claimed.any) continue
    for (const piece of view.pieces) {
      if (taken.has(piece) || piece.kind === 'label' || piece.kind === 'range') continue
      const cue = byPiece?.get(piece)
      if (cue?.never) continue
      const candidate =
        role.part === 'fields'
          ? !claims.has(piece) && fieldCandidate(shape, role, piece, cue, setting, things)
          : figureCandidate(shape, role, piece, cue, claimed)
      if (candidate) out.push(candidate)
    }
  }
  return out
}

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
        : setting.has.has(role.id) && setting.has.size > 0
          ? 0.6
          : 0
  const base = (flag(role.words, 'alone') ? ALONE : 0.4) + (isUsual(role, piece) ? USUAL : 0)
  const score = (cued ? cue.points : 0) + (free ? base : 0) + wanted
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

/** A number without a unit needs a plain phrase to be a quantity, and a mere "one" the plainest. */
const bareEnough = (piece: Piece, cue: Cue, words: readonly RoleWords[]): boolean =>
  piece.bare === undefined ||
  (cue.points >= (piece.plain ? 2.4 : 4) &&
    mayBeBare(piece.bare, words) &&
    !(isMereOne(piece) && bareUnit(words) !== 'count' && bareUnit(words) !== 'plain'))

/** "with one feed": a spoken "one" counts, and measures nothing. */
const isMereOne = (piece: Piece): boolean => piece.bare === 1 && piece.plain === false
const UNITS = /^(?:V|A|W|m|ft|in)$/

const mayBeBare = (value: number, words: readonly RoleWords[]): boolean =>
  words.every(({ bareRange, bareOnly }) => {
    const inRange = bareRange === undefined || (value >= bareRange[0] && value <= bareRange[1])
    return inRange && (bareOnly.length === 0 || bareOnly.includes(value))
  })

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

/** Figures that a claim may be about carry their dimension in their unit. */
export const figureField = (unit: string): Field<unknown> | undefined => {
  const dimension = {
    m: 'length',
    V: 'voltage',
    A: 'current',
    W: 'power',
    VA: 'apparentPower',
    '%': 'percent',
    lx: 'illuminance',
    'lm/m': 'lumensPerLength',
    cm3: 'volume',
    kWh: 'energy',
    ohm: 'resistance',
    '': 'money',
  }[unit]
  if (unit === 'size') return { kind: 'size' } as Field<unknown>
  if (unit === 'count') return { kind: 'count' } as Field<unknown>
  return dimension ? ({ kind: 'quantity', dimensions: [dimension] } as unknown as Field<unknown>) : undefined
}

function figureCandidate(
  shape: QuestionShape,
  role: Role,
  piece: Piece,
  cue: Cue | undefined,
  claimed: ReturnType<typeof claimedPieces>,
): Candidate | undefined {
  const field = figureField(shape.figures[role.id]?.unit ?? '')
  if (field === undefined) return undefined
  const cued = cue !== undefined && cue.points > 0
  const inClaim = claimed.after.has(piece)
  const main = flag(role.words, 'alone')
  if (!inClaim && !(cued && cue.asked)) return undefined
  if (!cued && !(main && claimed.nearest.has(piece))) return undefined
  const bare = cued || (main && claimed.nearest.has(piece)) ? bareUnit(role.words) : undefined
  if (piece.bare !== undefined && (bare === undefined || !mayBeBare(piece.bare, role.words))) return undefined
  if (isMereOne(piece) && UNITS.test(bare ?? '')) return undefined
  if (piece.bare !== undefined && cued && cue.points < 2.4) return undefined
  const raw = rawOf(field, piece, bare, { sum: false, times: false })
  if (raw === undefined) return undefined
  const nearest = claimed.nearest.has(piece) ? 2.2 : 0
  const score = (cued ? cue.points : 0) + nearest + (main ? 0.6 : 0) + (inClaim ? 0.4 : 0)
  return { piece, role, score, raw, why: inClaim ? 'claimed' : 'asked about' }
}
