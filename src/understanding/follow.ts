import { askings } from './asking'
import { roleWords } from './book'
import { otherItem, swappedItems } from './follow-items'
import { asManyAsBefore, changedCount, GROWING, joinedCables, recounted, swappedCables } from './follow-lists'
import { otherBox, otherFeeds, otherHot } from './follow-rows'
import { placeOf } from './items'
import type { Line, View } from './line'
import type { Piece } from './pieces'
import { type Raw, rawOfJson } from './raw'
import type { Interpretation } from './reading'
import { wordsOf } from './sayings'
import type { QuestionShape } from './shape'

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

/** What a follow-up makes of the inputs before: new values, and inputs that go. */
export type Change = {
  set: Map<string, Raw>
  dropped: Set<string>
  said: Map<string, string>
  used: Set<Piece>
  unclear: string[]
}

export type Follow = {
  how: 'drop' | 'add' | 'take' | 'more' | 'fewer' | 'count' | number
  from: number
  to: number
  piece: Piece | undefined
}

const followsIn = (view: View): Follow[] =>
  view.matches.flatMap(({ value, from, to, subject }): Follow[] => {
    const item = subject === undefined ? undefined : view.items[subject]
    const piece = item?.kind === 'piece' ? item.piece : undefined
    if (value.kind === 'scale') return [{ how: value.by, from, to, piece }]
    if (value.kind !== 'follow' || value.how === 'anew' || value.how === 'same') return []
    return [{ how: value.how, from, to, piece }]
  })

/** A value that is typed as a number with its unit. */
export const numberIn = (raw: Raw): { value: number; unit: string } | undefined => {
  const parts = typeof raw === 'string' ? /^(-?[\d.]+(?:e-?\d+)?) (\S.*)$/.exec(raw) : undefined
  return parts ? { value: Number(parts[1]), unit: parts[2] ?? '' } : undefined
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
  const names = roleWords(question, 'fields', id).flatMap((words) => words.names)
  const label = askings[question]?.ask[id]?.label
  const spaced = id.replace(/([A-Z])/g, ' $1').toLowerCase()
  return [...names, ...(label ? [label.toLowerCase()] : []), spaced].map(wordsOf)
}

const isLength = (id: string): boolean => /length$/i.test(id)

/** The input that is named within a few words of a place; the longest name wins, and of several "the tape" its length. */
function namedNear(
  question: string,
  ids: Iterable<string>,
  view: View,
  from: number,
  to: number,
): string | undefined {
  let best: { id: string; length: number; rank: number } | undefined
  const lengthFirst = [...ids].sort((a, b) => Number(isLength(b)) - Number(isLength(a)))
  const word = (at: number) => {
    const item = view.items[at]
    return item?.kind === 'word' ? item.text : ''
  }
  for (const id of lengthFirst) {
    for (const [rank, name] of namesOf(question, id).entries()) {
      for (let at = from; at < to; at++) {
        if (!name.every((part, index) => word(at + index) === part || word(at + index) === `${part}s`))
          continue
        const better = !best || name.length > best.length || (name.length === best.length && rank < best.rank)
        if (better) best = { id, length: name.length, rank }
      }
    }
  }
  return best?.id
}

/** The follow-up's changes to what was carried over. */
export function changesOf(reading: Interpretation, carried: ReadonlyMap<string, Raw>, line: Line): Change {
  const { shape, view } = reading
  const change: Change = { set: new Map(), dropped: new Set(), said: new Map(), used: new Set(), unclear: [] }
  const follows = followsIn(view)
  for (const [id, given] of reading.given) {
    const near = follows.find((each) => each.piece !== undefined && given.pieces.includes(each.piece))
    const drop = follows.find(
      (each) =>
        each.how === 'drop' &&
        given.pieces.some((piece) => placeOf(view, piece) >= each.to && placeOf(view, piece) <= each.to + 5),
    )
    const swapped = swappedCables(id, given.raw, carried.get(id), line)
    if (swapped) {
      change.set.set(id, swapped)
      change.said.set(id, given.said)
      continue
    }
    const raw =
      drop && sameValue(given.raw, carried.get(id))
        ? undefined
        : relative(id, given.raw, carried.get(id), near?.how)
    if (drop && raw === undefined) {
      change.dropped.add(id)
      change.said.set(id, given.said)
    } else if (raw === undefined) change.unclear.push(id)
    else {
      change.set.set(id, near?.how === 'add' ? raw : asManyAsBefore(raw, carried.get(id), line))
      change.said.set(id, given.said)
    }
  }
  for (const follow of follows) applyNamed(shape, view, carried, follow, change, reading)
  otherItem(reading, carried, follows, change, line)
  swappedItems(reading, carried, change, line)
  if (shape.id === 'box-fill') otherBox(reading, carried, change, line)
  if (shape.id === 'shared-neutral') otherHot(view, carried, change, line)
  if (shape.id === 'along-the-tape' && !follows.some(({ how }) => how === 'drop'))
    otherFeeds(carried, change, line)
  return change
}

const sameValue = (one: Raw, other: Raw | undefined): boolean => {
  if (other === undefined) return false
  const [a, b] = [numberIn(one), numberIn(other)]
  return (
    JSON.stringify(one) === JSON.stringify(other) ||
    (a !== undefined && b !== undefined && Math.abs(a.value - b.value) < 1e-9)
  )
}

/** A value that is added to or taken from the one before, where the line says so. */
function relative(
  id: string,
  raw: Raw,
  before: Raw | undefined,
  how: Follow['how'] | undefined,
): Raw | undefined {
  if (
    before === undefined ||
    how === undefined ||
    how === 'drop' ||
    how === 'count' ||
    typeof how === 'number'
  )
    return raw
  const sign = how === 'take' || how === 'fewer' ? -1 : 1
  if (Array.isArray(raw) && Array.isArray(before)) {
    if (sign < 0) return undefined
    return id === 'cables' && typeof before[0] === 'string' ? joinedCables(before, raw) : [...before, ...raw]
  }
  if (typeof raw === 'string' && typeof before === 'string' && numberIn(raw) && numberIn(before)) {
    return sign > 0 ? `${before} + ${raw}` : `${before} - ${raw}`
  }
  return undefined
}

/** "double the driver", "forget the cover", "one more of them": an input changed by its name alone. */
function applyNamed(
  shape: QuestionShape,
  view: View,
  carried: ReadonlyMap<string, Raw>,
  follow: Follow,
  change: Change,
  reading: Interpretation,
): void {
  const { how, to, from } = follow
  if (how === 'add' || how === 'take') return
  if (how === 'count') {
    recounted(carried, follow, change)
    return
  }
  if (how === 'more' || how === 'fewer') {
    const lists = GROWING.filter((id) => carried.has(id) && !change.set.has(id))
    const by = (follow.piece?.bare ?? 1) * (how === 'fewer' ? -1 : 1)
    if (follow.piece && follow.piece.bare === undefined) return
    const [id] = lists
    const raw = id && lists.length === 1 ? changedCount(carried.get(id) as Raw, by) : undefined
    if (id && raw !== undefined) {
      change.set.set(id, raw)
      change.said.set(id, 'one more')
      if (follow.piece) change.used.add(follow.piece)
    }
    return
  }
  const open = [...carried.keys()].filter((id) => !change.set.has(id) && !change.dropped.has(id))
  const named =
    namedNear(shape.id, open, view, from, to + 5) ??
    (typeof how === 'number' ? lengthNear(shape, open, view, to) : undefined)
  if (named === undefined) {
    const only = open.length === 1 ? open[0] : undefined
    if (typeof how === 'number' && reading.given.size === 0) change.unclear.push(only ?? '')
    return
  }
  if (how === 'drop') {
    if (shape.inputs[named]?.need !== 'required') change.dropped.add(named)
    return
  }
  const raw = scaled(carried.get(named) as Raw, how)
  if (raw === undefined) return
  change.set.set(named, raw)
  change.said.set(named, '')
  for (const piece of view.pieces) if (piece.bare === how || piece.bare === 0.5) change.used.add(piece)
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
