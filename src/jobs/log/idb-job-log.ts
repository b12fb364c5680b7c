import { type Clashes, clashesOf, keepBoth } from './idb-clashes'
import type { LogDatabase } from './idb-database'
import { openLogDatabase } from './idb-database'
import { type Outbox, outboxOf } from './idb-outbox'
import { addAll, listJobs, recordsOf, type Writing } from './idb-records'
import { attempt } from './idb-refusal'
import { letInOnly, type Shop, shopOf } from './idb-shop'
import type { Write } from './job'
import { type JobLog, type JobStore, jobLogOver, type Written } from './job-log'
import { jobOf } from './needs'
import type { Outcome } from './refusal'

/** The log on a phone: one database, written to from two sides. */
export type PhoneLog = {
  /** What is written here waits for the server. */
  log: JobLog
  /**
   * What is written here came from the server, and waits for nothing. Where another record has its id here, both are
   * kept (`clashes`); nothing is taken in once this device was shut out (`shop`).
   */
  received: JobLog
  outbox: Outbox
  clashes: Clashes
  shop: Shop
  /** How many of a job's records are here and not only here: the server has them, as far as was heard. */
  countShared(jobId: string): Promise<Outcome<number>>
}

/**
 * Opens the job log in this browser's IndexedDB, which is made where there is none.
 *
 * @param name the database's name
 * @param onClosed called when the browser or a newer version of the program closed it; it may then be opened anew
 *
 * @example
 * const opened = await openPhoneLog('ladderside-jobs')
 * if (opened.ok) await opened.value.log.createJob({ id: newId(), name: 'Glaze bench', createdAt })
 */
export function openPhoneLog(name: string, onClosed = () => {}): Promise<Outcome<PhoneLog>> {
  return attempt(async () => {
    const database = await openLogDatabase(name, onClosed)
    return {
      log: jobLogOver(idbStore(database, 'waits')),
      received: jobLogOver(idbStore(database, 'was received')),
      outbox: outboxOf(database),
      clashes: clashesOf(database),
      shop: shopOf(database),
      countShared: (jobId) => attempt(() => countShared(database, jobId)),
    }
  })
}

/** A log's store in an open database; what is written through it waits for the server, or came from there. */
function idbStore(database: LogDatabase, written: 'waits' | 'was received'): JobStore {
  const reading = () => database.transaction(['record', 'job_now'])
  return {
    listJobs: (page) => attempt(() => listJobs(reading(), page)),
    readRecords: (jobId) => attempt(() => recordsOf(reading(), jobId)),
    write: (writes) => attempt(() => writeAll(database, writes, written === 'waits')),
    close: async () => database.close(),
  }
}

/** All or none. Strict: resolves when the disk has it, not when the browser means to write it. */
async function writeAll(database: LogDatabase, writes: readonly Write[], waits: boolean): Promise<Written> {
  const stores = ['record', 'job_now', 'waiting', 'refused', 'clash', 'shut_out'] as const
  const transaction: Writing = database.transaction([...stores], 'readwrite', { durability: 'strict' })
  const committed = transaction.done.then(
    () => undefined,
    (error: unknown) => error,
  )
  try {
    if (!waits) await letInOnly(transaction)
    const written = await addAll(transaction, writes, waits ? undefined : keepBoth)
    if (waits)
      await markWaiting(
        transaction,
        writes.filter((_, index) => written[index] === 'added'),
      )
    const error = await committed
    if (error) throw error
    return written
  } catch (error) {
    abort(transaction)
    // Where the database ended the transaction, it says why there, and at its requests only that it did.
    const why = await committed
    throw transaction.error ? why : error
  }
}

function abort(transaction: Writing): void {
  try {
    transaction.abort()
  } catch {
    // It is over already.
  }
}

async function markWaiting(transaction: Writing, writes: readonly Write[]): Promise<void> {
  const waiting = transaction.objectStore('waiting')
  const lot = writes[0]?.record.id ?? ''
  for (const write of writes) {
    await waiting.add({ kind: write.kind, id: write.record.id, jobId: jobOf(write), lot })
  }
}

async function countShared(database: LogDatabase, jobId: string): Promise<number> {
  const transaction = database.transaction(['job_now', 'waiting', 'refused', 'clash'])
  const now = await transaction.objectStore('job_now').get(jobId)
  let onlyHere = 0
  for (const store of ['waiting', 'refused'] as const) {
    for (const { kind, id } of await transaction.objectStore(store).index('of_job').getAll(jobId)) {
      // Where two clash, the server has its own of them, and that is here too.
      if ((await transaction.objectStore('clash').getKey([kind, id])) === undefined) onlyHere += 1
    }
  }
  return (now?.records ?? 0) - onlyHere
}
