import type { Answer, Figure } from '../../questions/common/answer'
import type { Stage } from '../../questions/common/question'
import type { Known } from '../log/job-view'
import { type Place, seen } from './checked-job'
import { crossings } from './crossings/all'
import { crossingRow } from './crossings/crossing'
import { stages } from './order'
import { questionRows } from './question-rows'

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

/**
 * Asks every question that the facts allow and holds the answers against each other. Pure, and never throws on what
 * a job may hold: a fact that cannot be read is as good as not told, and the row says so.
 *
 * @param known what is known of the job; a value of a part goes before the whole job's
 */
export function checkJob(known: readonly Known[]): Board {
  const job = seen(known)
  const asked = questionRows(job)
  const crossed = crossings.flatMap((crossing) =>
    crossing.findings(job).map((finding) => crossingRow(crossing, finding)),
  )
  const rows = stages.flatMap((stage) => [...asked, ...crossed].filter((row) => row.stage === stage))
  return { rows, parts: [...job.parts], counts: countsOf(rows) }
}

function countsOf(rows: readonly BoardRow[]): Board['counts'] {
  const counts = { holds: 0, tight: 0, fails: 0, info: 0, 'not-asked': 0 }
  for (const { state } of rows) counts[state]++
  return counts
}
