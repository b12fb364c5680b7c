import type { RowBuilder } from '../interpret'
import { namedAlone } from '../named'
import type { Piece } from '../pieces'
import type { Raw } from '../raw'
import type { View } from '../view'
import { listed } from '../vocabulary'
import { cuedFor, givenBy, nothing, placesOf, reading, wordAt } from './common'

const ENDS: Readonly<Record<string, readonly [string, string]>> = {
  'box-to-box': ['box', 'box'],
  'box-to-tape': ['box', 'tape'],
  'tape-to-box': ['tape', 'box'],
  'tape-to-tape': ['tape', 'tape'],
}

const LEGS = listed('routeLegs')

/** How many words may stand between "to" and the end of a leg: "to the other junction box". */
const FARTHEST = 4

const isEnd = (word: string): boolean => word === 'box' || word === 'tape'

/** The two ends of a leg, where an item says them: "box to box", "the switch box TO a junction box". */
export function legEndsAt(view: View, at: number): readonly [string, string] | undefined {
  const known = ENDS[wordAt(view, at)]
  if (known || wordAt(view, at) !== 'to' || !isEnd(wordAt(view, at - 1))) return known
  for (let ahead = at + 1; ahead <= at + FARTHEST && wordAt(view, ahead) !== ''; ahead++) {
    if (isEnd(wordAt(view, ahead))) return [wordAt(view, at - 1), wordAt(view, ahead)]
  }
  return undefined
}

/** What stands nearest a leg's length, before it or after it, between its neighbours. */
function endsOf(
  view: View,
  at: number,
  before: number,
  after: number,
): readonly [string, string] | undefined {
  for (let back = at - 1; back > before; back--) {
    const ends = legEndsAt(view, back)
    if (ends) return ends
  }
  for (let next = at + 1; next < after; next++) {
    const ends = legEndsAt(view, next)
    if (ends) return ends
  }
  return undefined
}

/** The legs of a route, each with its two ends where they were said. */
export const legRows: RowBuilder = (shape, line, view, _setting, free) => {
  const built = nothing()
  const others = cuedFor(view, shape.id, ['endSlack', 'rodLength', 'spool'], 2.5, 'length')
  for (const piece of namedAlone(shape, view).keys()) others.add(piece)
  const legs = placesOf(view, new Set(free)).filter(
    ({ at, piece }) => reading(piece, 'length') && (!others.has(piece) || LEGS.has(wordAt(view, at + 1))),
  )
  const rows: Record<string, Raw>[] = []
  const leading =
    legs.length > 0 &&
    view.items.slice(0, legs[0]?.at ?? 0).some((_, at) => legEndsAt(view, at) !== undefined)
  legs.forEach(({ at, piece }, index) => {
    const before = leading ? (legs[index - 1]?.at ?? -1) : at
    const after = leading ? at : (legs[index + 1]?.at ?? view.items.length)
    const ends = endsOf(view, at, before, after)
    for (const each of piece.members ?? [piece]) {
      const length = reading(each, 'length')
      for (let time = 0; length && time < Math.min(each.times, 30); time++) {
        rows.push({ length: length.typed, ...(ends ? { from: ends[0], to: ends[1] } : {}) })
      }
    }
  })
  const pieces: Piece[] = legs.map(({ piece }) => piece)
  if (rows.length > 0) built.given.set('legs', givenBy(line, rows, pieces))
  return built
}
