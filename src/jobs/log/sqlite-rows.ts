import { createHash } from 'node:crypto'
import * as z from 'zod/mini'
import { type Kind, recordSchemas, summarySchema, type Write } from './job'

/** A row as SQLite gives it, before anything is known about it. */
type Row = Readonly<Record<string, unknown>>

/** What a column of JSON holds; undefined, which no schema takes, where that is not JSON. */
function parsed(column: unknown): unknown {
  try {
    return JSON.parse(String(column))
  } catch {
    return undefined
  }
}

const recordOfRow: Record<Kind, (row: Row) => unknown> = {
  job: ({ created_at: createdAt, ...same }) => ({ ...same, createdAt }),
  change({ id, job_id: jobId, at, who, ...parts }) {
    const set = Object.fromEntries(Object.entries(parts).filter(([, part]) => part !== null))
    return { id, jobId, at, who, set }
  },
  entry({ job_id: jobId, calculators_version: calculators, tables_version: tables, ...same }) {
    const [reading, answer] = [parsed(same.reading), parsed(same.answer)]
    return { ...same, jobId, reading, answer, version: { calculators, tables } }
  },
  fact({ id, job_id: jobId, field, applies_to: where, value, at, ...from }) {
    const provenance = {
      from: from.provenance_from,
      entryId: from.provenance_entry_id,
      who: from.provenance_who,
    }
    return { id, jobId, field, where, value: parsed(value), provenance, at }
  },
  withdrawal: ({ job_id: jobId, fact_id: factId, ...same }) => ({ ...same, jobId, factId }),
}

/**
 * A digest of what a row says. SQLite's own check does not see a byte that changed within a text; this does.
 * Columns that hold nothing do not count, so that one added later leaves the older rows as they are.
 */
export function digestOf(row: Row): string {
  const names = Object.keys(row).filter((name) => row[name] !== null)
  const said = names.sort().map((name) => [name, row[name]])
  return createHash('sha256').update(JSON.stringify(said)).digest('base64url')
}

/** A row of texts that says what it said when it was written. */
export const digestedRow = z
  .record(z.string(), z.nullable(z.string()))
  .check(z.refine(({ digest, ...row }) => digest === digestOf(row), { error: 'not as it was written' }))

/** The record that a row of the table of that kind stands for, as far as it stands for one. */
export function readRecord(kind: Kind, row: unknown) {
  const read = digestedRow.safeParse(row)
  if (!read.success) return read
  const { digest: _, ...kept } = read.data
  return recordSchemas[kind].safeParse(recordOfRow[kind](kept))
}

/** What a row of the list of jobs says, as far as it says what it should. */
export function readSummaryRow(row: unknown) {
  const { created_at: createdAt, touched_at: touchedAt, ...same } = row as Row
  return summarySchema.safeParse({ ...same, createdAt, touchedAt })
}

/** A record as the row that keeps it. */
export function rowOf(write: Write): Record<string, string | null> {
  const row = columnsOf(write)
  return { ...row, digest: digestOf(row) }
}

function columnsOf({ kind, record }: Write): Record<string, string | null> {
  switch (kind) {
    case 'job': {
      const { createdAt, ...same } = record
      return { ...same, created_at: createdAt }
    }
    case 'change': {
      const { jobId, set, ...same } = record
      return { ...same, job_id: jobId, name: null, place: null, notes: null, state: null, ...set }
    }
    case 'entry': {
      const { jobId, reading, answer, version, ...same } = record
      return {
        ...same,
        job_id: jobId,
        reading: JSON.stringify(reading),
        answer: JSON.stringify(answer),
        calculators_version: version.calculators,
        tables_version: version.tables,
      }
    }
    case 'fact': {
      const { jobId, where, value, provenance, ...same } = record
      return {
        ...same,
        job_id: jobId,
        applies_to: where,
        value: JSON.stringify(value),
        provenance_from: provenance.from,
        provenance_entry_id: provenance.entryId,
        provenance_who: provenance.who,
      }
    }
    case 'withdrawal': {
      const { jobId, factId, ...same } = record
      return { ...same, job_id: jobId, fact_id: factId }
    }
  }
}
