import * as z from 'zod/mini'
import {
  type Change,
  type Created,
  type Entry,
  type Fact,
  idSchema,
  type JobRecords,
  type JobSummary,
  momentSchema,
  stateSchema,
  type Withdrawal,
  type Write,
  type WriteInput,
  writeSchema,
} from './job'
import { type OpenJob, viewOf } from './job-view'
import { type PortableJob, portableOf, readPortable, writesOf } from './portable'
import { done, invalid, type Outcome } from './refusal'

const positionSchema = z.strictObject({ touchedAt: momentSchema, id: idSchema })

/** Which jobs, and from where on. */
export const pageSchema = z.strictObject({
  state: z.optional(stateSchema),
  /** How many at most. */
  limit: z._default(z.int().check(z.gte(1), z.lte(500)), 50),
  /** `next` of the page before. */
  after: z.optional(
    z.pipe(
      z.string(),
      z.transform((cursor, context): Position => {
        const [touchedAt, id] = cursor.split('~')
        const read = positionSchema.safeParse({ touchedAt, id })
        if (read.success) return read.data
        context.issues.push({ code: 'custom', message: 'not where a page ended', input: cursor })
        return z.NEVER
      }),
    ),
  ),
})
/** Where a page of the list ends. */
export type Position = z.infer<typeof positionSchema>
/** Which jobs, as it is asked. */
export type PageInput = z.input<typeof pageSchema>
/** Which jobs, as it was read. */
export type Page = z.infer<typeof pageSchema>

/** One page of the jobs, what was touched last first; `next` asks for the page after it. */
export type JobPage = { jobs: JobSummary[]; next: string | null }

/** For each write: whether it is new, or was there already word for word (a repeated request). */
export type Written = ('added' | 'already-there')[]

/**
 * Where a log is kept: what SQLite does on the server and IndexedDB on the phone. Everything else is made of this.
 *
 * None of it throws.
 */
export type JobStore = {
  /** The jobs of a page, and one more where there are more. */
  listJobs(page: Page): Promise<Outcome<JobSummary[]>>
  /** All records of one job as they stood at one moment, each list in the order of `byTime`. */
  readRecords(jobId: string): Promise<Outcome<JobRecords>>
  /**
   * Adds all or none. An id that is there with the same content is passed over, with other content refused as
   * `conflict`; `not-found` where a record's job, entry or fact is not there. Kept for good once this resolves.
   */
  write(writes: readonly Write[]): Promise<Outcome<Written>>
  close(): Promise<void>
}

type Input<K extends Write['kind']> = Extract<WriteInput, { kind: K }>['record']

/** The log of all jobs: only ever added to, and the same wherever it is kept. */
export type JobLog = {
  /** One page of the jobs, what was touched last first. */
  listJobs(page?: PageInput): Promise<Outcome<JobPage>>
  /** One job as it stands, with how it came to that. */
  readJob(jobId: string): Promise<Outcome<OpenJob>>
  /** Several things at once, all or none: an entry with its facts; a fact withdrawn and the one instead of it. */
  write(writes: readonly WriteInput[]): Promise<Outcome<Written>>
  createJob(job: Input<'job'>): Promise<Outcome<Created>>
  changeJob(change: Input<'change'>): Promise<Outcome<Change>>
  addFact(fact: Input<'fact'>): Promise<Outcome<Fact>>
  withdrawFact(withdrawal: Input<'withdrawal'>): Promise<Outcome<Withdrawal>>
  addEntry(entry: Input<'entry'>): Promise<Outcome<Entry>>
  /** One job as one file (`portableText` writes it). */
  exportJob(jobId: string): Promise<Outcome<PortableJob>>
  /** Adds what a job's file has and the log has not; a file read twice changes nothing. */
  importJob(file: unknown): Promise<Outcome<{ jobId: string; added: number }>>
  close(): Promise<void>
}

/**
 * The log over a store: reads what comes in by zod, and makes of the store's few deeds all that is asked of a log.
 *
 * @example
 * const log = jobLogOver(store)
 * await log.createJob({ id: newId(), name: 'Glaze bench', createdAt: new Date().toISOString() })
 */
export function jobLogOver(store: JobStore): JobLog {
  const add = async <R>(write: { kind: Write['kind']; record: unknown }): Promise<Outcome<R>> => {
    const read = writeSchema.safeParse(write)
    if (!read.success) return invalid(read.error)
    const written = await store.write([read.data])
    return written.ok ? done(read.data.record as R) : written
  }
  return {
    async listJobs(asked = {}) {
      const page = pageSchema.safeParse(asked)
      if (!page.success) return invalid(page.error)
      const listed = await store.listJobs(page.data)
      return listed.ok ? done(pageOf(listed.value, page.data.limit)) : listed
    },
    async readJob(jobId) {
      const records = await readRecords(store, jobId)
      return records.ok ? done(viewOf(records.value)) : records
    },
    async write(writes) {
      const read = z.array(writeSchema).safeParse(writes)
      return read.success ? store.write(read.data) : invalid(read.error)
    },
    createJob: (record) => add({ kind: 'job', record }),
    changeJob: (record) => add({ kind: 'change', record }),
    addFact: (record) => add({ kind: 'fact', record }),
    withdrawFact: (record) => add({ kind: 'withdrawal', record }),
    addEntry: (record) => add({ kind: 'entry', record }),
    async exportJob(jobId) {
      const records = await readRecords(store, jobId)
      return records.ok ? done(portableOf(records.value)) : records
    },
    async importJob(file) {
      const read = readPortable(file)
      if (!read.ok) return read
      const written = await store.write(writesOf(read.value))
      if (!written.ok) return written
      const added = written.value.filter((each) => each === 'added').length
      return done({ jobId: read.value.job.id, added })
    },
    close: () => store.close(),
  }
}

/** Asks the store for what can be an id only. */
async function readRecords(store: JobStore, jobId: unknown): Promise<Outcome<JobRecords>> {
  const id = idSchema.safeParse(jobId)
  return id.success ? store.readRecords(id.data) : invalid(id.error)
}

function pageOf(found: readonly JobSummary[], limit: number): JobPage {
  const jobs = found.slice(0, limit)
  const last = found.length > limit ? jobs.at(-1) : undefined
  return { jobs, next: last ? `${last.touchedAt}~${last.id}` : null }
}
