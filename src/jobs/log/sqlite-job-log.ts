import type Database from 'better-sqlite3'
import { contentOf, type JobRecords, type JobSummary, type Kind, type RecordOf, type Write } from './job'
import { type JobLog, type JobStore, jobLogOver, type Page, type Written } from './job-log'
import { jobOf, needsOf } from './needs'
import { type Outcome, refused, Stop } from './refusal'
import { type Opening, openDatabase } from './sqlite-file'
import { attempt } from './sqlite-refusal'
import { readRecord, readSummaryRow, rowOf } from './sqlite-rows'

/**
 * Opens the job log of a file, which is made where there is none. Several processes may have it open at once.
 *
 * A damaged file is refused as `corrupt` and left as it is.
 *
 * @param opening the file; `busyTimeoutMs` (≥ 0, 5000 where left out): how long to wait for another writer, in ms
 *
 * @example
 * const opened = await openJobLog({ file: jobLogFile(process.env) })
 * if (!opened.ok) console.error(opened.message)
 */
export async function openJobLog(opening: Opening): Promise<Outcome<JobLog>> {
  return attempt(opening.file, () => jobLogOver(sqliteStore(openDatabase(opening), opening.file)))
}

/** A log's store in an open database. */
function sqliteStore(database: Database.Database, file: string): JobStore {
  const records = new Records(database)
  const whileOpen = <T>(work: () => T): Outcome<T> =>
    database.open ? attempt(file, work) : refused({ reason: 'closed' })
  const readAtOnce = database.transaction((jobId: string) => records.of(jobId))
  const writeAll = database.transaction((writes: readonly Write[]) => records.add(writes))
  return {
    listJobs: async (page) => whileOpen(() => records.list(page)),
    readRecords: async (jobId) => whileOpen(() => readAtOnce.deferred(jobId)),
    // Immediate: a transaction that begins by reading could not wait for another writer, only fail.
    write: async (writes) => whileOpen(() => writeAll.immediate(writes)),
    close: async () => {
      database.close()
    },
  }
}

const insertInto = (kind: Kind, columns: readonly string[]): string =>
  `insert into ${kind} (${columns.join(', ')}) values (${columns.map((name) => `:${name}`).join(', ')})`

/** A part of a job as its newest change left it, or as it was begun. */
const newest = (part: string): string => `coalesce(
  (select ${part} from change where job_id = job.id and ${part} is not null order by at desc, id desc limit 1),
  job.${part})`

const latest = (kind: Kind): string => `coalesce((select max(at) from ${kind} where job_id = job.id), '')`

const workOutAnew = `
  insert or replace into job_now (job_id, name, place, state, touched_at)
  select job.id, ${newest('name')}, ${newest('place')}, ${newest('state')},
    max(job.created_at, ${latest('change')}, ${latest('entry')}, ${latest('fact')}, ${latest('withdrawal')})
  from job where job.id = ?`

const countOf = (kind: Kind): string => `(select count(*) from ${kind} where job_id = job.id)`

/** The jobs from the one touched last on; the index that fits is there with a state and without. */
const listFrom = ({ state, after }: Page): string => `
  select job_now.job_id as id, job_now.name, job_now.place, job_now.state, job.created_at, job_now.touched_at,
    ${countOf('entry')} as entries,
    1 + ${(['change', 'entry', 'fact', 'withdrawal'] as const).map(countOf).join(' + ')} as records
  from job_now join job on job.id = job_now.job_id
  where true
    ${state ? 'and job_now.state = :state' : ''}
    ${after ? 'and (job_now.touched_at, job_now.job_id) < (:touchedAt, :id)' : ''}
  order by job_now.touched_at desc, job_now.job_id desc
  limit :limit`

/** The statements on the tables, and what they mean. Throws `Stop` where something is refused. */
class Records {
  readonly #database: Database.Database
  readonly #statements = new Map<string, Database.Statement>()

  constructor(database: Database.Database) {
    this.#database = database
  }

  #prepared(sql: string): Database.Statement {
    const known = this.#statements.get(sql) ?? this.#database.prepare(sql)
    this.#statements.set(sql, known)
    return known
  }

  list(page: Page): JobSummary[] {
    const { state, after, limit } = page
    const wanted = { ...(state ? { state } : {}), ...(after ?? {}), limit: limit + 1 }
    return this.#prepared(listFrom(page)).all(wanted).map(readSummary)
  }

  of(jobId: string): JobRecords {
    const all = <K extends Kind>(kind: K) =>
      this.#prepared(`select * from ${kind} where job_id = ? order by at, id`)
        .all(jobId)
        .map((row) => readRow(kind, row))
    return {
      created: this.#kept('job', jobId) ?? notFound('job', jobId),
      changes: all('change'),
      entries: all('entry'),
      facts: all('fact'),
      withdrawals: all('withdrawal'),
    }
  }

  add(writes: readonly Write[]): Written {
    const written = writes.map((write) => this.#add(write))
    const touched = new Set(writes.filter((_, index) => written[index] === 'added').map(jobOf))
    for (const jobId of touched) this.#prepared(workOutAnew).run(jobId)
    return written
  }

  #add(write: Write): Written[number] {
    const { kind, record } = write
    const kept = this.#kept(kind, record.id)
    if (kept) {
      if (contentOf(kept) === contentOf(record)) return 'already-there'
      throw new Stop(refused({ reason: 'conflict', kind, id: record.id }))
    }
    for (const [needed, id] of needsOf(write)) {
      if (this.#jobWith(needed, id) !== jobOf(write)) notFound(needed, id)
    }
    const row = rowOf(write)
    this.#prepared(insertInto(kind, Object.keys(row))).run(row)
    return 'added'
  }

  #jobWith(kind: Kind, id: string): unknown {
    const column = kind === 'job' ? 'id' : 'job_id'
    return this.#prepared(`select ${column} from ${kind} where id = ?`).pluck().get(id)
  }

  #kept<K extends Kind>(kind: K, id: string): RecordOf<K> | undefined {
    const row = this.#prepared(`select * from ${kind} where id = ?`).get(id)
    return row === undefined ? undefined : readRow(kind, row)
  }
}

const notFound = (kind: Kind, id: string): never => {
  throw new Stop(refused({ reason: 'not-found', kind, id }))
}

/** Reads a row by its schema: one that does not fit was not written by us. */
function readRow<K extends Kind>(kind: K, row: unknown): RecordOf<K> {
  const read = readRecord(kind, row)
  if (read.success) return read.data as RecordOf<K>
  throw unreadable(kind, row, read.error.issues[0])
}

function readSummary(row: unknown): JobSummary {
  const read = readSummaryRow(row)
  if (read.success) return read.data
  throw unreadable('job', row, read.error.issues[0])
}

function unreadable(kind: Kind, row: unknown, issue?: { path: PropertyKey[]; message: string }): Stop {
  const { id } = row as { id: unknown }
  const detail = `${kind} ${String(id)}: ${issue?.path.join('.')}: ${issue?.message}`
  return new Stop(refused({ reason: 'corrupt', detail }))
}
