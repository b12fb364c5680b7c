import { roleWords } from './book'
import { claimedPieces } from './claimed'
import { unitsOf } from './list-units'
import type { Piece } from './pieces'
import type { Raw } from './raw'
import type { Interpretation, Unclear } from './reading'
import type { QuestionShape } from './shape'
import { pieceAt, type View, wordAt } from './view'
import { listed, vocabulary } from './vocabulary'

const BEFORE = listed('turningBefore')
const AFTER = listed('turningAfter')
const JOINS = listed('doubtfulJoins')

/** Whether some phrase has read a word together with the quantity beside it. */
function readTogether(view: View, word: number, piece: number): boolean {
  const [from, to] = [Math.min(word, piece), Math.max(word, piece)]
  return view.matches.some(
    ({ value, ...match }) =>
      match.from <= from &&
      match.to > to &&
      match.loose === 0 &&
      value.kind !== 'choose' &&
      value.kind !== 'out-of-reach',
  )
}

/** Words that make a thing of a list one more, and do not change its value. */
const ONE_MORE = listed('oneThing')

/** Whether a word that no phrase has read makes another number of the one beside it: "not 40 ft", "40 ft apart". */
const isTurned = (view: View, at: number, inList: boolean): boolean =>
  (BEFORE.has(wordAt(view, at - 1)) &&
    !(inList && ONE_MORE.has(wordAt(view, at - 1))) &&
    !readTogether(view, at - 1, at)) ||
  (AFTER.has(wordAt(view, at + 1)) && !readTogether(view, at + 1, at))

/** Whether a number without a unit that no input uses is said in one breath with a quantity: "25 ft and 40". */
function hasLooseNeighbour(view: View, at: number, left: ReadonlySet<Piece>): boolean {
  return [1, 2, 3].some((ahead) => {
    const [one, other] = [pieceAt(view, at - ahead), pieceAt(view, at + ahead)]
    const between = (from: number): string[] =>
      Array.from({ length: ahead - 1 }, (_, index) => wordAt(view, from + 1 + index))
    const joins = (from: number): boolean => ahead > 1 && between(from).every((word) => JOINS.has(word))
    return (
      (one?.bare !== undefined && left.has(one) && joins(at - ahead)) ||
      (other?.bare !== undefined && left.has(other) && joins(at))
    )
  })
}

const HEDGES = listed('hedges')

/** Whether a quantity is said with a "might be" or the like, right before it. */
const isHedged = (view: View, at: number): boolean =>
  [1, 2, 3].some((back) => HEDGES.has(wordAt(view, at - back)))

/** "might be 12 volt, might be 24": one of two numbers that may each be meant is left over. */
const hasHedgedRival = (view: View, at: number, left: ReadonlySet<Piece>): boolean =>
  isHedged(view, at) &&
  view.items.some(
    (item, other) =>
      item.kind === 'piece' &&
      item.piece.kind === 'quantity' &&
      left.has(item.piece) &&
      isHedged(view, other),
  )

/** "… old hand says it only burns off 3 W": what somebody says last of all, taken for an input that nothing calls it. */
function isLostClaim({ view, claim, uncalled, given }: Interpretation, piece: Piece): boolean {
  if (claim !== undefined || !uncalled.has(piece) || !claimedPieces(view).nearest.has(piece)) return false
  return [...given.values()].every(({ pieces }) => pieces.every((other) => other.from <= piece.from))
}

/** Inputs that may be said in several numbers: lists and sums. */
const mayGoOn = (shape: QuestionShape, field: string): boolean =>
  shape.inputs[field]?.field.kind === 'list' || roleWords(shape.id, 'fields', field).some(({ sum }) => sum)

const FEWEST = 2
const MOST = 40

/** A small number left over that might say how many there are of what a list holds, though the list has another number. */
function lostCount({ view, given, left, shape }: Interpretation): Unclear[] {
  const counts = left.filter(
    ({ bare, plain, kind }) =>
      kind === 'quantity' &&
      bare !== undefined &&
      Number.isInteger(bare) &&
      bare >= FEWEST &&
      bare <= MOST &&
      plain !== undefined,
  )
  return [...given].flatMap(([field, { raw, pieces }]) => {
    if (shape.inputs[field]?.field.kind !== 'list' || !Array.isArray(raw) || pieces.length === 0) return []
    const nouns = vocabulary.itemNouns[field] ?? []
    const many = unitsOf(raw as Raw[]).length
    const lost = counts.filter((count) => {
      const at = view.items.findIndex((item) => item.kind === 'piece' && item.piece === count)
      const next = [1, 2, 3].map((ahead) => wordAt(view, at + ahead).replace(/s$/, ''))
      const of = next[0] === 'of' || next[0] === 'at'
      return count.bare !== many && (of || next.some((word) => nouns.includes(word)))
    })
    return lost.length > 0 ? [{ field, pieces: [...lost, ...pieces] }] : []
  })
}

/**
 * Inputs that a line leaves in doubt though each has a value: a word that no phrase has read turns a number, a number
 * without a unit stands loose beside it, or a count was left over. Asking beats an answer from half of what was said.
 */
export function doubtsOf(reading: Interpretation): Unclear[] {
  const { view, given, left, built, shape } = reading
  const loose = new Set(left.filter(({ bare, plain }) => !(bare === 1 && plain === false)))
  const places = new Map<Piece, number>()
  view.items.forEach((_, at) => {
    const piece = pieceAt(view, at)
    if (piece) places.set(piece, at)
  })
  const turned = [...given].flatMap(([field, { pieces }]) => {
    const doubtful = pieces.filter((piece) => {
      const at = places.get(piece)
      if (at === undefined || piece.kind !== 'quantity') return false
      return (
        (!built.has(field) && isTurned(view, at, shape.inputs[field]?.field.kind === 'list')) ||
        (mayGoOn(shape, field) && hasLooseNeighbour(view, at, loose)) ||
        hasHedgedRival(view, at, loose) ||
        isLostClaim(reading, piece)
      )
    })
    return doubtful.length > 0 ? [{ field, pieces: doubtful }] : []
  })
  return [...turned, ...lostCount(reading)]
}
