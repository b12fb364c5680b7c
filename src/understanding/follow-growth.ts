import type { Field } from '../questions/common/fields'
import type { Line } from './line'
import { isRow, listOfUnits, sameUnit, type Unit, unitsOf } from './list-units'
import type { Raw } from './raw'
import type { Given } from './reading'
import { pieceAt, type View, wordAt } from './view'
import { listed } from './vocabulary'

const GROWS = listed('grows')
const ORDINALS = listed('nextOnes')
const INSIDE = listed('more')

/** Whether a follow-up adds to a list and does not say it anew: "another", "as well", "a third one", "and two 6 mm". */
export function grows(view: View, line: Line, given: Given): boolean {
  const word = (at: number) => wordAt(view, at)
  const first = view.items.findIndex((item) => item.kind !== 'comma')
  const begins =
    word(first) === 'and' &&
    (pieceAt(view, first + 1) !== undefined || ['a', 'an', 'another', 'one'].includes(word(first + 1)))
  if (begins) return true
  if (
    given.pieces.some((piece) =>
      line.tokens.slice(piece.from, piece.to).some(({ text }) => INSIDE.has(text) || text === 'another'),
    )
  )
    return true
  return view.items.some((_, at) => {
    const text = word(at)
    if (text === 'more' && (word(at + 1) === 'than' || word(at - 1) === 'no')) return false
    if (GROWS.has(text)) return true
    if (ORDINALS.has(text))
      return ['a', 'an'].includes(word(at - 1)) || ['add', 'put', 'fit', 'stick'].includes(word(at - 1))
    if (text === 'well') return word(at - 1) === 'as'
    if (text === 'top') return word(at - 1) === 'on'
    return text === 'in' && ['with', 'there', 'alongside', 'beside'].includes(word(at + 1))
  })
}

/** A list with more things in it. */
export const grown = (field: Field<unknown>, before: readonly Raw[], more: readonly Raw[]): readonly Raw[] =>
  listOfUnits(field, [...unitsOf(before), ...unitsOf(more)])

/** A list with so many more of the one kind of thing that it holds, or fewer of them; undefined where it holds several kinds. */
export function recounted(
  field: Field<unknown>,
  before: readonly Raw[],
  count: (now: number) => number,
): readonly Raw[] | undefined {
  const units = unitsOf(before)
  const [first] = units
  const wanted = count(units.length)
  if (first === undefined || !Number.isInteger(wanted) || wanted < 1 || wanted > 60) return undefined
  if (wanted < units.length && units.some((unit) => !sameUnit(unit, first))) return undefined
  const last = units[units.length - 1] as Unit
  const more = Array.from({ length: Math.max(0, wanted - units.length) }, () => last)
  return listOfUnits(field, [...units.slice(0, wanted), ...more])
}

const MANY = listed('manyOnes')

const isMany = (word: string, view: View, at: number): boolean =>
  MANY.has(word) && wordAt(view, at - 1) !== 'of'

/** "what if they're 100 watt drivers", "swap the drivers for fifty watt ones": as many as before, all of one kind. */
export function asManyAsBefore(
  field: Field<unknown>,
  before: readonly Raw[],
  fresh: readonly Raw[],
  view: View,
  given: Given,
): readonly Raw[] {
  const [had, comes] = [unitsOf(before), unitsOf(fresh)]
  const [first] = had
  const [only] = comes
  const counted = given.pieces.some(
    (piece) => piece.counted || piece.bare !== undefined || (piece.members ?? []).length > 0,
  )
  if (first === undefined || only === undefined || comes.length > 1 || counted || had.length < 2) return fresh
  if (had.some((unit) => !sameUnit(unit, first))) return fresh
  const rows = isRow(first)
  if (!rows && !view.items.some((_, at) => isMany(wordAt(view, at), view, at))) return fresh
  return listOfUnits(
    field,
    had.map(() => only),
  )
}
