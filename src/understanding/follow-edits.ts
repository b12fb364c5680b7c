import type { Field } from '../questions/common/fields'
import { type CarriedList, mentionAt, namesThing } from './follow-mentions'
import { removalAt, removedAt } from './follow-removals'
import { edit, FARTHEST, type ListEdit, oneOfThem, SWAP_JOINS, SWAPS, targetAfter } from './follow-targets'
import { changedUnit } from './follow-values'
import { isRow, type Unit, unitsOf } from './list-units'
import { namedAlone } from './named'
import type { Piece } from './pieces'
import type { Raw } from './raw'
import { legEndsAt } from './rows/legs'
import type { QuestionShape } from './shape'
import { breaksOff, endsSentence, pieceAt, type View, wordAt } from './view'
import { listed } from './vocabulary'

/** The lists of the question before. */
function listsOf(shape: QuestionShape, carried: ReadonlyMap<string, Raw>): CarriedList[] {
  const lists = [...carried].flatMap(([id, raw]) => {
    const field = shape.inputs[id]?.field as Field<unknown> | undefined
    return field?.kind === 'list' && Array.isArray(raw) ? [{ id, field, units: unitsOf(raw as Raw[]) }] : []
  })
  return lists.map((list) => ({ ...list, only: lists.length === 1 }))
}

const LINKS = listed('plainLinks')
const MOVES = listed('moves')
const LEGS = listed('legs')
const CIRCUITS = listed('circuits')

/** "leg B", "breaker 3" of a hot that is spoken of. */
function hotWordsAt(view: View, at: number): { row: Record<string, Raw>; to: number } | undefined {
  const word = wordAt(view, at)
  const name = wordAt(view, at + 1)
  if (LEGS.has(word) && ['a', 'b', 'c'].includes(name))
    return { row: { leg: name.toUpperCase() }, to: at + 2 }
  const number = CIRCUITS.has(word) ? pieceAt(view, at + 1) : undefined
  return number?.bare === undefined ? undefined : { row: { circuit: String(number.bare) }, to: at + 2 }
}

type HowOf = (piece: Piece) => string | undefined

const ONE_MORE = /\b(?:another|extra|(?:a|an) (?:third|second|fourth|fifth)|one more|add) (?:\w+ )?hot\b/

const wordsOf = (view: View): string => view.items.map((_, at) => wordAt(view, at)).join(' ')

/** "knock 5 ft off the first leg", "add 3 ft to the last one": a value before what it changes. */
function valueBefore(
  view: View,
  at: number,
): { piece: Piece; how: string | undefined; from: number } | undefined {
  const article = ['the', 'that', 'my'].includes(wordAt(view, at - 1)) ? 1 : 0
  const link = wordAt(view, at - 1 - article)
  const piece = pieceAt(view, at - 2 - article)
  const how = ['off', 'from'].includes(link)
    ? 'take'
    : ['to', 'onto', 'on'].includes(link)
      ? 'add'
      : undefined
  if (!piece || (how === undefined && link !== 'for')) return undefined
  const adds = [3, 4, 5].some((back) =>
    ['add', 'adding', 'another', 'extra', 'more'].includes(wordAt(view, at - back - article)),
  )
  return how === 'add' && !adds ? undefined : { piece, how, from: at - 2 - article }
}

/** "make the second leg 50 ft", "far lead is only 25 ft", "the last one runs box to box": things by their place. */
function placeAt(lists: readonly CarriedList[], view: View, at: number, howOf: HowOf): ListEdit | undefined {
  for (const list of lists) {
    if (list.id === 'hots' && ONE_MORE.test(wordsOf(view))) continue
    const mention = mentionAt(list, view, at) ?? oneOfThem(list, view, at)
    if (!mention) continue
    const taken = new Set<string>()
    const moves = [1, 2, 3].some((back) => MOVES.has(wordAt(view, at - back)))
    const pieces: Piece[] = []
    let units = [...list.units]
    let to = mention.to
    for (let next = mention.to; next <= mention.to + FARTHEST && !endsSentence(view, next); next++) {
      if (lists.some((each) => mentionAt(each, view, next) && next > at + 1 && next >= mention.to)) break
      const ends = list.id === 'legs' ? legEndsAt(view, next) : undefined
      const piece = pieceAt(view, next)
      if (ends) {
        units = units.map((unit, index) =>
          mention.indexes.includes(index)
            ? { ...(isRow(unit) ? unit : { length: unit }), from: ends[0], to: ends[1] }
            : unit,
        )
        to = next + 1
        taken.add('ends')
      }
      const hot = list.id === 'hots' ? hotWordsAt(view, next) : undefined
      if (hot) {
        units = units.map((unit, index) =>
          mention.indexes.includes(index) && isRow(unit) ? { ...unit, ...hot.row } : unit,
        )
        taken.add('names')
        next = hot.to - 1
        to = hot.to
        continue
      }
      if (!piece) continue
      const between = Array.from({ length: next - to }, (_, index) => wordAt(view, to + index))
      const mere = piece.bare !== undefined || mention.indexes.length > 1
      if (
        mere &&
        !between.every((word) => LINKS.has(word) || (list.id === 'feeds' && ['in', 'with'].includes(word)))
      )
        break
      const change = mention.indexes.map((index) =>
        changedUnit(list, units[index] as Unit, piece, howOf(piece), taken, moves),
      )
      if (change.some((each) => each === undefined)) break
      mention.indexes.forEach((index, each) => {
        units[index] = change[each]?.unit as Unit
      })
      taken.add(change[0]?.column ?? '')
      pieces.push(piece)
      to = next + 1
    }
    const before = taken.size > 0 ? undefined : valueBefore(view, at)
    if (before) {
      const change = mention.indexes.map((index) =>
        changedUnit(list, units[index] as Unit, before.piece, before.how),
      )
      if (change.every((each) => each !== undefined)) {
        mention.indexes.forEach((index, each) => {
          units[index] = change[each]?.unit as Unit
        })
        return edit(list, units, { from: before.from, to }, [before.piece])
      }
    }
    if (taken.size > 0) return edit(list, units, { from: at, to }, pieces)
  }
  return undefined
}

/** "120 W each", "60 ft apiece": every thing of the one list that takes such a value. */
function eachAt(
  lists: readonly CarriedList[],
  view: View,
  at: number,
  named: ReadonlyMap<Piece, string>,
): ListEdit | undefined {
  const piece = pieceAt(view, at)
  // "my rods are five foot each" is no leg's.
  if (piece && named.has(piece) && !lists.some(({ id }) => id === named.get(piece))) return undefined
  if (!piece || piece.members || piece.counted || !['each', 'apiece'].includes(wordAt(view, at + 1)))
    return undefined
  const fitting = lists.filter(
    (list) => list.units.length > 1 && changedUnit(list, list.units[0] as Unit, piece, undefined),
  )
  const [list, ...others] = fitting
  if (!list || others.length > 0) return undefined
  const units = list.units.map((unit) => changedUnit(list, unit, piece, undefined)?.unit ?? unit)
  return edit(list, units, { from: at, to: at + 2 }, [piece])
}

/** "swap the 60 W for a 75", "make one of the 14/2s a 14/3", "swap the dimmer for a receptacle". */
function swapAt(lists: readonly CarriedList[], view: View, at: number): ListEdit | undefined {
  if (!SWAPS.has(wordAt(view, at))) return undefined
  const target = targetAfter(lists, view, at)
  if (target === undefined) return undefined
  const { list } = target
  const makes = ['make', 'turn'].includes(wordAt(view, at))
  let joined = false
  for (let next = target.to; next <= target.to + 6 && !breaksOff(view, next); next++) {
    const word = wordAt(view, next)
    const byValue = pieceAt(view, target.to - 1) !== undefined || pieceAt(view, target.to - 2) !== undefined
    const directly = makes && byValue && next === target.to && pieceAt(view, next) !== undefined
    if (SWAP_JOINS.has(word) || (makes && ['a', 'an'].includes(word)) || directly) joined = true
    const piece = pieceAt(view, next)
    const noun =
      list.id === 'devices' && joined && next > target.to && namesThing(list, word) && word !== 'one'
    if (!joined || !(piece || noun)) continue
    if (noun) return edit(list, list.units, { from: at, to: next + 1 }, [])
    const change = target.indexes.map((index) =>
      changedUnit(
        list,
        list.units[index] as Unit,
        { ...(piece as Piece), times: 1, counted: false },
        undefined,
      ),
    )
    if (change.some((each) => each === undefined)) return undefined
    const units = list.units.map((unit, index) => change[target.indexes.indexOf(index)]?.unit ?? unit)
    const to = namesThing(list, wordAt(view, next + 1)) ? next + 2 : next + 1
    return edit(list, units, { from: at, to }, [piece as Piece])
  }
  return undefined
}

/** Every change of single things of the lists before that a line makes, each on what the one before it left. */
export function listEdits(
  shape: QuestionShape,
  carried: ReadonlyMap<string, Raw>,
  view: View,
  howOf: HowOf,
): ListEdit[] {
  const now = new Map(carried)
  const edits: ListEdit[] = []
  const named = namedAlone(shape, view)
  for (let at = 0; at < view.items.length; ) {
    const lists = listsOf(shape, now)
    const found =
      lists.length === 0
        ? undefined
        : (removalAt(lists, view, at) ??
          removedAt(lists, view, at) ??
          swapAt(lists, view, at) ??
          placeAt(lists, view, at, howOf) ??
          eachAt(lists, view, at, named))
    if (found === undefined) {
      at += 1
      continue
    }
    edits.push(found)
    now.set(found.field, found.raw)
    at = Math.max(found.to, at + 1)
  }
  return edits
}
