import type { Field } from '../questions/common/fields'
import { type Change, type Follow, numberIn } from './follow'
import { placeOf } from './items'
import type { Line, View } from './line'
import type { Piece } from './pieces'
import { type Raw, rawOf } from './raw'
import type { Interpretation } from './reading'
import { factorOf } from './units'
import { listed, vocabulary } from './vocabulary'

const PLACES: ReadonlyMap<string, number> = new Map(Object.entries(vocabulary.places))
const ITEMS = listed('listItems')
const LEGS = listed('legs')

type Rows = readonly Raw[]
type Row = Readonly<Record<string, Raw>>
type Found = { id: string; rows: Rows; index: number; at: number }

const isRow = (raw: Raw | undefined): raw is Row => typeof raw === 'object' && !Array.isArray(raw)

const singular = (word: string): string => word.replace(/(?:(?<=sh|ch)es|s)$/, '')

/**
 * "make the second leg 50 ft", "get rid of the third hot", "leg B is 6 amps now": one item of a list by its place,
 * changed or taken out.
 */
export function otherItem(
  reading: Interpretation,
  carried: ReadonlyMap<string, Raw>,
  follows: readonly Follow[],
  change: Change,
  line: Line,
): void {
  const found = itemIn(reading, carried)
  if (found === undefined) return
  const { id, rows, index, at } = found
  const dropped = follows.some(({ how, from }) => how === 'drop' && from <= at)
  if (dropped && rows.length > 1) {
    put(
      change,
      id,
      rows.filter((_, place) => place !== index),
      line.text,
    )
    return
  }
  const item = reading.shape.inputs[id]?.field.item
  const { view } = reading
  for (const piece of view.pieces) {
    const how = follows.find((follow) => follow.piece === piece)?.how
    const raw = item && changed(item, rows[index] as Raw, piece, how)
    if (raw === undefined) continue
    put(
      change,
      id,
      rows.map((row, place) => (place === index ? raw : row)),
      line.said(piece),
    )
    change.used.add(piece)
    giveUp(reading, change, id, [piece])
    return
  }
}

function put(change: Change, id: string, rows: Rows, said: string): void {
  change.set.set(id, rows)
  change.said.set(id, said)
  change.dropped.delete(id)
  change.unclear = change.unclear.filter((field) => field !== id)
}

/** A quantity that went into an item of a list is no other input. */
function giveUp({ given }: Interpretation, change: Change, kept: string, pieces: readonly Piece[]): void {
  for (const [id, value] of given) {
    if (id !== kept && value.pieces.some((piece) => pieces.includes(piece))) change.set.delete(id)
  }
}

/** The list and the place in it that the line names. */
function itemIn({ shape, view }: Interpretation, carried: ReadonlyMap<string, Raw>): Found | undefined {
  const lists = [...carried].filter(
    (entry): entry is [string, Rows] => Array.isArray(entry[1]) && entry[1].length > 1,
  )
  for (const [id, rows] of lists) {
    for (let at = 0; at < view.items.length; at++) {
      const index = placeNamed(view, at, rows)
      if (index !== undefined && (shape.id === 'shared-neutral' || namesItem(view, at, id, lists.length)))
        return { id, rows, index, at }
    }
  }
  return undefined
}

const wordAt = (view: View, at: number): string => {
  const item = view.items[at]
  return item?.kind === 'word' ? item.text : ''
}

/** "second", "last", or the leg of a row. */
function placeNamed(view: View, at: number, rows: Rows): number | undefined {
  const word = wordAt(view, at)
  const place = PLACES.get(word)
  if (place !== undefined) {
    const index = place < 0 ? rows.length + place : place
    return index < rows.length && (word !== 'other' || rows.length === 2) ? index : undefined
  }
  if (!LEGS.has(word)) return undefined
  const leg = wordAt(view, at + 1).toUpperCase()
  const found = rows.flatMap((row, index) => (isRow(row) && row.leg === leg ? [index] : []))
  return found.length === 1 ? found[0] : undefined
}

/** Whether an item of the list is named after its place: by the list's own name, or by "one" where there is one list. */
function namesItem(view: View, at: number, id: string, lists: number): boolean {
  return [1, 2, 3].some((ahead) => {
    const word = singular(wordAt(view, at + ahead))
    return word !== '' && (word === singular(id) || (lists === 1 && ITEMS.has(word)))
  })
}

/** An item with another value, or with one added to or taken from the one it has. */
function changed(
  item: Field<unknown>,
  before: Raw,
  piece: Piece,
  how: Follow['how'] | undefined,
): Raw | undefined {
  if (!isRow(before)) return newValue(item, before, piece, how)
  for (const [column, { field }] of Object.entries(item.columns ?? {})) {
    const raw = column === 'count' ? undefined : newValue(field, before[column], piece, how)
    if (raw === undefined) continue
    const { current: _, load: __, ...rest } = before
    const either = column === 'current' || column === 'load'
    return either ? { ...rest, [column]: raw } : { ...before, [column]: raw }
  }
  return undefined
}

const unitOf = (raw: Raw | undefined): string | undefined =>
  typeof raw === 'string' ? /^-?[\d.]+ (\S+)$/.exec(raw)?.[1] : undefined

function newValue(
  field: Field<unknown>,
  before: Raw | undefined,
  piece: Piece,
  how: Follow['how'] | undefined,
): Raw | undefined {
  if (field.kind !== 'quantity' && field.kind !== 'size') return undefined
  if (piece.bare !== undefined && piece.plain === false && before === undefined) return undefined
  const raw = rawOf(field, piece, unitOf(before), { sum: false, times: false })
  if (typeof raw !== 'string') return undefined
  if (typeof before === 'string' && (how === 'add' || how === 'take'))
    return `${before} ${how === 'add' ? '+' : '-'} ${raw}`
  return raw
}

/** Whether two values are one in their fixed unit: 900 mm and 0.9 m. */
function alikeValues(one: Raw, other: Raw): boolean {
  const [a, b] = [one, other].map((raw) => {
    const number = numberIn(raw)
    return number && number.value * (factorOf(number.unit)?.factor ?? Number.NaN)
  })
  return a !== undefined && b !== undefined && Math.abs(a - b) <= 1e-6 * Math.abs(a)
}

/** "swap the 60 W for a 75", "change the sixties to forties": items of one value get another. */
export function swappedItems(
  reading: Interpretation,
  carried: ReadonlyMap<string, Raw>,
  change: Change,
  line: Line,
): void {
  const { view, shape } = reading
  const said = view.items.map((_, at) => wordAt(view, at))
  if (!said.some((word) => SWAPS.has(word))) return
  for (const [id, rows] of carried) {
    const item = shape.inputs[id]?.field.item
    if (!Array.isArray(rows) || !item || item.kind !== 'quantity') continue
    const before = rows as Rows
    const pieces = view.pieces.flatMap((piece) => {
      const raw = rawOf(item, { ...piece, times: 1 }, unitOf(before[0]), { sum: false, times: false })
      return typeof raw === 'string' ? [{ piece, raw }] : []
    })
    const [out, into] = pieces
    if (pieces.length !== 2 || !out || !into) continue
    if (!joinedBy(said.slice(placeOf(view, out.piece), placeOf(view, into.piece)))) continue
    if (!before.some((row) => alikeValues(row, out.raw))) {
      change.set.delete(id)
      change.unclear.push(id)
      continue
    }
    const counted = out.piece.counted ? out.piece.times : before.length
    let left = onlyOne(said, placeOf(view, out.piece)) ? 1 : counted
    const rest = before.map((row) => (alikeValues(row, out.raw) && left-- > 0 ? into.raw : row))
    put(change, id, rest, `${line.said(out.piece)}, ${line.said(into.piece)}`)
    change.used.add(out.piece).add(into.piece)
    giveUp(reading, change, id, [out.piece, into.piece])
  }
}

const SWAPS = listed('swaps')
const SWAP_JOINS = listed('swapJoins')

const joinedBy = (words: readonly string[]): boolean => words.some((word) => SWAP_JOINS.has(word))

/** "swap one of the 60s", "swap a 60". */
const onlyOne = (said: readonly string[], at: number): boolean =>
  said.slice(Math.max(0, at - 3), at).some((word) => ['one', 'a', 'an'].includes(word))
