import { DIMENSIONS } from '../quantities/dimensions'
import type { Field } from '../questions/common/fields'
import { bestAssignment, doubtful, strays, withoutStrays } from './assignment'
import { roleWords } from './book'
import { candidatesOf } from './candidates'
import { figureField } from './claimed'
import { notChoices } from './cues'
import type { Line } from './line'
import { meaningsOf } from './meanings'
import type { Piece } from './pieces'
import type { Raw } from './raw'
import type { ClaimGiven, Given, Interpretation, Setting, Unclear } from './reading'
import { bareUnit, type Candidate, flag, rolesFor } from './roles'
import type { QuestionShape } from './shape'
import { signPoints } from './signs'
import type { View } from './view'
import { listed } from './vocabulary'

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

/** From so many points on, what somebody says is no part of a list that the builders of rows may take. */
const CLAIMED = 3

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
          : withUnit(shape, id, value)
    given.set(id, { raw, said: saidOf(line, view, from, to), pieces: [] })
    why.push(`${id} = ${value}, from "${saidOf(line, view, from, to)}"`)
  }
  for (const field of means.unclear) unclear.push({ field, pieces: [] })

  const taken = new Set<Piece>(aside)
  const said = view.matches.some(({ value }) => value.kind === 'claim' && value.how === 'said')
  const claims = said
    ? candidatesOf(shape, view, setting, taken).filter(
        (each) => each.role.part === 'figures' && each.score >= CLAIMED,
      )
    : []
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
  const uncalled = new Set(chosen.filter(({ why }) => why === 'alone').map(({ piece }) => piece))
  for (const candidate of [...chosen].sort((a, b) => a.piece.from - b.piece.from)) {
    const doubt = doubts.get(candidate)
    if (doubt) {
      if (candidate.role.part === 'fields') unclear.push({ field: candidate.role.id, pieces: doubt })
      if (candidate.role.part === 'fields' || candidate.why !== 'claimed') continue
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
  putInstead(shape, given)
  const stray = strays(all, chosen, used)
  for (const { field } of stray) given.delete(field)
  unclear.push(...stray, ...notChoices(shape, view, given, used), ...openDegrees(shape, view, used))
  unclear.push(...halfLists(shape, line, view, given, used))
  for (const { pieces } of unclear) for (const piece of pieces) used.delete(piece)
  const left = view.pieces.filter((piece) => !used.has(piece))
  const ask = askPoints(shape.id, view)
  const score = ask + fitPoints(shape, chosen.length, given, left, aside)
  const plainest = (view.byQuestion.get(shape.id) ?? []).reduce(
    (most, { value }) =>
      value.kind === 'ask' && value.question === shape.id ? Math.max(most, value.points) : most,
    0,
  )
  return {
    shape,
    view,
    given,
    claim,
    unclear,
    left: [...left, ...aside],
    built: new Set(built?.given.keys() ?? []),
    uncalled,
    score,
    ask,
    plainest,
    why,
  }
}

const JOINS = listed('listJoins')

/** "four of thirty and one of sixty watts": a list that goes on from a number without a unit is not read whole. */
function halfLists(
  shape: QuestionShape,
  line: Line,
  view: View,
  given: Map<string, Given>,
  used: ReadonlySet<Piece>,
): Unclear[] {
  const open = view.pieces.filter((piece) => piece.bare !== undefined && !used.has(piece))
  const joined = (piece: Piece, to: Piece) =>
    piece.to < to.from && line.tokens.slice(piece.to, to.from).every((token) => JOINS.has(token.text))
  return [...given].flatMap(([field, { pieces }]) => {
    if (shape.inputs[field]?.field.kind !== 'list') return []
    const half = open.filter((piece) => pieces.some((to) => joined(piece, to)))
    if (half.length > 0) given.delete(field)
    return half.length > 0 ? [{ field, pieces: [...half, ...pieces] }] : []
  })
}

/** What an input takes in the place of another, and what means nothing beside another choice. */
function putInstead(shape: QuestionShape, given: Map<string, Given>): void {
  const is = (id: string, wanted: string) => String(given.get(id)?.raw) === wanted
  for (const [id, value] of [...given]) {
    for (const { instead, onlyWhen } of roleWords(shape.id, 'fields', id)) {
      if (Object.entries(onlyWhen).some(([other, wanted]) => given.has(other) && !is(other, wanted)))
        given.delete(id)
      if (!instead || given.has(instead.field)) continue
      if (!Object.entries(instead.when).every(([other, wanted]) => is(other, wanted))) continue
      given.delete(id)
      given.set(instead.field, value)
    }
  }
}

/** A number that a phrase stands for, in the unit of its input: "half brightness" is 50 %. */
function withUnit(shape: QuestionShape, id: string, value: string): string {
  const [dimension] = shape.inputs[id]?.field.dimensions ?? []
  return dimension ? `${value} ${DIMENSIONS[dimension].unit}` : value
}

/** "35 degrees", of no scale that the line tells: the input that would take it is asked for. */
function openDegrees(shape: QuestionShape, view: View, used: ReadonlySet<Piece>): Unclear[] {
  const open = view.pieces.filter((piece) => !used.has(piece) && piece.readings[0]?.dimension === 'degrees')
  const role = rolesFor(shape).find(
    ({ field, words }) => field?.dimensions?.includes('temperature') && flag(words, 'alone'),
  )
  return open.length > 0 && role ? [{ field: role.id, pieces: open }] : []
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
  const inUnit = reading?.unit ?? (field.kind === 'size' ? 'AWG' : unit)
  return {
    figure: role.id,
    value,
    ...(inUnit === '' ? {} : { unit: inUnit }),
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
    if (item?.kind === 'piece' && item.piece.kind === 'quantity') out.add(item.piece)
  }
  return out
}

/** How plainly the line asks this question: the strongest phrase, and less and less of the others. */
export function askPoints(question: string, view: View): number {
  const points: number[] = []
  let against = 0
  const seen = new Set<number>()
  for (const { value, from } of view.byQuestion.get(question) ?? []) {
    if (value.kind !== 'ask' || value.question !== question) continue
    if (value.points < 0) against = Math.min(against, value.points)
    else if (!seen.has(from)) {
      seen.add(from)
      points.push(value.points)
    } else {
      points.push(value.points * 0.5)
    }
  }
  points.push(...signPoints(question, view))
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
