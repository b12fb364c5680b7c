import { readBox } from '../tables/box-codes'
import { askings } from './asking'
import { roleWords } from './book'
import type { Interpretation } from './interpret'
import type { Line, View } from './line'
import type { Piece } from './pieces'
import { type Raw, rawOfJson } from './raw'
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

type Follow = {
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

const numberIn = (raw: Raw): { value: number; unit: string } | undefined => {
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

/** The input that is named within a few words of a place; the longest name wins. */
function namedNear(
  question: string,
  ids: Iterable<string>,
  view: View,
  from: number,
  to: number,
): string | undefined {
  let best: { id: string; length: number; rank: number } | undefined
  const word = (at: number) => {
    const item = view.items[at]
    return item?.kind === 'word' ? item.text : ''
  }
  for (const id of ids) {
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

/** "one more", "another 14/2", "a third one the same": a list that grows or shrinks by what it has. */
function changedCount(raw: Raw, by: number): Raw | undefined {
  if (!Array.isArray(raw)) return undefined
  const list = [...raw] as Raw[]
  const last = list[list.length - 1]
  if (last === undefined) return undefined
  if (typeof last === 'object' && !Array.isArray(last) && 'count' in last) {
    if (list.length > 1) return undefined
    const count = Number((last as { count: Raw }).count) + by
    return count > 0 ? [{ ...(last as object), count: String(count) } as Raw] : undefined
  }
  if (by > 0) return [...list, ...Array.from({ length: Math.min(by, 30) }, () => last)]
  return list.length + by > 0 ? list.slice(0, list.length + by) : undefined
}

/** Lists of which "one more" may be said, by question. */
const GROWING = ['drivers', 'cables', 'added', 'legs', 'openings']

const COUNTED_CABLE = /^(\d+) x (.+)$/

/** `2 x 14/2` and another `1 x 14/2` are `3 x 14/2`. */
function joinedCables(before: readonly Raw[], more: readonly Raw[]): Raw[] {
  const out = [...before]
  for (const cable of more) {
    const [, count = '1', code = String(cable)] = COUNTED_CABLE.exec(String(cable)) ?? []
    const at = out.findIndex((each) => (COUNTED_CABLE.exec(String(each))?.[2] ?? String(each)) === code)
    const had = at < 0 ? 0 : Number(COUNTED_CABLE.exec(String(out[at]))?.[1] ?? 1)
    if (at < 0) out.push(cable)
    else out[at] = `${had + Number(count)} x ${code}`
  }
  return out
}

const SWAPS = /\b(?:swap|change|replace|trade|exchange|switch)\b.*\b(?:for|with|to|by)\b/i

/** "swap one 14/2 for a 14/3": the first goes, the second comes. */
function swappedCables(id: string, raw: Raw, before: Raw | undefined, line: Line): Raw[] | undefined {
  if (
    id !== 'cables' ||
    !Array.isArray(raw) ||
    !Array.isArray(before) ||
    raw.length !== 2 ||
    !SWAPS.test(line.text)
  )
    return undefined
  const [out, into] = raw as Raw[]
  const [, gone = '1', code] = COUNTED_CABLE.exec(String(out)) ?? []
  const at = before.findIndex((each) => COUNTED_CABLE.exec(String(each))?.[2] === code)
  const left = at < 0 ? -1 : Number(COUNTED_CABLE.exec(String(before[at]))?.[1] ?? 1) - Number(gone)
  if (left < 0 || into === undefined) return undefined
  const rest = before.flatMap((each: Raw, index) =>
    index !== at ? [each] : left > 0 ? [`${left} x ${code}`] : [],
  )
  return joinedCables(rest, [into])
}

/** "what if they're 100 watt drivers": as many as before. */
function asManyAsBefore(raw: Raw, before: Raw | undefined, line: Line): Raw {
  const alike =
    Array.isArray(before) &&
    before.length > 1 &&
    before.every((each) => JSON.stringify(each) === JSON.stringify(before[0]))
  if (!alike || !Array.isArray(raw) || raw.length !== 1) return raw
  const several = line.tokens.some(
    (token) =>
      /^(?:they|them|those|these|each|both|all|drivers)$/.test(token.said) || token.said.startsWith('they'),
  )
  return several ? before.map(() => raw[0] as Raw) : raw
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
  if (shape.id === 'box-fill') otherBox(reading, carried, change, line)
  if (shape.id === 'shared-neutral') otherHot(view, carried, change, line)
  if (shape.id === 'along-the-tape') otherFeeds(carried, change)
  return change
}

const placeOf = (view: View, piece: Piece): number =>
  view.items.findIndex((item) => item.kind === 'piece' && item.piece === piece)

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
  if (how === 'count') return recounted(carried, follow, change)
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

/** "make it three of them": a list of alike things with another number of them. */
function recounted(carried: ReadonlyMap<string, Raw>, { piece }: Follow, change: Change): void {
  const count = piece?.bare
  const lists = GROWING.filter((id) => carried.has(id) && !change.set.has(id))
  const [id] = lists
  const raw = id === undefined ? undefined : carried.get(id)
  if (
    !piece ||
    count === undefined ||
    !Number.isInteger(count) ||
    count < 1 ||
    count > 30 ||
    lists.length !== 1 ||
    !id
  )
    return
  if (!Array.isArray(raw) || raw.some((each) => JSON.stringify(each) !== JSON.stringify(raw[0]))) return
  const [first] = raw as Raw[]
  const rows = typeof first === 'object' && !Array.isArray(first) && 'count' in first
  if (typeof first === 'string' && COUNTED_CABLE.test(first)) return
  change.set.set(
    id,
    rows
      ? [{ ...(first as object), count: String(count) } as Raw]
      : Array.from({ length: count }, () => first as Raw),
  )
  change.said.set(id, '')
  change.used.add(piece)
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

/** "swap it for the 4 11/16, same depth": the box before, with another size or depth. */
function otherBox(
  reading: Interpretation,
  carried: ReadonlyMap<string, Raw>,
  change: Change,
  line: Line,
): void {
  const before = carried.get('box')
  const parts = typeof before === 'string' ? /^(octagon|square|device) (.+)$/.exec(before) : undefined
  if (!parts || change.set.has('box')) return
  const [, shape = '', sizes = ''] = parts
  const size = sizes.split(' x ')
  const other = reading.view.items.flatMap((item) =>
    item.kind === 'word' && /^(?:octagon|square)$/.test(item.text) && item.text !== shape ? [item.text] : [],
  )[0]
  const reshaped = other ? readBox(`${other} ${sizes}`) : undefined
  if (reshaped?.ok && reshaped.code) {
    change.set.set('box', reshaped.code)
    change.said.set('box', other ?? '')
    return
  }
  for (const piece of reading.view.pieces) {
    const inches =
      piece.bare ?? (piece.readings[0]?.dimension === 'length' ? piece.readings[0].value / 0.0254 : undefined)
    if (inches === undefined) continue
    const deep = textAfter(reading.view, piece).startsWith('deep')
    const read = readBox(
      deep
        ? `${shape} ${[...size.slice(0, -1), inches].join(' x ')}`
        : `${shape} ${inches} x ${size[size.length - 1]}`,
    )
    if (!read.ok || read.code === null) continue
    change.set.set('box', read.code)
    change.said.set('box', line.said(piece))
    change.used.add(piece)
    return
  }
}

const textAfter = (view: View, piece: Piece): string => {
  const item = view.items[placeOf(view, piece) + 1]
  return item?.kind === 'word' ? item.text : ''
}

const ORDER: Readonly<Record<string, number>> = {
  first: 0,
  second: 1,
  third: 2,
  '1st': 0,
  '2nd': 1,
  '3rd': 2,
  last: -1,
  other: -1,
}

/** "put the second one on leg A as well": one of the hots on another leg or breaker. */
function otherHot(view: View, carried: ReadonlyMap<string, Raw>, change: Change, line: Line): void {
  const hots = carried.get('hots')
  if (!Array.isArray(hots) || change.set.has('hots')) return
  const words = line.tokens.map((token) => token.text)
  const which = words.find((word) => ORDER[word] !== undefined)
  const leg = words[words.findIndex((word) => word === 'leg' || word === 'phase') + 1]
  const place = which === undefined ? undefined : ((ORDER[which] ?? 0) + hots.length) % hots.length
  const rows = hots.map((hot) => ({ ...(hot as Record<string, Raw>) }))
  const named = leg !== undefined && /^[abc]$/.test(leg) ? leg.toUpperCase() : undefined
  if (named && place !== undefined) {
    const row = rows[place]
    if (row) row.leg = named
  } else if (words.join(' ').includes('same leg')) for (const row of rows) row.leg = rows[0]?.leg ?? 'A'
  else if (words.join(' ').includes('same breaker'))
    for (const row of rows) row.circuit = rows[0]?.circuit ?? 'one'
  else return
  change.set.set('hots', rows)
  change.said.set('hots', line.text)
  for (const piece of view.pieces) if (piece.kind === 'label') change.used.add(piece)
}

/** A gauge alone goes to the feeds that there are; feeds that move keep their cable. */
function otherFeeds(carried: ReadonlyMap<string, Raw>, change: Change): void {
  const fresh = change.set.get('feeds')
  const before = carried.get('feeds')
  if (!Array.isArray(fresh) || !Array.isArray(before)) return
  const rows = fresh as Record<string, Raw>[]
  const old = before as Record<string, Raw>[]
  const [first] = rows
  if (rows.length === 1 && first && !('at' in first)) {
    change.set.set(
      'feeds',
      old.map((row) => ({ ...row, ...first })),
    )
  } else if (rows.length === old.length) {
    change.set.set(
      'feeds',
      rows.map((row, index) => ({ ...old[index], ...row })),
    )
  }
}
