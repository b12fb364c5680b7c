import { type CarriedList, type Mention, mentionAt, namedAt, namesThing } from './follow-mentions'
import { listOfUnits, sameUnit, type Unit } from './list-units'
import type { Piece } from './pieces'
import type { Raw } from './raw'
import { breaksOff, pieceAt, type View, wordAt } from './view'
import type { Stretch } from './view-edit'
import { listed } from './vocabulary'

/** A list of the question before with some of its things changed or taken out, and the words that said so. */
export type ListEdit = Stretch & {
  field: string
  raw: readonly Raw[]
  /** Something else is to come in the place of what went. */
  exchanges: boolean
  pieces: readonly Piece[]
}

export const REMOVES = listed('removes')
/** "take" and "leave" take something out only with one of these behind them. */
export const WITH_PARTICLE = listed('removesWith')
export const PARTICLES = listed('particles')
export const SWAPS = listed('swaps')
export const SWAP_JOINS = listed('swapJoins')
export const TAIL = listed('removalTail')
export const FARTHEST = 8

/** What is pointed at behind a verb, before the clause is over. */
export function targetAfter(lists: readonly CarriedList[], view: View, verb: number): Mention | undefined {
  for (let at = verb + 1; at <= verb + FARTHEST && !breaksOff(view, at); at++) {
    if (SWAP_JOINS.has(wordAt(view, at)) && at > verb + 1) return undefined
    for (const list of lists) {
      const mention = mentionAt(list, view, at) ?? namedAt(list, view, at) ?? oneOfThem(list, view, at)
      if (mention) return mention
    }
    const piece = pieceAt(view, at)
    if (piece && piece.readings.length > 0) return undefined
  }
  return undefined
}

export const edit = (
  { id, field }: CarriedList,
  units: readonly Unit[],
  { from, to }: Stretch,
  pieces: readonly Piece[],
  exchanges = false,
): ListEdit => ({ field: id, raw: listOfUnits(field, units), from, to, exchanges, pieces })

/** "one of them is 40 W", where all are alike. */
export function oneOfThem(list: CarriedList, view: View, at: number): Mention | undefined {
  const [first] = list.units
  const item = view.items[at]
  const one = wordAt(view, at) === 'one' || (item?.kind === 'piece' && item.text === 'one')
  if (!one || first === undefined) return undefined
  const alone = ['is', 'for', 'to'].includes(wordAt(view, at + 1))
  if (alone && list.only && list.units.every((unit) => sameUnit(unit, first)))
    return { list, indexes: [list.units.length - 1], to: at + 1 }
  if (wordAt(view, at + 1) !== 'of') return undefined
  const the = wordAt(view, at + 2) === 'the' ? 1 : 0
  const noun = wordAt(view, at + 2 + the)
  if (!['them', 'those', 'these'].includes(noun) && !namesThing(list, noun)) return undefined
  const alike = list.units.every((unit) => sameUnit(unit, first))
  return alike ? { list, indexes: [list.units.length - 1], to: at + 3 + the } : undefined
}
