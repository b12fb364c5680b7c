import type { RowBuilder } from '../interpret'
import type { Piece, Reading } from '../pieces'
import type { Raw } from '../raw'
import { pieceAt, type View, wordAt } from '../view'
import { listed } from '../vocabulary'
import { cuedFor, givenBy, nothing, placesOf, reading } from './common'

const HOLE_WORDS = listed('holes')

/** A length that is of a hole or a pipe, not of a cable. */
const isHole = (view: View, at: number): boolean =>
  !(wordAt(view, at + 1) === 'thick' && cableBefore(view, at)) &&
  (HOLE_WORDS.has(wordAt(view, at + 1)) ||
    (HOLE_WORDS.has(wordAt(view, at + 2)) &&
      !['', 'cable', 'cables', 'and', 'in', 'through'].includes(wordAt(view, at + 1))))

const CABLES = listed('cables')

/** "four cables half an inch thick". */
const cableBefore = (view: View, at: number): boolean =>
  [1, 2, 3].some((back) => CABLES.has(wordAt(view, at - back)))

/** "12 by 6 mm": the number before is the width of a flat cable. */
const widthBefore = (view: View, at: number): Piece | undefined => {
  const piece = ['by', 'x'].includes(wordAt(view, at - 1)) ? pieceAt(view, at - 2) : undefined
  return piece?.bare === undefined ? undefined : piece
}

const WIDE = new Set(['wide', 'across', 'broad'])
const THICK = new Set(['thick', 'high', 'deep', 'tall'])

/** "12 x 6 mm", "9.5 mm wide and 5 mm thick": the height of a flat cable, behind its width. */
function heightAfter(view: View, at: number): Piece | undefined {
  const wide = WIDE.has(wordAt(view, at + 1)) ? 1 : 0
  const joined =
    ['by', 'x', 'and'].includes(wordAt(view, at + 1 + wide)) || view.items[at + 1 + wide]?.kind === 'comma'
  const other = joined ? pieceAt(view, at + 2 + wide) : undefined
  if (['by', 'x'].includes(wordAt(view, at + 1 + wide))) return other
  return wide === 1 && THICK.has(wordAt(view, at + 3 + wide)) ? other : undefined
}

/** "a 3/8 round cable": a fraction without a unit is of inches. */
function bareInches(view: View, at: number, { bare }: Piece): Reading | undefined {
  const ofCable = [1, 2].some((ahead) => CABLES.has(wordAt(view, at + ahead)))
  if (bare === undefined || Number.isInteger(bare) || bare > 4 || !ofCable) return undefined
  return { dimension: 'length', value: bare * 0.0254, unit: 'm', typed: `${bare} in` }
}

const countBefore = (view: View, at: number): { count: number; piece?: Piece } | undefined => {
  for (let back = 1; back <= 6; back++) {
    const piece = pieceAt(view, at - back)
    if (piece?.kind === 'cable' && !piece.members) return { count: piece.times, piece }
    if (back > 5) continue
    if (piece?.bare !== undefined && piece.readings.length === 0) return { count: piece.bare, piece }
    // "two flat cables, 14 mm by 7 mm"
    const goesOn = view.items[at - back]?.kind === 'comma' && CABLES.has(wordAt(view, at - back - 1))
    if (goesOn) continue
    if (piece || view.items[at - back]?.kind === 'comma' || view.items[at - back]?.kind === 'stop')
      return undefined
  }
  return undefined
}

/** The cables that go through one hole: round ones by diameter, flat ones by width and height. */
export const bundleRows: RowBuilder = (shape, line, view, _setting, free) => {
  const built = nothing()
  const raceways = cuedFor(view, shape.id, ['raceway'], 2.5)
  const open = new Set(free)
  const rows: Record<string, Raw>[] = []
  const pieces: Piece[] = []
  for (const { at, piece } of placesOf(view, open)) {
    const called = CABLES.has(wordAt(view, at + 1))
    if (pieces.includes(piece) || (raceways.has(piece) && !called) || isHole(view, at)) continue
    for (const each of piece.members ?? [piece]) {
      const length = reading(each, 'length') ?? bareInches(view, at, each)
      if (!length) continue
      const width = widthBefore(view, at)
      if (width) {
        const before = countBefore(view, at - 2)
        const unit = length.typed.split(' ').pop()
        rows.push({
          count: String(before?.count ?? piece.times),
          width: `${width.bare} ${unit}`,
          height: length.typed,
        })
        pieces.push(width, piece, ...(before?.piece ? [before.piece] : []))
        continue
      }
      const first = !piece.members || piece.members[0] === each
      const counted = each.counted || !first ? undefined : countBefore(view, at)
      const other = heightAfter(view, at)
      // "11 mm by 5 mm, three of those": what is counted behind the height is the cable.
      const several = other?.counted && !each.counted ? other.times : each.times
      const count = String(counted ? counted.count : several)
      const height = reading(other, 'length')
      const bare = other?.bare
      if (other && (height || bare !== undefined)) {
        rows.push({
          count,
          width: length.typed,
          height: height?.typed ?? `${bare} ${length.typed.split(' ').pop()}`,
        })
        pieces.push(other)
      } else rows.push({ count, diameter: length.typed })
      pieces.push(piece)
      if (counted?.piece) pieces.push(counted.piece)
    }
  }
  // "a 14/2 and two of 9 mm": a cable without its size makes any hole for the others too small.
  const unsized = placesOf(view, open).filter(
    ({ piece }) => piece.kind === 'cable' && !pieces.includes(piece),
  )
  if (rows.length > 0 && unsized.length > 0)
    built.unclear.push({ field: 'cables', pieces: [...pieces, ...unsized.map(({ piece }) => piece)] })
  else if (rows.length > 0) built.given.set('cables', givenBy(line, rows, [...new Set(pieces)]))
  return built
}
