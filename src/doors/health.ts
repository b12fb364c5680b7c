import { rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { newId } from '../jobs/log/identifier'
import type { JobLog } from '../jobs/log/job-log'
import type { Outcome } from '../jobs/log/refusal'
import type { DeviceBook } from './device-book'

/** For so long, in ms, one answer stands: anybody may ask, and each time the disk has to be written. */
const keptMs = 5000

/** What the health of the server hangs on. */
export type Vitals = {
  /** The job log, or why it could not be opened: its whole file is checked then. */
  log: Outcome<JobLog>
  /** The list of devices, where the doors are locked. */
  book?: DeviceBook | undefined
  /** The folder of both. */
  folder: string
  isStopping: () => boolean
}

/**
 * Asks whether all works: the log can be read, the list of devices can be read, the disk can be written.
 *
 * @returns codes of what does not; none where all is well
 *
 * @example
 * await health() // ['disk-enospc']
 */
export function healthOf(vitals: Vitals, now: () => number = Date.now): () => Promise<readonly string[]> {
  let last: { at: number; reasons: Promise<string[]> } | undefined
  return async () => {
    if (!last || now() - last.at > keptMs) last = { at: now(), reasons: reasonsOf(vitals) }
    const reasons = await last.reasons
    return vitals.isStopping() ? [...reasons, 'stopping'] : reasons
  }
}

async function reasonsOf({ log, book, folder }: Vitals): Promise<string[]> {
  const found = await Promise.all([logReason(log), bookReason(book), diskReason(folder)])
  return found.flatMap((reason) => reason ?? [])
}

async function logReason(log: Outcome<JobLog>): Promise<string | undefined> {
  const read = log.ok ? await log.value.listJobs({ limit: 1 }) : log
  return read.ok ? undefined : `log-${read.reason}`
}

async function bookReason(book: DeviceBook | undefined): Promise<string | undefined> {
  try {
    book?.address()
    return undefined
  } catch {
    return 'devices-unreadable'
  }
}

/** Writes, since a disk that is full, read-only or failing shows it by nothing else. */
async function diskReason(folder: string): Promise<string | undefined> {
  const probe = join(folder, `health-${newId()}.new`)
  try {
    await writeFile(probe, 'well', { mode: 0o600 })
    await rm(probe)
    return undefined
  } catch (error) {
    await rm(probe, { force: true }).catch(() => undefined)
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown'
    return `disk-${code.toLowerCase()}`
  }
}
