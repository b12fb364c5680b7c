import type { Dimension } from '../quantities/dimensions'
import type { Token } from './tokens'

/** What a piece may be read as; one piece may have several readings ("1.5 mil" is a thickness or a size). */
export type Kind = Dimension | 'size' | 'price' | 'daysPerYear' | 'degrees' | 'money'

/** A reading in the fixed unit of its dimension, and as it may be typed into a form. */
export type Reading = { dimension: Kind; value: number; unit: string; typed: string }

/** A number, a quantity or another thing with a number in it, found in the line. */
export type Piece = {
  kind: 'quantity' | 'cable' | 'lumber' | 'box' | 'label' | 'range'
  /** Its tokens: from the first up to the one after the last. */
  from: number
  to: number
  readings: readonly Reading[]
  /** Said in the plural: "60s", "14/2s". */
  plural?: boolean
  /** Its number, where it has no unit. */
  bare?: number
  /** Written in digits or with a unit: never a mere "one" or "a". */
  plain?: boolean
  /** How often it is there: "two 16.4 ft rolls". */
  times: number
  /** Whether `times` was said. */
  counted: boolean
  /** Pieces that are one list or one sum. */
  members?: readonly Piece[]
  joined?: 'plus' | 'and'
  /** "one fifty watt drivers" may be counted otherwise. */
  split?: { count: number; value: number }
  /** What a cable, a board or a box is called, in the form that its reader takes. */
  code?: string
  /** Said to be about so much, at most, and so on: kept out of the reading. */
  low?: number
  high?: number
}

export const emptyPiece = (kind: Piece['kind'], from: number, to: number): Piece => ({
  kind,
  from,
  to,
  readings: [],
  times: 1,
  counted: false,
})

/** What was said from one token up to another, as it stands in the line. */
export const saidBetween = (line: string, tokens: readonly Token[], from: number, to: number): string =>
  line.slice(tokens[from]?.start ?? 0, tokens[to - 1]?.end ?? 0).trim()

/** The numbers of a piece without a unit: one, or those of a list such as "two 75s and a 40". */
export const bareNumbers = (piece: Piece): readonly number[] => {
  if (piece.bare !== undefined) return [piece.bare]
  const members = piece.members ?? []
  return members.every(({ bare, readings }) => bare !== undefined && readings.length === 0)
    ? members.map(({ bare }) => bare ?? 0)
    : []
}

/** The reading of a piece in a dimension. */
export const readingIn = (piece: Piece, dimension: Kind): Reading | undefined =>
  piece.readings.find((reading) => reading.dimension === dimension)
