import type { Field } from '../questions/common/fields'
import { askings } from './asking'
import { roleWords } from './book'
import type { Change } from './follow-change'
import { type ListEdit, listEdits } from './follow-edits'
import { asManyAsBefore, grown, grows, recounted } from './follow-growth'
import { isPlace, singular } from './follow-mentions'
import { moreHots, otherBox, otherFeeds, otherHot } from './follow-rows'
import { insteadOf, withNewEnds } from './follow-scalars'
import { changedUnit } from './follow-values'
import { placeOf } from './items'
import type { Line } from './line'
import { alikeValues, listOfUnits, numberIn, type Unit, unitsOf } from './list-units'
import type { Piece } from './pieces'
import { type Raw, rawOfJson } from './raw'
import type { Interpretation } from './reading'
import { wordAt } from './rows/common'
import type { QuestionShape } from './shape'
import type { View } from './view'
import { listed } from './vocabulary'
import { canonicalWords } from './words'

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

export type Follow = {
  how: 'drop' | 'add' | 'take' | 'more' | 'fewer' | 'count' | number
  from: number
  to: number
  piece: Piece | undefined
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

const clean = (value: number): number => Number(value.toPrecision(12))

const scaled = (raw: Raw, by: number): Raw | undefined => {
  if (typeof raw === 'number') return clean(raw * by)
  if (Array.isArray(raw)) {
    const items = raw.map((item: Raw) => scaled(item, by))
    return items.every((item) => item !== undefined) ? (items as Raw[]) : undefined
  }
  if (typeof raw === 'object') {
    const count = 'count' in raw ? Number((raw as { count: Raw }).count) * by : 0
    return Number.isInteger(count) && count > 0 ? { ...raw, count: String(count) } : undefined
  }
  const number = numberIn(raw)
  return number && `${clean(number.value * by)} ${number.unit}`
}

/** What a field is called, by its names and by the last word of its label. */
function namesOf(question: string, id: string): string[][] {
  const names = roleWords(question, 'fields', id).flatMap((words) => [...words.names, ...words.called])
  const label = askings[question]?.ask[id]?.label
  const spaced = id.replace(/([A-Z])/g, ' $1').toLowerCase()
  return [
    ...names.filter((name) => !PRONOUNS.has(name)),
    ...(label ? [label.toLowerCase()] : []),
    spaced,
  ].map(canonicalWords)
}

/** Names that any input might go by. */
const PRONOUNS: ReadonlySet<string> = new Set(['it', 'stuff'])

const isLength = (id: string): boolean => /length$/i.test(id)

/** The input that is named within a few words of a place; the longest name wins, and of several "the tape" its length. */
function namedNear(
  question: string,
  ids: Iterable<string>,
  view: View,
  from: number,
  to: number,
): string | undefined {
  let best: { id: string; length: number; rank: number; at: number } | undefined
  const lengthFirst = [...ids].sort((a, b) => Number(isLength(b)) - Number(isLength(a)))
  const word = (at: number) => wordAt(view, at)
  for (const id of lengthFirst) {
    for (const [rank, name] of namesOf(question, id).entries()) {
      for (let at = from; at < to; at++) {
        if (!name.every((part, index) => singular(word(at + index)) === singular(part))) continue
        const nearer = best !== undefined && (at === best.at ? rank < best.rank : at < best.at)
        const better = !best || name.length > best.length || (name.length === best.length && nearer)
        if (better) best = { id, length: name.length, rank, at }
      }
    }
  }
  return best?.id
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
    if (drop && raw === undefined) change.dropped.add(id)
    else if (raw === undefined) change.unclear.push(id)
    else change.set.set(id, raw)
    change.said.set(id, given.said)
  }
  for (const follow of follows) applyNamed(shape, view, now, follow, change, reading)
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

/** Lists of which "one more" may be said, by question. */
const GROWING = ['drivers', 'cables', 'added', 'legs', 'openings']

/** "one more of them", "make it four of them": the one list that may be meant, with another number of things. */
function applyCount(
  shape: QuestionShape,
  now: ReadonlyMap<string, Raw>,
  { how, piece }: Follow,
  change: Change,
): void {
  const [id, ...others] = GROWING.filter((each) => Array.isArray(now.get(each)) && !change.set.has(each))
  const field = id === undefined ? undefined : (shape.inputs[id]?.field as Field<unknown> | undefined)
  const said = piece?.bare
  if (id === undefined || others.length > 0 || field === undefined || (piece && said === undefined)) return
  if (how === 'count' && said === undefined) return
  const by = said ?? 1
  const raw = recounted(field, now.get(id) as Raw[], (count) =>
    how === 'count' ? by : count + (how === 'fewer' ? -by : by),
  )
  if (raw === undefined) return
  change.set.set(id, raw)
  change.said.set(id, '')
  if (piece) change.used.add(piece)
}

/** "twice as many": so many times the number of things in the one list that there is. Returns whether it was said. */
function applyTimes(
  shape: QuestionShape,
  view: View,
  now: ReadonlyMap<string, Raw>,
  { how, to }: Follow,
  change: Change,
): boolean {
  const [id, ...others] = [...now.keys()].filter((each) => shape.inputs[each]?.field.kind === 'list')
  const field = id === undefined ? undefined : (shape.inputs[id]?.field as Field<unknown> | undefined)
  const many = [to - 1, to, to + 1].some((at) => ['many', 'number'].includes(wordAt(view, at)))
  if (!many || id === undefined || others.length > 0 || field === undefined) return false
  const raw = recounted(field, now.get(id) as Raw[], (count) => count * Number(how))
  if (raw === undefined) return false
  change.set.set(id, raw)
  change.said.set(id, '')
  return true
}

/** "double the driver", "forget the cover", "one more of them": an input changed by its name alone. */
function applyNamed(
  shape: QuestionShape,
  view: View,
  now: ReadonlyMap<string, Raw>,
  follow: Follow,
  change: Change,
  reading: Interpretation,
): void {
  const { how, to, from } = follow
  if (how === 'add' || how === 'take') return
  if (how === 'count' || how === 'more' || how === 'fewer') {
    applyCount(shape, now, follow, change)
    return
  }
  const open = [...now.keys()].filter(
    (id) =>
      !change.set.has(id) &&
      !change.dropped.has(id) &&
      (how !== 'drop' || shape.inputs[id]?.need !== 'required'),
  )
  const named =
    namedNear(shape.id, open, view, from, to + 5) ??
    (typeof how === 'number' ? lengthNear(shape, open, view, to) : undefined)
  if (named === undefined) {
    const only = open.length === 1 ? open[0] : undefined
    if (typeof how === 'number' && reading.given.size === 0 && !applyTimes(shape, view, now, follow, change))
      change.unclear.push(only ?? '')
    return
  }
  if (how === 'drop') {
    const one =
      Array.isArray(now.get(named)) &&
      view.items.slice(to, to + 4).some((_, ahead) => isPlace(wordAt(view, to + ahead)))
    if (one) change.unclear.push(named)
    else change.dropped.add(named)
    return
  }
  const raw = scaled(now.get(named) as Raw, how)
  if (raw === undefined) return
  change.set.set(named, raw)
  change.said.set(named, '')
  for (const piece of view.pieces) if (piece.bare === how || piece.bare === 0.5) change.used.add(piece)
}

/** "no trunk": an input that was there and is said not to be. */
function without(shape: QuestionShape, view: View, now: ReadonlyMap<string, Raw>, change: Change): void {
  view.items.forEach((_, at) => {
    const other = view.matches.some(
      ({ value, from, to }) => value.kind === 'means' && from <= at + 1 && to > at + 1,
    )
    if (!['no', 'without'].includes(wordAt(view, at)) || view.items[at + 1]?.kind === 'comma' || other) return
    const open = [...now.keys()].filter(
      (id) => !change.set.has(id) && !change.dropped.has(id) && shape.inputs[id]?.need !== 'required',
    )
    const named = namedNear(shape.id, open, view, at + 1, at + 2)
    if (named !== undefined) change.dropped.add(named)
  })
}

/** "half that length", "twice as far": the one length there is. */
function lengthNear(
  shape: QuestionShape,
  open: readonly string[],
  view: View,
  to: number,
): string | undefined {
  const words = view.items
    .slice(Math.max(0, to - 3), to + 4)
    .map((item) => (item.kind === 'word' ? item.text : ''))
  if (!words.some((word) => ['length', 'far', 'long', 'distance', 'run'].includes(word))) return undefined
  const lengths = open.filter((id) => {
    const field = shape.inputs[id]?.field
    return (
      (field?.dimensions ?? field?.item?.dimensions)?.includes('length') &&
      ['tapeLength', 'distance', 'feedDistance', 'height'].includes(id)
    )
  })
  return lengths.length === 1 ? lengths[0] : undefined
}

/** How many things the lists of the question before hold, by the input. */
export const countsOf = (carried: ReadonlyMap<string, Raw>): Map<string, number> =>
  new Map(
    [...carried].flatMap(([id, raw]) =>
      Array.isArray(raw) ? [[id, unitsOf(raw as Raw[]).length] as const] : [],
    ),
  )
