import { accessSync, constants, statfsSync } from 'node:fs'
import { dirname } from 'node:path'
import Database from 'better-sqlite3'
import { done, type Outcome, type Refusal, type Refused, refused, Stop } from './refusal'

/** Less than SQLite needs to write anything at all. */
const nearlyNothingBytes = 64 * 1024

const isFull = (folder: string): boolean => {
  const { bavail, bsize } = statfsSync(folder)
  return bavail * bsize < nearlyNothingBytes
}

const isWritable = (path: string): boolean => {
  try {
    accessSync(path, constants.W_OK)
    return true
  } catch {
    return false
  }
}

/** What SQLite or the file system says went wrong, as a refusal; undefined for what is a fault of the program. */
function refusalOf(error: unknown, file: string): Refusal | undefined {
  if (!(error instanceof Error) || !('code' in error) || typeof error.code !== 'string') return undefined
  const { code, message } = error
  if (error instanceof Database.SqliteError) {
    const folder = dirname(file)
    if (/^SQLITE_(BUSY|LOCKED|PROTOCOL)/.test(code)) return { reason: 'busy' }
    if (/^SQLITE_(CORRUPT|NOTADB)/.test(code)) return { reason: 'corrupt', detail: message }
    if (/^SQLITE_(READONLY|PERM)/.test(code)) return { reason: 'read-only' }
    if (code === 'SQLITE_FULL') return { reason: 'disk-full' }
    if (/^SQLITE_(IOERR|CANTOPEN)/.test(code)) {
      if (isFull(folder)) return { reason: 'disk-full' }
      if (code.startsWith('SQLITE_CANTOPEN') && !isWritable(folder)) return { reason: 'read-only' }
      return { reason: 'disk-failed', code }
    }
    return undefined
  }
  if (!('syscall' in error)) return undefined
  if (['EROFS', 'EACCES', 'EPERM'].includes(code)) return { reason: 'read-only' }
  if (['ENOSPC', 'EDQUOT'].includes(code)) return { reason: 'disk-full' }
  return { reason: 'disk-failed', code }
}

/** The refusal that an error stands for; an error that stands for none is thrown on, as it is a fault of ours. */
export function refusedBy(error: unknown, file: string): Refused {
  if (error instanceof Stop) return error.refused
  const refusal = refusalOf(error, file)
  if (!refusal) throw error
  return refused(refusal)
}

/** Does something to the log at `file`; what the disk or SQLite refuse becomes an outcome. */
export function attempt<T>(file: string, work: () => T): Outcome<T> {
  try {
    return done(work())
  } catch (error) {
    return refusedBy(error, file)
  }
}
