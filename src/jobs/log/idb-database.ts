import { type DBSchema, type IDBPDatabase, openDB } from 'idb'
import type { JobSummary, Kind } from './job'
import { type Refusal, refused, Stop } from './refusal'

/** A record as it is kept: with what its lists are sorted by beside it. */
export type KeptRecord = { kind: Kind; id: string; jobId: string; at: string; record: unknown }

/**
 * A record that the server has not been heard to have. The numbers go up in the order of writing; what was written at
 * once is one lot, named by its first record.
 */
export type WaitingMark = { number?: number; kind: Kind; id: string; jobId: string; lot: string }

/** A record that the server would not take, and why; it stays in the log of this device. */
export type RefusedMark = WaitingMark & { message: string }

/** A record as the server has it under an id under which this device has another; `isSeen` once somebody put it away. */
export type ClashMark = { kind: Kind; id: string; jobId: string; record: unknown; isSeen: boolean }

/**
 * What is in the database. The records are only ever added to, save where the server shuts this device out; `job_now`
 * is worked out from them.
 */
export interface LogSchema extends DBSchema {
  record: {
    key: [Kind, string]
    value: KeptRecord
    indexes: { of_job: [string, Kind, string, string] }
  }
  job_now: {
    key: string
    value: JobSummary
    indexes: { touched: [string, string]; in_state: [string, string, string] }
  }
  waiting: { key: number; value: WaitingMark; indexes: { of_job: string; lot: string } }
  refused: { key: number; value: RefusedMark; indexes: { of_job: string; lot: string } }
  clash: { key: [Kind, string]; value: ClashMark; indexes: { of_job: string } }
  /** One row at most: when the server shut this device out. */
  shut_out: { key: 'since'; value: string }
}

export type LogDatabase = IDBPDatabase<LogSchema>

/** In order: each leads from one version of the database to the next. A version that was ever released stays. */
const migrations: readonly ((database: LogDatabase) => void)[] = [
  (database) => {
    const record = database.createObjectStore('record', { keyPath: ['kind', 'id'] })
    record.createIndex('of_job', ['jobId', 'kind', 'at', 'id'])
    const now = database.createObjectStore('job_now', { keyPath: 'id' })
    now.createIndex('touched', ['touchedAt', 'id'])
    now.createIndex('in_state', ['state', 'touchedAt', 'id'])
    const waiting = database.createObjectStore('waiting', { keyPath: 'number', autoIncrement: true })
    const refusedOnes = database.createObjectStore('refused', { keyPath: 'number' })
    for (const marks of [waiting, refusedOnes]) {
      marks.createIndex('of_job', 'jobId')
      marks.createIndex('lot', 'lot')
    }
  },
  (database) => {
    database.createObjectStore('clash', { keyPath: ['kind', 'id'] }).createIndex('of_job', 'jobId')
    database.createObjectStore('shut_out')
  },
]

/**
 * Opens the phone's log, which is made where there is none.
 *
 * @param name the database's name
 * @param onClosed called when it was closed from outside: by a newer version of the program, which an old page must
 * never hold up, or by the browser
 * @throws Stop where a newer version of the program wrote it, or what IndexedDB throws
 */
export async function openLogDatabase(name: string, onClosed: () => void): Promise<LogDatabase> {
  try {
    return await openDB<LogSchema>(name, migrations.length, {
      upgrade(opened, from) {
        for (const migrate of migrations.slice(from)) migrate(opened)
      },
      blocking(_version, _newer, { target }) {
        ;(target as IDBDatabase).close()
        onClosed()
      },
      terminated: onClosed,
    })
  } catch (error) {
    throw error instanceof Error && error.name === 'VersionError' ? await tooNew(name) : error
  }
}

async function tooNew(name: string): Promise<Stop> {
  const known = await indexedDB.databases()
  const version = known.find((each) => each.name === name)?.version ?? migrations.length + 1
  const refusal: Refusal = { reason: 'too-new', version, newest: migrations.length }
  return new Stop(refused(refusal))
}
