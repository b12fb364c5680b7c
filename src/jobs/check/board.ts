import type { Known } from '../log/job-view'
import { seen } from './checked-job'
import { crossings } from './crossings/all'
import { crossingRow } from './crossings/crossing'
import { stages } from './order'
import { questionRows } from './question-rows'
import type { Board, BoardRow } from './row'

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
