import type { Field } from '../questions/common/fields'
import { askings } from './asking'
import type { Change } from './follow-change'
import { listEdits } from './follow-edits'
import { asManyAsBefore, grown, grows } from './follow-growth'
import { applyNamed, type Follow, namedNear, without } from './follow-named'
import { moreHots, otherBox, otherFeeds, otherHot } from './follow-rows'
import { insteadOf, withNewEnds } from './follow-scalars'
import type { ListEdit } from './follow-targets'
import { changedUnit } from './follow-values'
import { placeOf } from './items'
import type { Line } from './line'
import { alikeValues, listOfUnits, numberIn, type Unit, unitsOf } from './list-units'
import type { Piece } from './pieces'
import { type Raw, rawOfJson } from './raw'
import type { Interpretation } from './reading'
import type { QuestionShape } from './shape'
import { type View, wordAt } from './view'
import { listed } from './vocabulary'

export type Following = { question: string; inputs: Record<string, unknown> }

/** The inputs of the question before, as they may be typed. */
export function carriedOf(shape: QuestionShape, inputs: Record<string, unknown>): Map<string, Raw> {
  const carried = new Map<string, Raw>()
  for (const [id, value] of Object.entries(inputs ?? {})) {
    const field = Object.hasOwn(shape.inputs, id) ? shape.inputs[id]?.field : undefined
    const whole = value as { value?: unknown; unit?: string } | null
    const wrapped = typeof value === 'object' && value !== null && !Array.isArray(value) && 'value' in value
    const raw = field && (wrapped ? rawOfJson(field, whole?.value, whole?.unit) : rawOfJson(field, value))
    if (raw !== undefined) carried.set(id, raw)
  }
  return carried
}

const followsIn = (view: View, claimed: readonly Piece[] = []): Follow[] =>
  view.matches.flatMap(({ value, from, to, subject }): Follow[] => {
    const item = subject === undefined ? undefined : view.items[subject]
    const piece = item?.kind === 'piece' ? item.piece : undefined
    if (piece && claimed.includes(piece)) return []
    if (value.kind === 'scale') return [{ how: value.by, from, to, piece }]
    if (value.kind !== 'follow' || value.how === 'anew' || value.how === 'same') return []
    return [{ how: value.how, from, to, piece }]
  })

/** What a line does to single things of the lists before. */
export function editsIn(shape: QuestionShape, carried: ReadonlyMap<string, Raw>, line: Line): ListEdit[] {
  const follows = followsIn(line.whole)
  return listEdits(shape, carried, line.whole, (piece) => {
    const how = follows.find(
      (follow) => follow.piece === piece && (follow.how === 'add' || follow.how === 'take'),
    )?.how
    return how === undefined ? undefined : String(how)
  })
}

/** The follow-up's changes to what was carried over. */
export function changesOf(
  reading: Interpretation,
  carried: ReadonlyMap<string, Raw>,
  line: Line,
  edits: readonly ListEdit[],
): Change {
  const { shape, view } = reading
  const change: Change = { set: new Map(), dropped: new Set(), said: new Map(), used: new Set(), unclear: [] }
  const now = new Map(carried)
  for (const edit of edits) applyEdit(edit, change, now, line)
  const follows = followsIn(view, reading.claim?.pieces).filter((each) => !isMeant(reading, each))
  for (const [id, given] of reading.given) {
    const field = shape.inputs[id]?.field as Field<unknown> | undefined
    const before = now.get(id)
    const beside = follows.filter((each) => each.piece !== undefined && given.pieces.includes(each.piece))
    const near = beside.find(({ how }) => how === 'add' || how === 'take') ?? beside[0]
    if (field?.kind === 'list' && Array.isArray(before) && Array.isArray(given.raw)) {
      if (leavesOut(follows, view, given.pieces)) {
        change.unclear.push(id)
        continue
      }
      const exchanges = edits.some((edit) => edit.field === id && edit.exchanges)
      const changed = near && everyChanged(field, id, before, given.pieces, near.how, view)
      if (changed) {
        change.set.set(id, changed)
        change.said.set(id, given.said)
        continue
      }
      const more = near?.how === 'add' || exchanges || grows(view, line, given)
      const raw =
        near?.how === 'take'
          ? shortened(before, given.raw)
          : more && id !== 'feeds'
            ? grown(field, before, given.raw)
            : asManyAsBefore(field, before, given.raw, view, given)
      if (raw === undefined) change.unclear.push(id)
      else change.set.set(id, raw)
      change.said.set(id, given.said)
      continue
    }
    const drop = follows.find(
      (each) =>
        each.how === 'drop' &&
        (given.pieces.some(
          (piece) => placeOf(view, piece) >= each.to && placeOf(view, piece) <= each.to + 5,
        ) ||
          (given.pieces.length === 0 && meantBehind(reading, id, each))),
    )
    const raw =
      drop && (given.pieces.length === 0 || alikeValues(given.raw, before))
        ? undefined
        : relative(given.raw, before, near?.how)
    // "lose the clamps": what may be there or not is then not there.
    if (drop && raw === undefined && field?.kind === 'yes-no') change.set.set(id, false)
    else if (drop && raw === undefined) change.dropped.add(id)
    else if (raw === undefined) change.unclear.push(id)
    else change.set.set(id, raw)
    change.said.set(id, given.said)
  }
  // "another two the same" says how many, "another" alone says one.
  const fullest = [...follows].sort(
    (one, other) => Number(other.piece !== undefined) - Number(one.piece !== undefined),
  )
  for (const follow of fullest) applyNamed(shape, view, now, follow, change, reading)
  without(shape, view, now, change)
  if (shape.id === 'box-fill') otherBox(reading, now, change, line)
  if (shape.id === 'shared-neutral') {
    moreHots(now, change, reading, line)
    if (!edits.some(({ field }) => field === 'hots')) otherHot(view, now, change, line)
  }
  if (shape.id === 'along-the-tape') {
    otherFeeds(now, change, reading, line)
    withNewEnds(carried, change)
  }
  insteadOf(shape, line, now, change)
  exclude(shape, now, change)
  return change
}

const EVERY = listed('everyOne')

/** "the cables are each 1 mm fatter": every thing of a list, by so much more or less. */
function everyChanged(
  field: Field<unknown>,
  id: string,
  before: readonly Raw[],
  pieces: readonly Piece[],
  how: Follow['how'],
  view: View,
): readonly Raw[] | undefined {
  const [piece, ...others] = pieces
  const all = view.items.some((_, at) => EVERY.has(wordAt(view, at)))
  if (!piece || others.length > 0 || !all || (how !== 'add' && how !== 'take')) return undefined
  const units = unitsOf(before)
  const list = { id, field, units, only: true }
  const changed = units.map(
    (unit) => changedUnit(list, unit, { ...piece, times: 1, counted: false }, how)?.unit,
  )
  return changed.every((unit) => unit !== undefined) ? listOfUnits(field, changed as Unit[]) : undefined
}

/** What a value that comes takes away: a notch has no diameter of a hole. */
function exclude(shape: QuestionShape, now: ReadonlyMap<string, Raw>, change: Change): void {
  const groups = askings[shape.id]?.asking.exclusive ?? []
  const group = groups.find((fields) => change.set.has(fields[0] ?? ''))
  if (!group) return
  for (const id of groups.flat())
    if (!group.includes(id) && now.has(id) && !change.set.has(id)) change.dropped.add(id)
}

function applyEdit(
  { field, raw, pieces, from, to }: ListEdit,
  change: Change,
  now: Map<string, Raw>,
  line: Line,
): void {
  const words = line.whole.items.slice(from, to)
  const [first, last] = [words[0]?.token ?? 0, words[words.length - 1]?.token ?? 0]
  change.said.set(field, line.text.slice(line.tokens[first]?.start ?? 0, line.tokens[last]?.end ?? 0))
  for (const piece of pieces) change.used.add(piece)
  if (raw.length === 0) {
    change.set.delete(field)
    change.dropped.add(field)
    now.delete(field)
  } else {
    change.set.set(field, raw)
    now.set(field, raw)
  }
}

/** "lose the FROSTED cover": whether the words for an input stand right behind what takes it away. */
const meantBehind = ({ view, shape }: Interpretation, id: string, { from, to }: Follow): boolean =>
  namedNear(shape.id, [id], view, from, to) !== undefined ||
  view.matches.some(
    (match) =>
      match.value.kind === 'means' && match.value.id === id && match.from >= to && match.from <= to + 2,
  )

/** "take one side off": words that stand for an input change nothing else. */
const isMeant = ({ view, given }: Interpretation, { from, to }: Follow): boolean =>
  view.matches.some(
    (match) =>
      match.value.kind === 'means' &&
      given.has(match.value.id) &&
      match.from <= from &&
      to <= match.to &&
      to - from < match.to - match.from,
  )

/** "drop the middle feed", where there is none: what should go is not what comes. */
const leavesOut = (follows: readonly Follow[], view: View, pieces: readonly Piece[]): boolean =>
  follows.some(
    ({ how, to }) =>
      how === 'drop' &&
      (pieces.length === 0 ||
        pieces.some((piece) => {
          const at = placeOf(view, piece)
          return at >= to && at <= to + 4 && !['to', 'by', 'for', 'with'].includes(wordAt(view, at - 1))
        })),
  )

/** "2 ft less" of the one length that there is. */
function shortened(before: readonly Raw[], less: readonly Raw[]): readonly Raw[] | undefined {
  const [one, other] = [before[0], less[0]]
  if (before.length !== 1 || less.length !== 1 || typeof one !== 'string' || typeof other !== 'string')
    return undefined
  return numberIn(one) && numberIn(other) ? [`${one} - ${other}`] : undefined
}

/** A value that is added to or taken from the one before, where the line says so. */
function relative(raw: Raw, before: Raw | undefined, how: Follow['how'] | undefined): Raw | undefined {
  const changes = how === 'add' || how === 'take' || how === 'more' || how === 'fewer'
  if (before === undefined || !changes) return raw
  const sign = how === 'take' || how === 'fewer' ? '-' : '+'
  if (Array.isArray(raw) && Array.isArray(before)) return sign === '+' ? [...before, ...raw] : undefined
  if (numberIn(raw) && numberIn(before)) return `${before} ${sign} ${raw}`
  if (typeof raw === 'number' && typeof before === 'number') return sign === '+' ? before + raw : before - raw
  return undefined
}

/** How many things the lists of the question before hold, by the input. */
export const countsOf = (carried: ReadonlyMap<string, Raw>): Map<string, number> =>
  new Map(
    [...carried].flatMap(([id, raw]) =>
      Array.isArray(raw) ? [[id, unitsOf(raw as Raw[]).length] as const] : [],
    ),
  )
