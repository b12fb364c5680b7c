import { closeSync, existsSync, fsyncSync, linkSync, mkdirSync, openSync, rmSync, statSync } from 'node:fs'
import { dirname, join } from 'node:path'
import Database from 'better-sqlite3'
import { newId } from './identifier'
import jobLogMigration from './migrations/0001-job-log.sql?raw'
import shareMigration from './migrations/0002-share.sql?raw'
import { refused, Stop } from './refusal'

/** What tells the files of one kind from all others, and how they come to be. */
export type FileKind = {
  /** Marks the SQLite file, so that no other program's file is ever taken for one. */
  applicationId: number
  /** As it is called in a sentence: "a job log". */
  name: string
  /** In order: the number of each is the version that it leads to. */
  migrations: readonly string[]
}

/** "LADD". */
const jobLogKind: FileKind = {
  applicationId: 0x4c414444,
  name: 'a job log',
  migrations: [jobLogMigration, shareMigration],
}

/** How long to wait for another process that writes, in ms. */
const defaultBusyTimeoutMs = 5000

/** How a file is opened. */
export type Opening = { file: string; busyTimeoutMs?: number }

/** Where this machine's log is: `jobs.sqlite` in `LADDERSIDE_DATA`, which is `data/local` where it is not set. */
export const jobLogFile = (environment: Readonly<Record<string, string | undefined>>): string =>
  join(environment.LADDERSIDE_DATA ?? join('data', 'local'), 'jobs.sqlite')

/**
 * Opens a file for writing: makes it where there is none, checks it, brings it up to the newest version.
 *
 * A file that is damaged, or is of another kind, or is of a newer version, is not written to.
 *
 * @param kind what the file is; a job log where it is left out
 * @throws Stop, or what SQLite and the file system throw
 */
export function openDatabase(
  { file, busyTimeoutMs = defaultBusyTimeoutMs }: Opening,
  kind: FileKind = jobLogKind,
): Database.Database {
  mkdirSync(dirname(file), { recursive: true })
  if (!existsSync(file)) createDatabase(file, kind)
  inspect(file, kind)
  const database = new Database(file, { fileMustExist: true, timeout: busyTimeoutMs })
  try {
    return prepared(database, kind)
  } catch (error) {
    database.close()
    throw error
  }
}

/** Sets what makes an acknowledged write outlast a kill and a power cut, and applies the missing migrations. */
function prepared(database: Database.Database, { migrations }: FileKind): Database.Database {
  database.pragma('journal_mode = WAL')
  database.pragma('synchronous = FULL')
  // Elsewhere than on macOS it has no effect; there, without it the disk may still hold a write back.
  database.pragma('fullfsync = ON')
  database.pragma('foreign_keys = ON')
  migrations.forEach((migration, index) => {
    const apply = database.transaction(() => {
      if (versionOf(database) > index) return
      database.exec(migration)
      database.pragma(`user_version = ${index + 1}`)
    })
    if (versionOf(database) <= index) apply.immediate()
  })
  return database
}

const numberOf = (database: Database.Database, pragma: string): number =>
  Number(database.pragma(pragma, { simple: true }))

const versionOf = (database: Database.Database): number => numberOf(database, 'user_version')

/** Makes an empty file under another name first: whatever is under its own name is then a whole one, always. */
function createDatabase(file: string, kind: FileKind): void {
  if (existsSync(`${file}-wal`) && statSync(`${file}-wal`).size > 0) {
    throw new Stop(refused({ reason: 'corrupt', detail: `${file} is gone, but what belongs to it is there` }))
  }
  draftedAs(file, (draft) => {
    const database = new Database(draft)
    try {
      database.pragma(`application_id = ${kind.applicationId}`)
      prepared(database, kind)
    } finally {
      database.close()
    }
  })
}

/**
 * Makes a file whole or not at all: `make` writes a draft, which then gets the name unless another took it first.
 *
 * @returns whether it was this draft that got the name
 */
export function draftedAs(file: string, make: (draft: string) => void): boolean {
  const draft = draftOf(file)
  try {
    make(draft)
    return named(draft, file)
  } finally {
    removeDraft(draft)
  }
}

/** A name beside a file that nobody else uses. */
export const draftOf = (file: string): string => `${file}.${newId()}.new`

/** Takes away a draft with all that SQLite puts beside it. */
export const removeDraft = (draft: string): void => {
  for (const ending of ['', '-wal', '-shm', '-journal']) {
    if (existsSync(draft + ending)) rmSync(draft + ending)
  }
}

/** Gives a finished draft its name, for good; false where the name is taken. */
export function named(draft: string, file: string): boolean {
  try {
    linkSync(draft, file)
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'EEXIST') return false
    throw error
  }
  syncFolder(dirname(file))
  return true
}

/** Makes the names in a folder outlast a power cut. */
export function syncFolder(folder: string): void {
  const descriptor = openSync(folder, 'r')
  try {
    fsyncSync(descriptor)
  } finally {
    closeSync(descriptor)
  }
}

/**
 * Looks whether a file is a whole one of its kind that this version can read, without writing to it.
 *
 * @throws Stop with `corrupt` or `too-new`, or what SQLite throws
 */
export function inspect(file: string, { applicationId, name, migrations }: FileKind = jobLogKind): void {
  const damaged = (detail: string) => new Stop(refused({ reason: 'corrupt', detail: `${file}: ${detail}` }))
  if (statSync(file).size === 0) throw damaged('it is empty')
  const database = new Database(file, { readonly: true, fileMustExist: true, timeout: defaultBusyTimeoutMs })
  try {
    if (numberOf(database, 'application_id') !== applicationId) throw damaged(`it is not ${name}`)
    const version = versionOf(database)
    if (version > migrations.length) {
      throw new Stop(refused({ reason: 'too-new', version, newest: migrations.length }))
    }
    const found = String(database.pragma('integrity_check(1)', { simple: true }))
    if (found !== 'ok') throw damaged(found.replace(/\s+/g, ' '))
    if (schemaOf(database) !== schemaAt(version, migrations))
      throw damaged('its tables are not as they were made')
  } finally {
    database.close()
  }
}

/** How the tables were made, as far as it is we who made them. SQLite's own check takes any text for them. */
const schemaOf = (database: Database.Database): string =>
  JSON.stringify(
    database
      .prepare(
        "select type, name, tbl_name, sql from sqlite_schema where name not like 'sqlite_stat%' order by 1, 2",
      )
      .all(),
  )

/** What the tables of a version have to be. */
function schemaAt(version: number, migrations: readonly string[]): string {
  const model = new Database(':memory:')
  try {
    for (const migration of migrations.slice(0, version)) model.exec(migration)
    return schemaOf(model)
  } finally {
    model.close()
  }
}
