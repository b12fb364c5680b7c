import type * as z from 'zod/mini'
import '../../questions/common/schema-words'
import type { Kind } from './job'

/** Whatever has an id. */
type Named = Kind | 'share'

/** Why the log did not do what it was asked. Nothing was changed then. */
export type Refusal =
  | { reason: 'invalid'; faults: { path: string; message: string }[] }
  | { reason: 'not-found'; kind: Named; id: string }
  /** The id is taken by something else. */
  | { reason: 'conflict'; kind: Named; id: string }
  | { reason: 'read-only' }
  | { reason: 'disk-full' }
  /** The disk could not be read or written, and it is not full. */
  | { reason: 'disk-failed'; code: string }
  /** Others kept the log for longer than one waits. */
  | { reason: 'busy' }
  | { reason: 'corrupt'; detail: string }
  /** Written by a newer version of the program. */
  | { reason: 'too-new'; version: number; newest: number }
  /** A file that would have to be overwritten. */
  | { reason: 'exists'; file: string }
  | { reason: 'no-log'; file: string }
  | { reason: 'closed' }
  /** The server shut this device out. */
  | { reason: 'shut-out' }

export type Refused = { ok: false; message: string } & Refusal

/** What came of it: the value, or why not, with a sentence for whoever reads it. */
export type Outcome<T> = { ok: true; value: T } | Refused

export const done = <T>(value: T): Outcome<T> => ({ ok: true, value })

export const refused = (refusal: Refusal): Refused => ({
  ok: false,
  ...refusal,
  message: messageOf(refusal),
})

/** Carries a refusal out of a transaction, which is rolled back on the way. */
export class Stop extends Error {
  constructor(readonly refused: Refused) {
    super(refused.message)
  }
}

/** What zod found, as a refusal that names every faulty part. */
export const invalid = ({ issues }: Pick<z.core.$ZodError, 'issues'>): Refused =>
  refused({
    reason: 'invalid',
    faults: issues.map(({ path, message }) => ({ path: path.join('.'), message })),
  })

const kindNames: Record<Named, string> = {
  job: 'job',
  change: 'change of a job',
  entry: 'entry',
  fact: 'fact',
  withdrawal: 'withdrawal of a fact',
  share: 'link to a job',
}

/** The command that puts a backup in the place of the log. */
const restoreCommand = 'npm run restore -- <backup file>'

function messageOf(refusal: Refusal): string {
  switch (refusal.reason) {
    case 'invalid': {
      const [fault] = refusal.faults
      return `This cannot be kept: ${fault?.path || 'the whole'}: ${fault?.message ?? 'not as described'}.`
    }
    case 'not-found':
      return `There is no ${kindNames[refusal.kind]} ${refusal.id} here.`
    case 'conflict':
      return `The id ${refusal.id} is taken: another ${kindNames[refusal.kind]} has it. Nothing was changed.`
    case 'read-only':
      return 'The job log cannot be written: its disk or folder is read-only. What was there is kept. Make it writable, then try again.'
    case 'disk-full':
      return 'The disk is full, so this was not kept. What was there is kept. Make room, then try again.'
    case 'disk-failed':
      return `The disk failed (${refusal.code}), so this was not done. What was there is kept. Check the disk, and back up the log to another one.`
    case 'busy':
      return 'The job log is in use elsewhere. Nothing was changed. Try again in a moment.'
    case 'corrupt':
      return `The job log is damaged (${refusal.detail}). It was not changed. Restore a backup: ${restoreCommand}`
    case 'too-new':
      return `This was written by a newer version (${refusal.version}; this one reads up to ${refusal.newest}). It was not changed. Update the program.`
    case 'exists':
      return `${refusal.file} is there already and is not overwritten. Choose another name.`
    case 'no-log':
      return `There is no job log at ${refusal.file}.`
    case 'closed':
      return 'The job log is closed.'
    case 'shut-out':
      return 'This phone was shut out, so nothing of the shop is kept on it.'
  }
}
