import type { Field } from '../questions/common/fields'
import { greatnessOf, isRow, type Unit, unitsNamed } from './list-units'
import type { Piece } from './pieces'
import { pieceAt, type View, wordAt } from './view'
import { listed, vocabulary } from './vocabulary'

/** A list of the question before, thing by thing. */
export type CarriedList = { id: string; field: Field<unknown>; units: readonly Unit[]; only: boolean }

/** Things of a list that a line points at, and the item after the last word that does. */
export type Mention = { list: CarriedList; indexes: readonly number[]; to: number }

const PLACES: ReadonlyMap<string, number> = new Map(Object.entries(vocabulary.places))
const GREATEST = listed('greatest')
const LEAST = listed('least')
const NEAR = listed('nearEnds')
const FAR = listed('farEnds')
const MIDDLE = listed('middles')
const LEGS = listed('legs')
const EVERY = listed('everyOne')
const ARTICLES = listed('articles')

export const singular = (word: string): string => word.replace(/(?:(?<=sh|ch|x)es|(?<=[^s])s)$/, '')

const nounsOf = (id: string): ReadonlySet<string> => new Set(vocabulary.itemNouns[id] ?? [])

/** Whether a word names what a list holds; "one" does where there is but one list. */
export const namesThing = ({ id, only }: CarriedList, word: string): boolean =>
  word !== '' && (nounsOf(id).has(singular(word)) || (only && ['one', 'ones'].includes(word)))

/** Whether a word of the line was said in the plural, whatever the vocabulary makes of it. */
const isPlural = (view: View, at: number): boolean => {
  const item = view.items[at]
  return (
    item?.kind === 'word' &&
    item.text !== 'one' &&
    (item.plural === true || singular(item.text) !== item.text)
  )
}

const byPlace = (units: readonly Unit[]): number[] =>
  units
    .map((unit, index) => ({ index, at: isRow(unit) ? Number.parseFloat(String(unit.at)) : 0 }))
    .sort((a, b) => a.at - b.at)
    .map(({ index }) => index)

/** The one thing that a word such as "second", "last", "longest" or "far" points at. */
function placed({ id, units }: CarriedList, word: string): number | undefined {
  const place = PLACES.get(word)
  const ends = id === 'feeds' ? byPlace(units) : undefined
  if (ends && FAR.has(word)) return ends.length > 1 ? ends[ends.length - 1] : undefined
  if (ends && NEAR.has(word)) return ends[0]
  if (ends && MIDDLE.has(word)) return ends.length === 3 ? ends[1] : undefined
  if (place !== undefined) {
    const index = place < 0 ? units.length + place : place
    return index < units.length && index >= 0 && (word !== 'other' || units.length === 2) ? index : undefined
  }
  const sign = GREATEST.has(word) ? 1 : LEAST.has(word) ? -1 : 0
  if (sign === 0) return undefined
  const sizes = units.map((unit) => sign * (greatnessOf(unit) ?? Number.NaN))
  const most = Math.max(...sizes)
  const found = sizes.flatMap((size, index) => (size === most ? [index] : []))
  return found.length === 1 ? found[0] : undefined
}

/** Whether a word points at one thing by its place or its size. */
export const isPlace = (word: string): boolean =>
  PLACES.has(word) || [GREATEST, LEAST, NEAR, FAR, MIDDLE].some((words) => words.has(word))

/** "leg B", "phase C" of the hots. */
function onLeg({ id, units }: CarriedList, view: View, at: number): Omit<Mention, 'list'> | undefined {
  if (id !== 'hots' || !LEGS.has(wordAt(view, at))) return undefined
  const leg = wordAt(view, at + 1).toUpperCase()
  const found = units.flatMap((unit, index) => (isRow(unit) && unit.leg === leg ? [index] : []))
  return found.length === 1 ? { indexes: found, to: at + 2 } : undefined
}

const CIRCUITS = listed('circuits')

/** "circuit 3", "breaker 2" of the hots. */
function onCircuit({ id, units }: CarriedList, view: View, at: number): Omit<Mention, 'list'> | undefined {
  const name = id === 'hots' && CIRCUITS.has(wordAt(view, at)) ? pieceAt(view, at + 1)?.bare : undefined
  if (name === undefined) return undefined
  const found = units.flatMap((unit, index) => (isRow(unit) && unit.circuit === String(name) ? [index] : []))
  return found.length === 1 ? { indexes: found, to: at + 2 } : undefined
}

/** A thing of the list that is pointed at from an item on: "second leg", "last one", "far lead", "both of them". */
export function mentionAt(list: CarriedList, view: View, at: number): Mention | undefined {
  const leg = onLeg(list, view, at) ?? onCircuit(list, view, at)
  if (leg) return { list, ...leg }
  const word = wordAt(view, at)
  if (EVERY.has(word) && list.units.length > 1 && wordAt(view, at - 1) !== 'of') {
    if (word === 'both' && list.units.length !== 2) return undefined
    const of = wordAt(view, at + 1) === 'of' ? 1 : 0
    const next = wordAt(view, at + 1 + of)
    // "each 50 mm" is how often a tape cuts.
    if (['each', 'every'].includes(word) && !namesThing(list, next) && of === 0) return undefined
    return {
      list,
      indexes: list.units.map((_, index) => index),
      to: namesThing(list, next) ? at + 2 + of : at + 1,
    }
  }
  const index = placed(list, word)
  if (index === undefined || ['a', 'an', 'another'].includes(wordAt(view, at - 1))) return undefined
  for (let ahead = 1; ahead <= 3; ahead++) {
    const next = wordAt(view, at + ahead)
    if (namesThing(list, next)) return { list, indexes: [index], to: at + ahead + 1 }
    const goesOn = next === '' ? pieceAt(view, at + ahead)?.kind === 'quantity' && ahead === 1 : ahead === 1
    if (!goesOn) break
  }
  const next = wordAt(view, at + 1)
  const links = ['is', 'to', 'at', 'was', 'be', 'on', ''].includes(next) && list.only
  return links && pieceAt(view, at + 1)?.kind !== 'label' && PLACES.has(word)
    ? { list, indexes: [index], to: at + 1 }
    : undefined
}

/** How many things are meant, of those that a word names: "one of the", "a", "two of the", or all in the plural. */
function howMany(view: View, at: number, plural: boolean, piece: Piece | undefined): number {
  if (piece?.counted) return piece.times
  for (let back = 1; back <= 4; back++) {
    const word = wordAt(view, at - back)
    const count = pieceAt(view, at - back)
    if (count) return count.bare !== undefined && Number.isInteger(count.bare) ? count.bare : 1
    if (['one', 'a', 'an', 'another', '1', 'single'].includes(word)) return 1
    if (!ARTICLES.has(word) && word !== 'of') break
  }
  return plural ? Number.POSITIVE_INFINITY : 1
}

/** Things of the list by their value ("the 11 ft one") or by their name ("one of the drivers"), from an item on. */
export function namedAt(list: CarriedList, view: View, at: number): Mention | undefined {
  const piece = pieceAt(view, at)
  if (piece) {
    const found = unitsNamed(list.field, list.units, piece)
    if (found.length === 0) return undefined
    const next = wordAt(view, at + 1)
    const noun = namesThing(list, next)
    const plural = (noun && isPlural(view, at + 1)) || piece.plural === true
    const many = howMany(view, at, plural, piece)
    if (many !== Number.POSITIVE_INFINITY && many > found.length) return undefined
    return { list, indexes: found.slice(0, many), to: noun ? at + 2 : at + 1 }
  }
  const word = wordAt(view, at)
  const them =
    word === 'one' &&
    wordAt(view, at + 1) === 'of' &&
    ['them', 'those', 'these'].includes(wordAt(view, at + 2))
  if (!them && !(namesThing(list, word) && !['one', 'ones'].includes(word))) return undefined
  if (isPlace(wordAt(view, at - 1))) return undefined
  const many = them ? 1 : howMany(view, at, isPlural(view, at), undefined)
  if (many >= list.units.length && list.units.length > 1) return undefined
  const { length } = list.units
  return {
    list,
    indexes: list.units.slice(0, many).map((_, index) => length - 1 - index),
    to: them ? at + 3 : at + 1,
  }
}
