import { claimedPieces } from './claimed'
import { saidNotToBe } from './cues'
import type { Piece } from './pieces'
import type { Interpretation, Unclear } from './reading'

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
