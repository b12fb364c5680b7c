import type { Field } from '../questions/common/fields'
import { askings } from './asking'
import { roleWords } from './book'
import { clean } from './clean'
import type { Change } from './follow-change'
import { recounted } from './follow-growth'
import { isPlace, singular } from './follow-mentions'
import { numberIn } from './list-units'
import type { Piece } from './pieces'
import type { Raw } from './raw'
import type { Interpretation } from './reading'
import type { QuestionShape } from './shape'
import { type View, wordAt } from './view'
import { canonicalWords } from './words'

export type Follow = {
  how: 'drop' | 'add' | 'take' | 'more' | 'fewer' | 'count' | number
  from: number
  to: number
  piece: Piece | undefined
}

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
export function namedNear(
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
export function applyNamed(
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
export function without(
  shape: QuestionShape,
  view: View,
  now: ReadonlyMap<string, Raw>,
  change: Change,
): void {
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
