import type { IDBPTransaction, StoreNames } from 'idb'
import type { KeptRecord, LogSchema } from './idb-database'
import {
  contentOf,
  type JobRecords,
  type JobSummary,
  type Json,
  type Kind,
  type RecordOf,
  recordSchemas,
  summarySchema,
  type Write,
} from './job'
import type { Page, Written } from './job-log'
import { viewOf } from './job-view'
import { jobOf, needsOf } from './needs'
import { refused, Stop } from './refusal'

type Reading = IDBPTransaction<LogSchema, ('record' | 'job_now')[], 'readonly' | 'readwrite'>
export type Writing = IDBPTransaction<LogSchema, StoreNames<LogSchema>[], 'readwrite'>

/** All keys of an index that begin so: an array sorts behind every text. */
const beginningWith = (...beginning: string[]): IDBKeyRange =>
  IDBKeyRange.bound(beginning, [...beginning, []])

/** The jobs of a page, and one more where there are more. */
export async function listJobs(transaction: Reading, page: Page): Promise<JobSummary[]> {
  const now = transaction.objectStore('job_now')
  const { state, after, limit } = page
  const from = state ? [state] : []
  const end = after ? [...from, after.touchedAt, after.id] : [...from, []]
  const range = IDBKeyRange.bound(from, end, false, true)
  const found: JobSummary[] = []
  let cursor = await now.index(state ? 'in_state' : 'touched').openCursor(range, 'prev')
  while (cursor && found.length <= limit) {
    found.push(readSummary(cursor.value))
    cursor = await cursor.continue()
  }
  return found
}

/** All records of one job, each list in the order of `byTime`. Throws `Stop` where the job is not there. */
export async function recordsOf(transaction: Reading, jobId: string): Promise<JobRecords> {
  const ofJob = transaction.objectStore('record').index('of_job')
  const all = async <K extends Kind>(kind: K) =>
    (await ofJob.getAll(beginningWith(jobId, kind))).map((kept) => readKept(kind, kept))
  const [created] = await all('job')
  if (!created) throw notFound('job', jobId)
  return {
    created,
    changes: await all('change'),
    entries: await all('entry'),
    facts: await all('fact'),
    withdrawals: await all('withdrawal'),
  }
}

/** Called where another record has the id of one that is to be added. */
export type OnClash = (transaction: Writing, write: Write) => Promise<void>

/** Adds all, passing over what is there word for word; throws `Stop` at the first that cannot be added. */
export async function addAll(
  transaction: Writing,
  writes: readonly Write[],
  onClash: OnClash = refuseClash,
): Promise<Written> {
  const written: Written = []
  const touched = new Set<string>()
  for (const write of writes) {
    const outcome = await add(transaction, write, onClash)
    if (outcome === 'added') touched.add(jobOf(write))
    written.push(outcome)
  }
  for (const jobId of touched) await workOutAnew(transaction, jobId)
  return written
}

async function refuseClash(_: Writing, { kind, record }: Write): Promise<void> {
  throw new Stop(refused({ reason: 'conflict', kind, id: record.id }))
}

async function add(transaction: Writing, write: Write, onClash: OnClash): Promise<Written[number]> {
  const { kind, record } = write
  const store = transaction.objectStore('record')
  const kept = await store.get([kind, record.id])
  if (kept) {
    if (contentOf(readKept(kind, kept) as Json) !== contentOf(record as Json))
      await onClash(transaction, write)
    return 'already-there'
  }
  for (const [needed, id] of needsOf(write)) {
    const there = await store.get([needed, id])
    if (there?.jobId !== jobOf(write)) throw notFound(needed, id)
  }
  await store.add(keptOf(write))
  return 'added'
}

const keptOf = (write: Write): KeptRecord => {
  const at = write.kind === 'job' ? write.record.createdAt : write.record.at
  return { kind: write.kind, id: write.record.id, jobId: jobOf(write), at, record: write.record }
}

/** Works a job's line in the list out from its records, whatever order they came in; its entries are not read. */
export async function workOutAnew(transaction: Writing, jobId: string): Promise<void> {
  const ofJob = transaction.objectStore('record').index('of_job')
  const few = async <K extends Kind>(kind: K) =>
    (await ofJob.getAll(beginningWith(jobId, kind))).map((kept) => readKept(kind, kept))
  const [created] = await few('job')
  if (!created) throw notFound('job', jobId)
  const changes = await few('change')
  const { job } = viewOf({ created, changes, entries: [], facts: [], withdrawals: [] })
  let touchedAt = job.touchedAt
  for (const kind of ['entry', 'fact', 'withdrawal'] as const) {
    const newest = await ofJob.openKeyCursor(beginningWith(jobId, kind), 'prev')
    const [, , at = ''] = newest?.key ?? []
    if (at > touchedAt) touchedAt = at
  }
  const { notes: _, ...summary } = job
  const entries = await ofJob.count(beginningWith(jobId, 'entry'))
  const records = await ofJob.count(beginningWith(jobId))
  await transaction.objectStore('job_now').put({ ...summary, touchedAt, entries, records })
}

/** Reads a kept record by its schema: one that does not fit was not written by us. */
export function readKept<K extends Kind>(kind: K, kept: KeptRecord): RecordOf<K> {
  const read = recordSchemas[kind].safeParse(kept.record)
  if (read.success) return read.data as RecordOf<K>
  const [issue] = read.error.issues
  throw corrupt(`${kind} ${kept.id}: ${issue?.path.join('.')}: ${issue?.message}`)
}

function readSummary(kept: JobSummary): JobSummary {
  const read = summarySchema.safeParse(kept)
  if (read.success) return read.data
  throw corrupt(`job ${kept.id}`)
}

const corrupt = (detail: string): Stop => new Stop(refused({ reason: 'corrupt', detail }))

const notFound = (kind: Kind, id: string): Stop => new Stop(refused({ reason: 'not-found', kind, id }))
