import type { LogDatabase } from './idb-database'
import { readKept, type Writing, workOutAnew } from './idb-records'
import { attempt } from './idb-refusal'
import type { Kind, Write } from './job'
import { needsOf } from './needs'
import { done, type Outcome, refused, Stop } from './refusal'

/** A job with something that the server was not heard to have. */
export type UnsentJob = { id: string; name: string; unsent: number }

/** How this device stands with the shop whose jobs it keeps. */
export type Shop = {
  isShutOut(): Promise<Outcome<boolean>>
  /**
   * The server shut this device out: takes away all that the server has, at once, and takes nothing of the shop in any
   * more. What was not sent stays, with the records without which it would say nothing: the beginning of its job, the
   * line that a fact is from, the fact that is taken back.
   */
  leave(): Promise<Outcome<null>>
  /** The server let this device in again. */
  enter(): Promise<Outcome<null>>
  /** The jobs with something unsent, or that the server refused. */
  unsent(): Promise<Outcome<UnsentJob[]>>
  /** Takes what is here of one job away for good. */
  discard(jobId: string): Promise<Outcome<null>>
}

const allStores = ['record', 'job_now', 'waiting', 'refused', 'clash', 'shut_out'] as const

const writing = (database: LogDatabase): Writing =>
  database.transaction([...allStores], 'readwrite', { durability: 'strict' })

/** The standing of an open log. */
export const shopOf = (database: LogDatabase): Shop => ({
  isShutOut: () => attempt(async () => (await database.count('shut_out')) > 0),
  async leave() {
    // What is taken away needs no room. The note of it may, and where there is none it is made the next time.
    const taken = await attempt(() => takeAway(writing(database)))
    if (!taken.ok) return taken
    const noted = await attempt(() => note(writing(database)))
    return noted.ok || noted.reason === 'disk-full' ? done(null) : noted
  },
  enter: () =>
    attempt(async () => {
      await database.clear('shut_out')
      return null
    }),
  unsent: () => attempt(() => unsentJobs(database)),
  discard: (jobId) => attempt(() => discard(writing(database), jobId)),
})

/** Throws `Stop` where this device was shut out, so that what was on its way then is not kept either. */
export async function letInOnly(transaction: Writing): Promise<void> {
  if ((await transaction.objectStore('shut_out').count()) > 0) throw new Stop(refused({ reason: 'shut-out' }))
}

const nameOf = (kind: Kind, id: string): string => `${kind} ${id}`

/** A record that cannot be read any more must not keep all the others here. */
async function orNothing<T>(work: () => T | Promise<T>, nothing: T): Promise<T> {
  try {
    return await work()
  } catch (error) {
    if (error instanceof Stop) return nothing
    throw error
  }
}

/** Notes it, takes away what came in between, and works out anew what is left. */
async function note(transaction: Writing): Promise<null> {
  await transaction.objectStore('shut_out').put(new Date().toISOString(), 'since')
  for (const jobId of await removeAllSent(transaction))
    await orNothing(() => workOutAnew(transaction, jobId), undefined)
  await transaction.done
  return null
}

async function takeAway(transaction: Writing): Promise<null> {
  await removeAllSent(transaction)
  await transaction.done
  return null
}

/** Removes all that the server has, without writing anything. The jobs of which something stays. */
async function removeAllSent(transaction: Writing): Promise<Set<string>> {
  const staying = await unsentWithNeeds(transaction)
  const jobs = new Set<string>()
  for (let each = await transaction.objectStore('record').openCursor(); each; each = await each.continue()) {
    if (staying.has(nameOf(each.value.kind, each.value.id))) jobs.add(each.value.jobId)
    else await each.delete()
  }
  const now = transaction.objectStore('job_now')
  for (const id of await now.getAllKeys()) if (!jobs.has(id)) await now.delete(id)
  await transaction.objectStore('clash').clear()
  return jobs
}

/** What was not sent, and what that needs, and so on. */
async function unsentWithNeeds(transaction: Writing): Promise<Set<string>> {
  const staying = new Set<string>()
  const marks = [
    ...(await transaction.objectStore('waiting').getAll()),
    ...(await transaction.objectStore('refused').getAll()),
  ]
  const open = marks.map(({ kind, id }): [Kind, string] => [kind, id])
  for (let next = open.pop(); next; next = open.pop()) {
    const [kind, id] = next
    if (staying.has(nameOf(kind, id))) continue
    const kept = await transaction.objectStore('record').get([kind, id])
    if (!kept) continue
    staying.add(nameOf(kind, id))
    open.push(...(await orNothing(() => needsOf({ kind, record: readKept(kind, kept) } as Write), [])))
  }
  return staying
}

async function unsentJobs(database: LogDatabase): Promise<UnsentJob[]> {
  const transaction = database.transaction(['waiting', 'refused', 'job_now'])
  const lots = new Map<string, Set<string>>()
  for (const store of ['waiting', 'refused'] as const) {
    for (const { jobId, lot } of await transaction.objectStore(store).getAll()) {
      lots.set(jobId, (lots.get(jobId) ?? new Set()).add(lot))
    }
  }
  const jobs: UnsentJob[] = []
  for (const [id, { size }] of lots) {
    const now = await transaction.objectStore('job_now').get(id)
    jobs.push({ id, name: now?.name ?? id, unsent: size })
  }
  return jobs
}

async function discard(transaction: Writing, jobId: string): Promise<null> {
  for (const store of ['waiting', 'refused'] as const) {
    const marks = transaction.objectStore(store)
    for (const number of await marks.index('of_job').getAllKeys(jobId)) await marks.delete(number)
  }
  const records = transaction.objectStore('record')
  const ofJob = IDBKeyRange.bound([jobId], [jobId, []])
  for (const key of await records.index('of_job').getAllKeys(ofJob)) await records.delete(key)
  await transaction.objectStore('job_now').delete(jobId)
  await transaction.done
  return null
}
