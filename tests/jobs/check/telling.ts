import { checkJob } from '../../../src/jobs/check/board'
import type { Board, BoardRow } from '../../../src/jobs/check/row'
import { newId } from '../../../src/jobs/log/identifier'
import type { FactValue } from '../../../src/jobs/log/job'
import type { Known } from '../../../src/jobs/log/job-view'

const jobId = newId()

const factOf = (field: string, value: FactValue, where: string | null) => ({
  id: newId(),
  jobId,
  field,
  where,
  value,
  at: '2026-03-02T09:41:00.000Z',
  provenance: { from: 'person' as const, entryId: null, who: null },
})

/** Something known, told once; `others` were told too and still stand. */
export const known = (
  field: string,
  value: FactValue,
  where: string | null = null,
  ...others: FactValue[]
): Known => {
  const current = factOf(field, value, where)
  const contested = others.map((other) => factOf(field, other, where))
  return {
    field,
    where,
    current,
    contested,
    history: [...contested, current].map((fact) => ({ ...fact, withdrawnAt: null })),
  }
}

/** Facts of one place. */
export const told = (facts: Record<string, FactValue>, where: string | null = null): Known[] =>
  Object.entries(facts).map(([field, value]) => known(field, value, where))

/** A job with facts of the whole and of its parts. */
export const jobOf = (
  whole: Record<string, FactValue>,
  parts: Record<string, Record<string, FactValue>> = {},
): Known[] => [...told(whole), ...Object.entries(parts).flatMap(([part, facts]) => told(facts, part))]

export const rowOf = (board: Board, id: string): BoardRow => {
  const row = board.rows.find((each) => each.id === id)
  if (!row) throw new Error(`no ${id} among ${board.rows.map((each) => each.id).join(', ')}`)
  return row
}

export const check = (
  whole: Record<string, FactValue>,
  parts: Record<string, Record<string, FactValue>> = {},
): Board => checkJob(jobOf(whole, parts))
