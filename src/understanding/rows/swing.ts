import type { RowBuilder } from '../interpret'
import { nothing } from './common'

/** "between 60 and 100": for a swing of light the two ends of a range are its least and its greatest. */
export const swingRows: RowBuilder = (_shape, line, view) => {
  const built = nothing()
  const range = view.pieces.find(
    (piece) =>
      piece.kind === 'range' &&
      piece.members?.some((member) => member.readings.some((each) => each.dimension === 'percent')),
  )
  if (range?.low === undefined || range.high === undefined) return built
  const said = line.said(range)
  built.given.set('max', { raw: Math.max(range.low, range.high), said, pieces: [range] })
  built.given.set('min', { raw: Math.min(range.low, range.high), said, pieces: [range] })
  return built
}
