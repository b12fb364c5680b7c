import type { LogDatabase, RefusedMark, WaitingMark } from './idb-database'
import { readKept } from './idb-records'
import { attempt } from './idb-refusal'
import type { Write } from './job'
import type { Outcome } from './refusal'

/** A record that waits for the server, with its place in the order of writing. */
export type Waiting = { number: number; write: Write }

/** What this device wrote and the server has not been heard to have, in the order in which it was written. */
export type Outbox = {
  /** The first that wait, up to so many bytes of JSON, but one at least where any waits. */
  next(mostBytes: number): Promise<Outcome<Waiting[]>>
  /** What came of some of them: kept by the server, or refused with a sentence; what is not named waits on. */
  settle(settled: readonly { number: number; refused?: string }[]): Promise<Outcome<null>>
  /** Puts all records of a job in the order to be sent, for a server that lost what it had of it. */
  sendWhole(jobId: string): Promise<Outcome<null>>
  /** Lets what was refused wait again. */
  retryRefused(): Promise<Outcome<null>>
  /** How many things that somebody did wait, and how many were refused; a line with its facts is one. */
  counts(): Promise<Outcome<{ waiting: number; refused: number }>>
  refused(): Promise<Outcome<RefusedMark[]>>
}

/** Whose dependants come later: what a job's records need is sent before them. */
const sendingOrder: readonly WaitingMark['kind'][] = ['job', 'change', 'entry', 'fact', 'withdrawal']

/** The outbox of an open log. */
export function outboxOf(database: LogDatabase): Outbox {
  return {
    next: (mostBytes) => attempt(() => firstWaiting(database, mostBytes)),
    settle: (settled) => attempt(() => settle(database, settled)),
    sendWhole: (jobId) => attempt(() => sendWhole(database, jobId)),
    retryRefused: () => attempt(() => retryRefused(database)),
    counts: () =>
      attempt(async () => ({
        waiting: await countLots(database, 'waiting'),
        refused: await countLots(database, 'refused'),
      })),
    refused: () => attempt(() => database.getAll('refused')),
  }
}

async function countLots(database: LogDatabase, marks: 'waiting' | 'refused'): Promise<number> {
  let lots = 0
  let cursor = await database.transaction(marks).store.index('lot').openKeyCursor(null, 'nextunique')
  for (; cursor; cursor = await cursor.continue()) lots += 1
  return lots
}

async function firstWaiting(database: LogDatabase, mostBytes: number): Promise<Waiting[]> {
  const transaction = database.transaction(['waiting', 'record'])
  const records = transaction.objectStore('record')
  const found: Waiting[] = []
  let bytes = 0
  let cursor = await transaction.objectStore('waiting').openCursor()
  while (cursor) {
    const { kind, id } = cursor.value
    const kept = await records.get([kind, id])
    if (kept) {
      const write = { kind, record: readKept(kind, kept) } as Write
      bytes += new TextEncoder().encode(JSON.stringify(write)).length
      if (found.length > 0 && bytes > mostBytes) break
      found.push({ number: cursor.key, write })
    }
    cursor = await cursor.continue()
  }
  return found
}

async function settle(
  database: LogDatabase,
  settled: readonly { number: number; refused?: string }[],
): Promise<null> {
  const transaction = database.transaction(['waiting', 'refused'], 'readwrite', { durability: 'strict' })
  const waiting = transaction.objectStore('waiting')
  for (const { number, refused } of settled) {
    const mark = await waiting.get(number)
    if (!mark) continue
    if (refused) await transaction.objectStore('refused').put({ ...mark, message: refused })
    await waiting.delete(number)
  }
  await transaction.done
  return null
}

async function sendWhole(database: LogDatabase, jobId: string): Promise<null> {
  const stores = ['waiting', 'refused', 'record'] as const
  const transaction = database.transaction(stores, 'readwrite', { durability: 'strict' })
  const waiting = transaction.objectStore('waiting')
  for (const marks of [waiting, transaction.objectStore('refused')]) {
    for (const number of await marks.index('of_job').getAllKeys(jobId)) await marks.delete(number)
  }
  const ofJob = transaction.objectStore('record').index('of_job')
  for (const kind of sendingOrder) {
    const keys = await ofJob.getAllKeys(IDBKeyRange.bound([jobId, kind], [jobId, kind, []]))
    for (const [, id] of keys) await waiting.add({ kind, id, jobId, lot: jobId })
  }
  await transaction.done
  return null
}

async function retryRefused(database: LogDatabase): Promise<null> {
  const transaction = database.transaction(['waiting', 'refused'], 'readwrite', { durability: 'strict' })
  for (const { kind, id, jobId, lot } of await transaction.objectStore('refused').getAll()) {
    await transaction.objectStore('waiting').add({ kind, id, jobId, lot })
  }
  await transaction.objectStore('refused').clear()
  await transaction.done
  return null
}
