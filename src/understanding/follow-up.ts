import { saidClaim, settle } from './conclude'
import { bestView, PLAINLY_ASKED } from './decide'
import { doubtsOf } from './doubts'
import { carriedOf, changesOf, editsIn, type Following } from './follow'
import type { Change } from './follow-change'
import { type Exchange, exchangesIn } from './follow-scalars'
import type { ListEdit } from './follow-targets'
import type { Line } from './line'
import { unitSaid } from './list-units'
import { missingOf, superfluous } from './needs'
import type { Raw } from './raw'
import type { ClaimGiven, Interpretation } from './reading'
import { type Draft, finish, type Understood } from './reply'
import { setAside } from './set-aside'
import type { QuestionShape } from './shape'
import { asksOther, isNoFollowUp } from './subject'
import type { View } from './view'
import { without } from './view-edit'

/** A line that goes on from the question before, or undefined where it says nothing about it. */
export function follow(
  shape: QuestionShape,
  before: Following,
  line: Line,
  first: Interpretation | undefined,
): Understood | undefined {
  const carried = carriedOf(shape, before.inputs)
  const wants = new Set(missingOf(shape, carried))
  const { rest, edits, exchanges } = apartFromEdits(shape, carried, line)
  const setting = { has: new Set(carried.keys()), wants, unitOf: unitsIn(carried) }
  const reading = bestView(shape, rest, setting)
  const change = changesOf(reading, carried, line, edits)
  for (const { field, raw, pieces } of exchanges) {
    change.set.set(field, raw)
    change.said.set(field, pieces.map((piece) => line.said(piece)).join(', '))
  }
  const claim = saidClaim(reading)
  const wantsUnits = line.whole.matches.some(({ value }) => value.kind === 'system')
  const nothing = !wantsUnits && change.set.size === 0 && change.dropped.size === 0 && claim === undefined
  if (nothing && change.unclear.length === 0 && (isNoFollowUp(line, reading) || asksOther(line, reading)))
    return undefined
  if (nothing && reading.unclear.length === 0 && change.unclear.length === 0 && reading.left.length === 0) {
    if (reading.ask >= PLAINLY_ASKED && first?.shape.id !== shape.id) return undefined
    // What the same question asks without a word that it can use asks what should change.
    return first?.shape.id === shape.id && first.given.size === 0
      ? askAgain(shape, carried, line, reading)
      : stillMissing(shape, carried, line, reading)
  }
  if (nothing) return askAgain(shape, carried, line, reading)
  return finish(
    followed(shape, reading, carried, change, claim, line, new Set(edits.map(({ field }) => field))),
    line,
  )
}

/** The single things that a line changes, and the line without the words that did. */
function apartFromEdits(
  shape: QuestionShape,
  carried: ReadonlyMap<string, Raw>,
  line: Line,
): { rest: Line; edits: ListEdit[]; exchanges: Exchange[] } {
  const edits = editsIn(shape, carried, line)
  const exchanges = edits.length > 0 ? [] : exchangesIn(shape, carried, line.whole)
  const [first] = line.views
  const gone = [...edits, ...exchanges]
  const put = (view: View): View => without(view, [...gone, ...setAside(view, true)])
  const views = gone.length > 0 && first ? [put(first)] : line.views.map(put)
  return { rest: { ...line, views }, edits, exchanges }
}

/** The units in which the inputs before are given: "existing is 900" goes on in them. */
const unitsIn = (carried: ReadonlyMap<string, Raw>): ReadonlyMap<string, string> =>
  new Map(
    [...carried].flatMap(([id, raw]) => {
      const unit = unitSaid(Array.isArray(raw) ? (raw as Raw[])[0] : raw)
      return unit === undefined ? [] : [[id, unit] as const]
    }),
  )

/** Nothing in the line goes on from the question before. */
function stillMissing(
  shape: QuestionShape,
  carried: ReadonlyMap<string, Raw>,
  line: Line,
  reading: Interpretation,
): Understood | undefined {
  const goesOn = line.views[0]?.matches.some(({ value }) => value.kind === 'follow' || value.kind === 'scale')
  return goesOn ? askAgain(shape, carried, line, reading) : undefined
}

/** The question before stands, but what of it should change is not clear. */
function askAgain(
  shape: QuestionShape,
  carried: ReadonlyMap<string, Raw>,
  line: Line,
  reading: Interpretation,
): Understood {
  const fields = Object.keys(shape.inputs).filter((id) => carried.has(id) && id !== 'units' && id !== 'rules')
  const unclear =
    reading.unclear.length > 0
      ? reading.unclear
      : [{ field: missingOf(shape, carried)[0] ?? fields[0] ?? '', pieces: [] }]
  return finish(
    {
      shape,
      raws: new Map(carried),
      said: new Map(),
      claim: undefined,
      left: reading.left,
      unclear,
      view: reading.view,
    },
    line,
    true,
  )
}

export function followed(
  shape: QuestionShape,
  reading: Interpretation,
  carried: ReadonlyMap<string, Raw>,
  change: Change,
  claim: ClaimGiven | undefined,
  line: Line,
  edited: ReadonlySet<string>,
): Draft {
  const raws = new Map(carried)
  for (const [id, raw] of change.set) raws.set(id, raw)
  for (const id of change.dropped) raws.delete(id)
  for (const id of superfluous(shape, raws, new Set(change.set.keys()))) raws.delete(id)
  settle(raws, line, change.set.values(), claim)
  const doubts = doubtsOf(reading).filter(({ field }) => !edited.has(field))
  for (const { field } of doubts) {
    raws.delete(field)
    change.set.delete(field)
  }
  const unclear = [
    ...reading.unclear,
    ...doubts,
    ...change.unclear.filter(Boolean).map((field) => ({ field, pieces: [] })),
  ].filter(({ field }) => !change.set.has(field) && !change.dropped.has(field))
  const changed = [
    ...new Set([
      ...change.set.keys(),
      ...change.dropped,
      ...[...carried.keys()].filter((id) => !raws.has(id)),
    ]),
  ]
  const left = reading.left.filter((piece) => !change.used.has(piece))
  return { shape, raws, said: change.said, claim, left, unclear, changed, view: reading.view }
}
