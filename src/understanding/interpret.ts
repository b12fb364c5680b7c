import type { Field, Input } from '../questions/common/fields'
import type { RoleWords } from './asking'
import { type Meaning, roleWords } from './book'
import type { Line, View } from './line'
import type { Piece } from './pieces'
import { type Raw, rawOf } from './raw'
import type { QuestionShape } from './shape'

/** An input as it was understood. */
export type Given = { raw: Raw; said: string; pieces: readonly Piece[] }
export type ClaimGiven = {
  figure: string
  value: number | string
  unit?: string
  raw: string
  said: string
  pieces: readonly Piece[]
}

/** A field that cannot be settled, and the pieces that might have settled it. */
export type Unclear = { field: string; pieces: readonly Piece[] }

/** What a line says when it is taken as one question. */
export type Interpretation = {
  shape: QuestionShape
  view: View
  given: Map<string, Given>
  claim: ClaimGiven | undefined
  unclear: Unclear[]
  left: Piece[]
  score: number
  ask: number
  /** The points of the plainest phrase that asks it. */
  plainest: number
  why: string[]
}

/** What the line stands against: which inputs are there already, and which are wanted. */
export type Setting = { has: ReadonlySet<string>; wants: ReadonlySet<string> }

type Role = {
  part: 'fields' | 'figures'
  id: string
  field: Field<unknown> | undefined
  words: readonly RoleWords[]
}
type Candidate = { piece: Piece; role: Role; score: number; raw: Raw | undefined; why: string }

const roleKey = (role: { part: string; id: string }): string => `${role.part}.${role.id}`
const flag = (words: readonly RoleWords[], name: 'alone' | 'sum' | 'many' | 'times'): boolean =>
  words[0]?.[name] || words.some((each) => each[name])
const bareUnit = (words: readonly RoleWords[]): string | undefined =>
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
const rolesFor = (shape: QuestionShape): Role[] => {
  const known = roles.get(shape)
  if (known) return known
  const made = rolesOf(shape)
  roles.set(shape, made)
  return made
}

type Cue = { points: number; asked: boolean; never: boolean }

/** What the phrases say of each piece, by role. */
function cuesOf(shape: QuestionShape, view: View): Map<string, Map<Piece, Cue>> {
  const cues = new Map<string, Map<Piece, Cue>>()
  for (const { value, subject, from, to } of view.matches) {
    if (value.kind !== 'role' || (value.question !== undefined && value.question !== shape.id)) continue
    const item = subject === undefined ? undefined : view.items[subject]
    if (item?.kind !== 'piece') continue
    const key = roleKey({ part: value.part, id: value.id })
    const byPiece = cues.get(key) ?? new Map<Piece, Cue>()
    cues.set(key, byPiece)
    const before = byPiece.get(item.piece) ?? { points: 0, asked: false, never: false }
    const closeness = value.points > 0 ? Math.min(0.3, 0.05 * (to - from)) : 0
    byPiece.set(item.piece, {
      points: value.points > 0 ? Math.max(before.points, value.points + closeness) : before.points,
      asked: before.asked || value.asked,
      never: before.never || value.points < 0,
    })
  }
  return cues
}

/** Pieces after somebody's "says" in the same sentence; the nearest after it first. */
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
      if (item?.kind !== 'piece') continue
      after.add(item.piece)
      if (first) nearest.add(item.piece)
      first = false
    }
  }
  return { after, nearest, any }
}

const ALONE = 1

function candidatesOf(
  shape: QuestionShape,
  view: View,
  setting: Setting,
  taken: ReadonlySet<Piece>,
): Candidate[] {
  const cues = cuesOf(shape, view)
  const claimed = claimedPieces(view)
  const out: Candidate[] = []
  for (const role of rolesFor(shape)) {
    const byPiece = cues.get(roleKey(role))
    for (const piece of view.pieces) {
      if (taken.has(piece) || piece.kind === 'label' || piece.kind === 'range') continue
      const cue = byPiece?.get(piece)
      if (cue?.never) continue
      const candidate =
        role.part === 'fields'
          ? fieldCandidate(role, piece, cue, setting)
          : figureCandidate(shape, role, piece, cue, claimed, setting)
      if (candidate) out.push(candidate)
    }
  }
  return out
}

function fieldCandidate(
  role: Role,
  piece: Piece,
  cue: Cue | undefined,
  setting: Setting,
): Candidate | undefined {
  const cued = cue !== undefined && cue.points > 0
  const free =
    ((flag(role.words, 'alone') || setting.has.has(role.id) || setting.wants.has(role.id)) &&
      piece.bare === undefined) ||
    (setting.wants.has(role.id) && role.words.some(({ bareOnly }) => bareOnly.includes(piece.bare ?? 0)))
  if ((!cued && !free) || role.field === undefined) return undefined
  const bare = cued ? bareEnough(piece, cue, role.words) : piece.bare !== undefined
  const raw = rawOf(role.field, piece, bare ? bareUnit(role.words) : undefined, {
    sum: flag(role.words, 'sum'),
    times: flag(role.words, 'times'),
  })
  if (raw === undefined) return undefined
  const wanted = setting.wants.has(role.id) ? 0.7 : setting.has.has(role.id) && setting.has.size > 0 ? 0.6 : 0
  const base = flag(role.words, 'alone') ? ALONE : 0.4
  const score = (cued ? cue.points : 0) + (free ? base : 0) + wanted
  const far = outside(role.field, piece) ? OUT_OF_RANGE : 0
  return { piece, role, score: score + far, raw, why: cued ? 'phrase' : 'alone' }
}

/** A number without a unit needs a plain phrase to be a quantity, and a mere "one" the plainest. */
const bareEnough = (piece: Piece, cue: Cue, words: readonly RoleWords[]): boolean =>
  piece.bare === undefined || (cue.points >= (piece.plain ? 2.4 : 4) && mayBeBare(piece.bare, words))

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
const figureField = (unit: string): Field<unknown> | undefined => {
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
  setting: Setting,
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
  if (piece.bare !== undefined && cued && cue.points < 2.4) return undefined
  const raw = rawOf(field, piece, bare, { sum: false, times: false })
  if (raw === undefined) return undefined
  const nearest = claimed.nearest.has(piece) ? 2.2 : 0
  const score = (cued ? cue.points : 0) + nearest + (main ? 0.6 : 0) + (inClaim ? 0.4 : 0)
  void setting
  return { piece, role, score, raw, why: inClaim ? 'claimed' : 'asked about' }
}

/** Beyond so many pieces the best assignment is not searched for, but taken greedily. */
const MOST_SEARCHED = 9

type Assignment = { chosen: Candidate[]; total: number }

/** Lists take several pieces, where phrases say so; every other role takes one. */
const growing = ({ role, why }: Candidate): boolean =>
  role.field?.kind === 'list' && (why === 'phrase' || flag(role.words, 'many'))

const keyOf = ({ role }: Candidate): string => (role.part === 'figures' ? 'claim' : roleKey(role))

/** The assignment of pieces to roles with the greatest score: each piece once, each role once, one claim. */
function bestAssignment(candidates: readonly Candidate[]): Assignment {
  const byPiece = new Map<Piece, Candidate[]>()
  for (const candidate of candidates) {
    const known = byPiece.get(candidate.piece) ?? []
    known.push(candidate)
    byPiece.set(candidate.piece, known)
  }
  for (const known of byPiece.values()) known.sort((a, b) => b.score - a.score).splice(4)
  const pieces = [...byPiece.values()].sort((a, b) => (b[0]?.score ?? 0) - (a[0]?.score ?? 0))
  if (pieces.length > MOST_SEARCHED) return greedy(candidates)
  const bound = pieces.map((known) => known[0]?.score ?? 0)
  for (let at = bound.length - 2; at >= 0; at--) bound[at] = (bound[at] ?? 0) + (bound[at + 1] ?? 0)
  let best: Assignment = { chosen: [], total: -1 }
  const search = (at: number, chosen: Candidate[], used: Set<string>, total: number): void => {
    if (total + (bound[at] ?? 0) <= best.total + 1e-9) return
    const known = pieces[at]
    if (known === undefined) {
      best = { chosen: [...chosen], total }
      return
    }
    for (const candidate of known) {
      const key = keyOf(candidate)
      const first = !used.has(key)
      if (!first && !growing(candidate)) continue
      used.add(key)
      chosen.push(candidate)
      search(at + 1, chosen, used, total + candidate.score)
      chosen.pop()
      if (first) used.delete(key)
    }
    search(at + 1, chosen, used, total)
  }
  search(0, [], new Set(), 0)
  return best
}

function greedy(candidates: readonly Candidate[]): Assignment {
  const chosen: Candidate[] = []
  const used = new Set<string>()
  const pieces = new Set<Piece>()
  for (const candidate of [...candidates].sort((a, b) => b.score - a.score)) {
    const key = keyOf(candidate)
    if ((used.has(key) && !growing(candidate)) || pieces.has(candidate.piece)) continue
    used.add(key)
    pieces.add(candidate.piece)
    chosen.push(candidate)
  }
  return { chosen, total: chosen.reduce((sum, candidate) => sum + candidate.score, 0) }
}

/** How much better a reading must be than the next for nobody to have to ask. */
const CLEAR = 0.35

/** Roles that two pieces could take with hardly a difference: asking is better than guessing. */
function doubtful(chosen: readonly Candidate[], candidates: readonly Candidate[]): Map<Candidate, Piece[]> {
  const out = new Map<Candidate, Piece[]>()
  const taken = new Map(chosen.map((candidate) => [candidate.piece, candidate]))
  const scoreOf = (piece: Piece, role: Role) =>
    candidates.find((each) => each.piece === piece && roleKey(each.role) === roleKey(role))?.score
  for (const one of chosen) {
    for (const rival of candidates) {
      const otherRole =
        rival.piece === one.piece && rival !== one && !chosen.some((each) => keyOf(each) === keyOf(rival))
      if (
        otherRole &&
        rival.role.part === one.role.part &&
        rival.score >= one.score - 0.1 &&
        rival.why === 'alone'
      )
        note(out, one, [one.piece])
      if (rival.piece === one.piece || roleKey(rival.role) !== roleKey(one.role)) continue
      if (growing(one) && growing(rival)) continue
      const other = taken.get(rival.piece)
      if (other === undefined) {
        if (rival.score >= one.score - CLEAR && !sameRaw(rival.raw, one.raw))
          note(out, one, [one.piece, rival.piece])
        continue
      }
      const swapped = scoreOf(one.piece, other.role)
      if (swapped === undefined || sameRaw(one.raw, other.raw)) continue
      if (rival.score + swapped >= one.score + other.score - CLEAR) note(out, one, [one.piece, rival.piece])
    }
  }
  return out
}

const note = (map: Map<Candidate, Piece[]>, candidate: Candidate, pieces: Piece[]): void => {
  map.set(candidate, [...new Set([...(map.get(candidate) ?? []), ...pieces])])
}

const sameRaw = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other)

/** Choices, yes and no, and counts without a number, by the phrase that says most. */
function meaningsOf(
  shape: QuestionShape,
  view: View,
): { given: Map<string, { value: string; from: number; to: number }>; unclear: string[] } {
  type Found = Extract<Meaning, { kind: 'means' }> & { from: number; to: number }
  const byField = new Map<string, Found[]>()
  for (const { value, from, to } of view.matches) {
    if (value.kind !== 'means' || (value.question !== undefined && value.question !== shape.id)) continue
    if (!(value.id in shape.inputs)) continue
    byField.set(value.id, [...(byField.get(value.id) ?? []), { ...value, from, to }])
  }
  const given = new Map<string, { value: string; from: number; to: number }>()
  const unclear: string[] = []
  for (const [id, found] of byField) {
    const longest = [...found].sort((a, b) => b.to - b.from - (a.to - a.from) || b.words - a.words)
    const kept: Found[] = []
    for (const each of longest) {
      if (!kept.some((other) => each.from < other.to && other.from < each.to)) kept.push(each)
    }
    const [first] = kept
    if (first === undefined) continue
    const last = kept.reduce((a, b) => (b.from > a.from ? b : a))
    const usual = shape.inputs[id]?.assume?.({})
    const telling = kept.filter((each) => each.value !== usual)
    const [only] = telling
    if (only && telling.length < kept.length && telling.every((each) => each.value === only.value))
      given.set(id, only)
    else if (kept.every((each) => each.value === first.value)) given.set(id, last)
    else unclear.push(id)
  }
  return { given, unclear }
}

const saidOf = (line: Line, view: View, from: number, to: number): string => {
  const first = view.items[from]?.token ?? 0
  const last = view.items[to - 1]?.token ?? first
  return line.text.slice(line.tokens[first]?.start ?? 0, line.tokens[last]?.end ?? 0)
}

/** What a builder of rows found: inputs, and the pieces that went into them. */
export type Built = { given: Map<string, Given>; unclear: Unclear[]; claimed?: never }
export type RowBuilder = (
  shape: QuestionShape,
  line: Line,
  view: View,
  setting: Setting,
  free: readonly Piece[],
) => Built

/** What the line says when it is taken as this question. */
export function interpret(
  shape: QuestionShape,
  line: Line,
  view: View,
  setting: Setting,
  builder: RowBuilder | undefined,
): Interpretation {
  const given = new Map<string, Given>()
  const why: string[] = []
  const aside = asides(view)
  const unclear: Unclear[] = []

  const means = meaningsOf(shape, view)
  for (const [id, { value, from, to }] of means.given) {
    const kind = shape.inputs[id]?.field.kind
    const raw: Raw =
      kind === 'yes-no'
        ? value === 'true'
        : kind === 'count' || kind === 'number'
          ? Number(value)
          : shape.inputs[id]?.field.dimensions
            ? `${value} %`
            : value
    given.set(id, { raw, said: saidOf(line, view, from, to), pieces: [] })
    why.push(`${id} = ${value}, from "${saidOf(line, view, from, to)}"`)
  }
  for (const field of means.unclear) unclear.push({ field, pieces: [] })

  const taken = new Set<Piece>(aside)
  const claims = candidatesOf(shape, view, setting, taken).filter(
    (each) => each.role.part === 'figures' && each.score >= 4,
  )
  const free = view.pieces.filter(
    (piece) => !taken.has(piece) && !claims.some((claim) => claim.piece === piece && claim.why === 'claimed'),
  )
  const built = builder?.(shape, line, view, setting, free)
  for (const [id, value] of built?.given ?? []) {
    given.set(id, value)
    for (const piece of value.pieces) taken.add(piece)
  }
  unclear.push(...(built?.unclear ?? []))

  const all = candidatesOf(shape, view, setting, taken).filter(
    (candidate) => !(built?.given.has(candidate.role.id) && candidate.role.part === 'fields'),
  )
  const candidates = withoutStrays(all)
  const { chosen } = bestAssignment(candidates)
  const doubts = doubtful(chosen, candidates)
  let claim: ClaimGiven | undefined
  const used = new Set<Piece>(taken)
  for (const candidate of [...chosen].sort((a, b) => a.piece.from - b.piece.from)) {
    const doubt = doubts.get(candidate)
    if (doubt) {
      if (candidate.role.part === 'fields') unclear.push({ field: candidate.role.id, pieces: doubt })
      continue
    }
    used.add(candidate.piece)
    const said = line.said(candidate.piece)
    why.push(
      `${candidate.role.id} = ${JSON.stringify(candidate.raw)} from "${said}" (${candidate.why}, ${candidate.score.toFixed(2)})`,
    )
    if (candidate.role.part === 'fields') {
      given.set(
        candidate.role.id,
        together(given.get(candidate.role.id), {
          raw: candidate.raw as Raw,
          said,
          pieces: [candidate.piece],
        }),
      )
    } else claim = claimOf(shape, candidate, said)
  }
  unclear.push(...strays(all, chosen, used))
  for (const { pieces } of unclear) for (const piece of pieces) used.delete(piece)
  const left = view.pieces.filter((piece) => !used.has(piece))
  const ask = askPoints(shape.id, view)
  const score = ask + fitPoints(shape, chosen.length, given, left, aside)
  const plainest = view.matches.reduce(
    (most, { value }) =>
      value.kind === 'ask' && value.question === shape.id ? Math.max(most, value.points) : most,
    0,
  )
  return { shape, view, given, claim, unclear, left: [...left, ...aside], score, ask, plainest, why }
}

/** Where phrases say what a list holds, other quantities of its kind do not join it uncalled. */
function withoutStrays(candidates: readonly Candidate[]): Candidate[] {
  const told = new Set(candidates.filter((each) => growing(each) && each.why === 'phrase').map(keyOf))
  return candidates.filter(
    (each) => each.why === 'phrase' || each.piece.counted || !growing(each) || !told.has(keyOf(each)),
  )
}

/** Quantities of a list's kind that nothing says more about: they may belong to it or not. */
function strays(
  candidates: readonly Candidate[],
  chosen: readonly Candidate[],
  used: ReadonlySet<Piece>,
): Unclear[] {
  const lists = chosen.filter(growing)
  const open = candidates.filter(
    (each) => growing(each) && !used.has(each.piece) && lists.some((other) => keyOf(other) === keyOf(each)),
  )
  return [...new Set(open.map(({ role }) => role.id))].map((field) => ({
    field,
    pieces: open.filter(({ role }) => role.id === field).map(({ piece }) => piece),
  }))
}

/** A list said in several pieces is one list. */
function together(before: Given | undefined, more: Given): Given {
  if (!before || before.pieces.length === 0 || !Array.isArray(before.raw) || !Array.isArray(more.raw))
    return more
  return {
    raw: [...before.raw, ...more.raw],
    said: `${before.said}, ${more.said}`,
    pieces: [...before.pieces, ...more.pieces],
  }
}

function claimOf(shape: QuestionShape, { role, piece, raw }: Candidate, said: string): ClaimGiven {
  const unit = shape.figures[role.id]?.unit ?? ''
  const bare = bareUnit(role.words)
  const field = figureField(unit) as Field<unknown>
  if (field.kind === 'count')
    return { figure: role.id, value: Number(raw), unit: 'count', raw: String(raw), said, pieces: [piece] }
  const reading = piece.readings.find((each) =>
    field.kind === 'size' ? each.dimension === 'size' : field.dimensions?.includes(each.dimension as never),
  )
  const value = reading?.value ?? measuredBare(piece, bare)
  return {
    figure: role.id,
    value,
    unit: reading?.unit ?? (field.kind === 'size' ? 'AWG' : unit),
    raw: String(raw),
    said,
    pieces: [piece],
  }
}

const measuredBare = (piece: Piece, bare: string | undefined): number =>
  bare === 'in' ? (piece.bare ?? 0) * 0.0254 : (piece.bare ?? 0)

/** Quantities that no question asks for: the height of a ladder. */
function asides(view: View): Set<Piece> {
  const out = new Set<Piece>()
  for (const { value, subject } of view.matches) {
    if (value.kind !== 'aside') continue
    const item = view.items[subject ?? -1]
    if (item?.kind === 'piece') out.add(item.piece)
  }
  return out
}

/** How plainly the line asks this question: the strongest phrase, and less and less of the others. */
export function askPoints(question: string, view: View): number {
  const points: number[] = []
  let against = 0
  const seen = new Set<number>()
  for (const { value, from } of view.matches) {
    if (value.kind !== 'ask' || value.question !== question) continue
    if (value.points < 0) against = Math.min(against, value.points)
    else if (!seen.has(from)) {
      seen.add(from)
      points.push(value.points)
    } else {
      points.push(value.points * 0.5)
    }
  }
  points.sort((a, b) => b - a)
  const share = [1, 0.4, 0.25, 0.15]
  return share.reduce((sum, part, index) => sum + part * (points[index] ?? 0), 0) + against
}

/** How well the quantities of the line fit the question. */
function fitPoints(
  shape: QuestionShape,
  assigned: number,
  given: ReadonlyMap<string, Given>,
  left: readonly Piece[],
  aside: ReadonlySet<Piece>,
): number {
  const lost = left.filter(
    (piece) =>
      piece.kind !== 'label' && !aside.has(piece) && (piece.readings.length > 0 || piece.code !== undefined),
  ).length
  const required = Object.entries(shape.inputs).filter(([, input]) => input.need === 'required')
  const have = required.filter(([id]) => given.has(id)).length
  const rows = [...given.values()].filter((value) => value.pieces.length > 0).length
  return (
    0.9 * Math.max(assigned, rows) - 1.3 * lost + (required.length > 0 ? (1.2 * have) / required.length : 0)
  )
}
