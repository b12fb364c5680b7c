import type { Answer, Figure } from '../../questions/common/answer'
import type { Stage } from '../../questions/common/question'
import type { Place } from './checked-job'

/** `not-asked`: something that it takes is not known yet. */
export type RowState = 'holds' | 'tight' | 'fails' | 'info' | 'not-asked'

/** Something that is not known yet: the name under which the job would remember it, and what a person calls it. */
export type Missing = { field: string; label: string }

/** One thing that was checked, or could not be checked yet. */
export type BoardRow = {
  /** `feed-gauge`, or `feed-gauge@Long hall` at a part; crossings likewise: `wet-place@Long hall`. */
  id: string
  kind: 'question' | 'crossing'
  /** The stage of the work that it belongs to; rows stand in the order of the work. */
  stage: Stage
  /** Where its link leads: the question itself, or the one that explains a crossing. */
  question?: string
  where: Place
  title: string
  state: RowState
  /** What it comes to, or what it still takes; then what was gathered for it and what is told in two ways. */
  sentence: string
  /** The question's inputs as typed, flattened. */
  inputs: Record<string, string>
  answer?: Answer
  /** The numbers that a crossing compared. */
  figures?: Figure[]
  missing?: Missing[]
}

/** All that is checked of a job: plain data. */
export type Board = { rows: BoardRow[]; parts: string[]; counts: Record<RowState, number> }
