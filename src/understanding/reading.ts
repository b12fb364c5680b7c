import type { Piece } from './pieces'
import type { Raw } from './raw'
import type { QuestionShape } from './shape'
import type { View } from './view'

/** An input as it was understood. */
export type Given = { raw: Raw; said: string; pieces: readonly Piece[] }
export type ClaimGiven = {
  figure: string
  value: number | string
  unit?: string
  raw: string
  said: string
  pieces: readonly Piece[]
}

/** A field that cannot be settled, and the pieces that might have settled it. */
export type Unclear = { field: string; pieces: readonly Piece[] }

/** What a line says when it is taken as one question. */
export type Interpretation = {
  shape: QuestionShape
  view: View
  given: Map<string, Given>
  claim: ClaimGiven | undefined
  unclear: Unclear[]
  left: Piece[]
  /** Inputs made of several quantities by a reader of their own. */
  built: ReadonlySet<string>
  /** Quantities that have a role though no phrase gives them one. */
  uncalled: ReadonlySet<Piece>
  score: number
  ask: number
  /** The points of the plainest phrase that asks it. */
  plainest: number
  why: string[]
}

/** What the line stands against: which inputs are there already, and which are wanted. */
export type Setting = {
  has: ReadonlySet<string>
  wants: ReadonlySet<string>
  /** The unit of what is there already, for a number without one. */
  unitOf?: ReadonlyMap<string, string>
}
