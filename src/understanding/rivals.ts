import { claimedPieces } from './claimed'
import { saidNotToBe } from './cues'
import type { Piece } from './pieces'
import type { Interpretation, Unclear } from './reading'
import { reading } from './rows/common'
import { pieceAt, type View, wordAt } from './view'

const dimensionsOf = (piece: Piece): string[] =>
  [piece, ...(piece.members ?? [])].flatMap((each) => each.readings.map(({ dimension }) => dimension))

/**
 * Fields that another quantity of the same kind might have meant, though no input uses it: 12 ft up the wall and
 * 19 ft across the ceiling are not a run of 12 ft. Asking beats an answer that leaves one of the two aside.
 */
export function rivalsOf({ shape, view, given, left }: Interpretation): Unclear[] {
  // What somebody claims is no rival of an input: it is named as left aside where no figure takes it.
  const claimed = claimedPieces(view).nearest
  const loose = left.filter(
    (piece) => piece.kind === 'quantity' && piece.readings.length > 0 && !claimed.has(piece),
  )
  return [...given].flatMap(([field, { pieces }]) => {
    const used = new Set(pieces.flatMap(dimensionsOf))
    const rivals = loose.filter(
      (piece) =>
        dimensionsOf(piece).some((dimension) => used.has(dimension)) &&
        !saidNotToBe(shape, view, field, piece),
    )
    return rivals.length > 0 ? [{ field, pieces: [...pieces, ...rivals] }] : []
  })
}

/**
 * "9 metres of 9.6 WATT TAPE": watts that are said of tape, while a length is left aside, may be those of one metre or
 * one foot. As a load they would size everything for a small part of it.
 */
export function wattsOfTape({ view, given }: Interpretation, left: readonly Piece[]): Unclear[] {
  const lengths = left.filter((piece) => reading(piece, 'length'))
  if (lengths.length === 0) return []
  return [...given].flatMap(([field, { pieces }]) => {
    const ofTape = view.items.some((_, at) => {
      const piece = pieceAt(view, at)
      return piece !== undefined && pieces.includes(piece) && isPower(piece) && isOfTape(view, at)
    })
    return ofTape ? [{ field, pieces: [...pieces, ...lengths] }] : []
  })
}

const isPower = (piece: Piece): boolean =>
  piece.times === 1 && !piece.members && reading(piece, 'power') !== undefined

const isOfTape = (view: View, at: number): boolean =>
  wordAt(view, at - 1) === 'tape' ||
  wordAt(view, at + 1) === 'tape' ||
  (wordAt(view, at + 2) === 'tape' && ['led', 'light', 'of'].includes(wordAt(view, at + 1)))
