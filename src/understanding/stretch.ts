import type { Piece } from './pieces'
import type { Token } from './tokens'

/** The text of a token, or nothing beyond the ends of the line. */
export const textAt = (tokens: readonly Token[], at: number): string => tokens[at]?.text ?? ''

/** The words between two pieces. */
export const between = (tokens: readonly Token[], one: Piece, other: Piece): string[] =>
  tokens.slice(one.to, other.from).map((token) => token.text)
