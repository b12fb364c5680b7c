import { readBox } from '../tables/box-codes'
import type { Change } from './follow-change'
import { grows } from './follow-growth'
import { placeOf } from './items'
import type { Line } from './line'
import type { Piece } from './pieces'
import type { Raw } from './raw'
import type { Interpretation } from './reading'
import { type View, wordAt } from './view'

/** "swap it for the 4 11/16, same depth": the box before, with another size or depth. */
export function otherBox(
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
    const deep =
      textAfter(reading.view, piece).startsWith('deep') ||
      /\b(?:deep|deeper|shallow|shallower)\b/i.test(line.text)
    const read = readBox(
      deep
        ? `${shape} ${[...size.slice(0, -1), inches].join(' x ')}`
        : `${shape} ${inches} x ${size[size.length - 1]}`,
    )
    if (!read.ok || read.code === null || read.code === before) continue
    change.set.set('box', read.code)
    change.said.set('box', line.said(piece))
    change.used.add(piece)
    return
  }
}

const textAfter = (view: View, piece: Piece): string => wordAt(view, placeOf(view, piece) + 1)

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
export function otherHot(view: View, carried: ReadonlyMap<string, Raw>, change: Change, line: Line): void {
  const hots = carried.get('hots')
  if (!Array.isArray(hots) || change.set.has('hots') || change.unclear.includes('hots')) return
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

const NEW_NAMES = ['one', 'two', 'three', 'four', 'five', 'six']

/** One more hot has a breaker of its own where nothing is said of it; a hot alone that is no new one stays open. */
export function moreHots(
  now: ReadonlyMap<string, Raw>,
  change: Change,
  { given, view }: Interpretation,
  line: Line,
): void {
  const hots = given.get('hots')
  const before = now.get('hots')
  if (!hots || !Array.isArray(hots.raw) || !Array.isArray(before) || hots.raw.length !== 1) return
  change.set.delete('hots')
  if (!grows(view, line, hots)) {
    change.unclear.push('hots')
    return
  }
  const taken = new Set((before as Record<string, Raw>[]).map(({ circuit }) => String(circuit)))
  const circuit = NEW_NAMES.find((name) => !taken.has(name)) ?? 'another'
  change.set.set('hots', [...before, { circuit, ...(hots.raw[0] as Record<string, Raw>) }])
}

/** "and the middle" */
const beginsWithAnd = ({ items }: View): boolean => {
  const [first, second] = items
  return first?.kind === 'word' && first.text === 'and' && second?.kind === 'word' && second.text === 'the'
}

/** A gauge alone goes to the feeds that there are, one more comes to them, and feeds that move keep their cable. */
export function otherFeeds(
  now: ReadonlyMap<string, Raw>,
  change: Change,
  { given, view }: Interpretation,
  line: Line,
): void {
  const feeds = given.get('feeds')
  const before = now.get('feeds')
  if (!feeds || !Array.isArray(feeds.raw) || !Array.isArray(before)) return
  const rows = feeds.raw as Record<string, Raw>[]
  const old = before as Record<string, Raw>[]
  const [first] = rows
  if (rows.length === 1 && first && !('at' in first)) {
    change.set.set(
      'feeds',
      old.map((row) => ({ ...row, ...first })),
    )
  } else if (grows(view, line, feeds) || beginsWithAnd(view)) change.set.set('feeds', [...old, ...rows])
  else if (rows.length === old.length) {
    change.set.set(
      'feeds',
      rows.map((row, index) => ({ ...old[index], ...row })),
    )
  }
}
