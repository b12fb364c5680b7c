import type { Change } from './follow-change'
import type { Line } from './line'
import { alikeValues, isRow, numberIn } from './list-units'
import type { Piece } from './pieces'
import { type Raw, rawOf } from './raw'
import { insteadAt } from './set-aside'
import type { QuestionShape } from './shape'
import { factorOf } from './units'
import { pieceAt, type View, wordAt } from './view'
import type { Stretch } from './view-edit'
import { listed } from './vocabulary'

/** One value in the place of another, and the words that said so. */
export type Exchange = Stretch & { field: string; raw: Raw; pieces: readonly Piece[] }

const SWAPS = listed('swaps')
const JOINS = listed('swapJoins')

const ONE = { sum: false, times: false } as const

/** The input before that has just this value, and what another quantity is as its value. */
function exchanged(
  shape: QuestionShape,
  carried: ReadonlyMap<string, Raw>,
  out: Piece,
  into: Piece,
): { field: string; raw: Raw } | undefined {
  for (const [field, before] of carried) {
    const known = shape.inputs[field]?.field
    if (!known || (known.kind !== 'quantity' && known.kind !== 'size')) continue
    const unit = numberIn(before)?.unit
    const [old, fresh] = [out, into].map((piece) => rawOf(known, piece, unit, ONE))
    if (old !== undefined && fresh !== undefined && alikeValues(old, before)) return { field, raw: fresh }
  }
  return undefined
}

/** "change the 12 V for 24", "go from 40 ft to 60": the second in the place of the first, which stood there before. */
export function exchangesIn(shape: QuestionShape, carried: ReadonlyMap<string, Raw>, view: View): Exchange[] {
  const out: Exchange[] = correctedIn(shape, carried, view)
  if (out.length > 0) return out
  for (let at = 0; at < view.items.length; at++) {
    const first = pieceAt(view, at)
    const [low, high] = first?.kind === 'range' ? (first.members ?? []) : []
    if (first && low && high) {
      const found = exchanged(shape, carried, low, high)
      if (found) out.push({ ...found, from: at, to: at + 1, pieces: [first] })
      continue
    }
    const swaps = [1, 2, 3, 4].some(
      (back) => SWAPS.has(wordAt(view, at - back)) || wordAt(view, at - back) === 'from',
    )
    if (!first || !swaps) continue
    const to = [2, 3, 4, 5].find((ahead) => pieceAt(view, at + ahead))
    const joined =
      to !== undefined &&
      Array.from({ length: to - 1 }, (_, index) => wordAt(view, at + 1 + index)).some((word) =>
        JOINS.has(word),
      )
    const second = to === undefined ? undefined : pieceAt(view, at + to)
    const found = second && joined ? exchanged(shape, carried, first, second) : undefined
    if (found && to !== undefined && second)
      out.push({ ...found, from: at, to: at + to + 1, pieces: [first, second] })
  }
  return out
}

const AFTER_NOT: ReadonlySet<string> = new Set([
  'it',
  'is',
  'its',
  'but',
  'a',
  'an',
  'the',
  '',
  'rather',
  'actually',
])

/** "it's not a fifteen it's a twenty", "a twenty not a fifteen": what is denied stood there before. */
function correctedIn(shape: QuestionShape, carried: ReadonlyMap<string, Raw>, view: View): Exchange[] {
  for (let at = 0; at < view.items.length; at++) {
    if (wordAt(view, at) !== 'not') continue
    const old = [1, 2].find((ahead) => pieceAt(view, at + ahead))
    const out = old === undefined ? undefined : pieceAt(view, at + old)
    if (!out || old === undefined) continue
    const behind = [1, 2, 3, 4].find((ahead) => pieceAt(view, at + old + ahead))
    const before = [1, 2].find((back) => pieceAt(view, at - back))
    const links = Array.from({ length: (behind ?? 1) - 1 }, (_, index) => wordAt(view, at + old + 1 + index))
    const [from, to, into] =
      behind !== undefined && links.every((word) => AFTER_NOT.has(word))
        ? [at, at + old + behind + 1, pieceAt(view, at + old + behind)]
        : before !== undefined
          ? [at - before, at + old + 1, pieceAt(view, at - before)]
          : [at, at, undefined]
    const found = into && exchanged(shape, carried, out, into)
    if (found && into) return [{ ...found, from, to, pieces: [out, into] }]
  }
  return []
}

/** "instead of the hole, a notch": an input before that is named behind "instead of" goes. */
export function insteadOf(
  shape: QuestionShape,
  line: Line,
  now: ReadonlyMap<string, Raw>,
  change: Change,
): void {
  const { whole } = line
  whole.items.forEach((_, at) => {
    const behind = insteadAt(whole, at)
    if (behind === undefined) return
    const words = [0, 1, 2].map((ahead) => wordAt(whole, behind + ahead))
    for (const id of now.keys()) {
      const name = id
        .replace(/([A-Z])/g, ' $1')
        .toLowerCase()
        .split(' ')
      const optional = shape.inputs[id]?.need !== 'required'
      if (optional && !change.set.has(id) && words.includes(name[0] ?? '')) change.dropped.add(id)
    }
  })
}

const metres = (raw: Raw | undefined): number | undefined => {
  const number = numberIn(raw)
  const factor = number && factorOf(number.unit)
  return number && factor?.dimension === 'length' ? number.value * factor.factor : undefined
}

/** A tape of another length: what was fed at its far end or in its middle is fed there still. */
export function withNewEnds(carried: ReadonlyMap<string, Raw>, change: Change): void {
  const before = metres(carried.get('tapeLength'))
  const fresh = change.set.get('tapeLength')
  const feeds = change.set.get('feeds') ?? carried.get('feeds')
  if (before === undefined || fresh === undefined || !Array.isArray(feeds)) return
  const moved = (feeds as Raw[]).map((feed) => {
    const at = isRow(feed) ? metres(feed.at) : undefined
    if (!isRow(feed) || at === undefined || at === 0) return feed
    if (Math.abs(at - before) < 0.005 * before) return { ...feed, at: 'far end' }
    return Math.abs(at - before / 2) < 0.005 * before && (feeds as Raw[]).length !== 2
      ? { ...feed, at: 'middle' }
      : feed
  })
  if (moved.some((feed, index) => feed !== (feeds as Raw[])[index])) change.set.set('feeds', moved)
}
