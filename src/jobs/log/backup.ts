import { existsSync, mkdirSync, renameSync } from 'node:fs'
import { dirname } from 'node:path'
import Database from 'better-sqlite3'
import { revokeAll } from '../share/sqlite-shares'
import { done, type Outcome, refused } from './refusal'
import { draftOf, inspect, named, removeDraft, syncFolder } from './sqlite-file'
import { refusedBy } from './sqlite-refusal'

/** All pages in one step: in several, a log that is written to would have to be copied from the start each time. */
const allPages = 0x7fffffff

/**
 * Backs the log up into one file while it is in use; checks the copy before it gets its name.
 *
 * @param log the log's file
 * @param to the backup's file, which must not be there yet
 */
export async function backUp(log: string, to: string): Promise<Outcome<{ file: string }>> {
  if (!existsSync(log)) return refused({ reason: 'no-log', file: log })
  const exists = refused({ reason: 'exists', file: to })
  if (existsSync(to)) return exists
  const draft = draftOf(to)
  try {
    mkdirSync(dirname(to), { recursive: true })
    await copyChecked(log, draft, 'DELETE')
    return named(draft, to) ? done({ file: to }) : exists
  } catch (error) {
    return refusedBy(error, to)
  } finally {
    removeDraft(draft)
  }
}

/**
 * Puts a backup in the place of the log. What was there is set aside under another name, whole or damaged. No link to a
 * job opens anything afterwards: the backup cannot know which of them was revoked since.
 *
 * @param backup the backup's file
 * @param log the log's file; a log that is in use is refused as `busy`
 * @returns `setAside`: what the log that was there is called now; null where there was none
 */
export async function restore(backup: string, log: string): Promise<Outcome<{ setAside: string | null }>> {
  if (!existsSync(backup)) return refused({ reason: 'no-log', file: backup })
  const draft = draftOf(log)
  try {
    mkdirSync(dirname(log), { recursive: true })
    await copyChecked(backup, draft, 'WAL')
    revokeAll(draft, new Date().toISOString())
    const setAside = setLogAside(log)
    return named(draft, log) ? done({ setAside }) : refused({ reason: 'exists', file: log })
  } catch (error) {
    return refusedBy(error, log)
  } finally {
    removeDraft(draft)
  }
}

/** Copies a log as it stands at one moment, and looks the copy through. DELETE: one file, readable anywhere. */
async function copyChecked(from: string, to: string, journalMode: 'DELETE' | 'WAL'): Promise<void> {
  inspect(from)
  const source = new Database(from, { readonly: true, fileMustExist: true })
  try {
    await source.backup(to, { progress: () => allPages })
  } finally {
    source.close()
  }
  const copy = new Database(to, { fileMustExist: true })
  try {
    copy.pragma(`journal_mode = ${journalMode}`)
  } finally {
    copy.close()
  }
  inspect(to)
}

/** Gives the log that is there, with what belongs to it, another name. */
function setLogAside(log: string): string | null {
  const parts = ['', '-wal', '-shm'].filter((ending) => existsSync(log + ending))
  if (parts.length === 0) return null
  foldTogether(log)
  const setAside = `${log}.replaced-${new Date().toISOString().replaceAll(':', '-')}`
  for (const ending of ['', '-wal', '-shm']) {
    if (existsSync(log + ending)) renameSync(log + ending, setAside + ending)
  }
  syncFolder(dirname(log))
  return setAside
}

/** Brings a sound log into one file; SQLite does it only where nobody else has it open, and throws otherwise. */
function foldTogether(log: string): void {
  try {
    inspect(log)
  } catch {
    return
  }
  const database = new Database(log, { fileMustExist: true, timeout: 0 })
  try {
    database.pragma('journal_mode = DELETE')
  } finally {
    database.close()
  }
}
