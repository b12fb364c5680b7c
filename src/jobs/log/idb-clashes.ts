import type { ClashMark, LogDatabase } from './idb-database'
import { readKept, type Writing } from './idb-records'
import { attempt } from './idb-refusal'
import { contentOf, type Json, type Kind, type Write } from './job'
import { jobOf } from './needs'
import type { Outcome } from './refusal'

/** A record of this device and another of the server's under the same id; which of them holds, only a person knows. */
export type Clash = { here: Write; onServer: Write; jobId: string; isSeen: boolean }

/** What is not the same here and on the server. Both are kept. */
export type Clashes = {
  /** How many nobody has put away yet. */
  count(): Promise<Outcome<number>>
  list(): Promise<Outcome<Clash[]>>
  /** Puts one away: it stays in the list. */
  see(kind: Kind, id: string): Promise<Outcome<null>>
}

/** The clashes of an open log. */
export const clashesOf = (database: LogDatabase): Clashes => ({
  count: () => attempt(async () => (await database.getAll('clash')).filter(({ isSeen }) => !isSeen).length),
  list: () => attempt(() => listClashes(database)),
  see: (kind, id) => attempt(() => see(database, kind, id)),
})

/** Keeps what the server has beside what is here; one that was put away comes back only where the server's changed. */
export async function keepBoth(transaction: Writing, write: Write): Promise<void> {
  const clashes = transaction.objectStore('clash')
  const { kind, record } = write
  const before = await clashes.get([kind, record.id])
  if (before && contentOf(before.record as Json) === contentOf(record as Json)) return
  await clashes.put({ kind, id: record.id, jobId: jobOf(write), record, isSeen: false })
}

async function listClashes(database: LogDatabase): Promise<Clash[]> {
  const transaction = database.transaction(['clash', 'record'])
  const found: Clash[] = []
  for (const clash of await transaction.objectStore('clash').getAll()) {
    const { kind, id, jobId, isSeen } = clash
    const kept = await transaction.objectStore('record').get([kind, id])
    if (!kept) continue
    const onServer = readKept(kind, { ...kept, record: clash.record })
    found.push({
      here: { kind, record: readKept(kind, kept) } as Write,
      onServer: { kind, record: onServer } as Write,
      jobId,
      isSeen,
    })
  }
  return found
}

async function see(database: LogDatabase, kind: Kind, id: string): Promise<null> {
  const transaction = database.transaction('clash', 'readwrite', { durability: 'strict' })
  const clash: ClashMark | undefined = await transaction.store.get([kind, id])
  if (clash) await transaction.store.put({ ...clash, isSeen: true })
  await transaction.done
  return null
}
