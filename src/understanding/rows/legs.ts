import type { RowBuilder } from '../interpret'
import { namedAlone } from '../named'
import type { Piece } from '../pieces'
import type { Raw } from '../raw'
import { type View, wordAt } from '../view'
import { listed } from '../vocabulary'
import { cuedFor, givenBy, nothing, placesOf, reading } from './common'

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

/** The ends that belong to each leg: those before all the lengths, or those after them; what is over goes to who has none. */
function endsOf(view: View, places: readonly number[]): (readonly [string, string] | undefined)[] {
  const said = view.items.flatMap((_, at) => {
    const ends = legEndsAt(view, at)
    return ends ? [{ at, ends }] : []
  })
  const leading = said.length > 0 && (said[0]?.at ?? 0) < (places[0] ?? 0)
  const taken = new Set<number>()
  const take = (from: number, to: number, last: boolean) => {
    const between = said.filter(({ at }) => at > from && at < to && !taken.has(at))
    const found = last ? between[between.length - 1] : between[0]
    if (found) taken.add(found.at)
    return found?.ends
  }
  const before = (index: number) => take(places[index - 1] ?? -1, places[index] ?? 0, true)
  const after = (index: number) => take(places[index] ?? 0, places[index + 1] ?? view.items.length, false)
  const first = places.map((_, index) => (leading ? before(index) : after(index)))
  return first.map((ends, index) => ends ?? (leading ? after(index) : before(index)))
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
  const allEnds = endsOf(
    view,
    legs.map(({ at }) => at),
  )
  legs.forEach(({ piece }, index) => {
    const ends = allEnds[index]
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
