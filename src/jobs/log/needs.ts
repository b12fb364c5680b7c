import type { Kind, Write } from './job'

/** The job that a write is about. */
export const jobOf = (write: Write): string => (write.kind === 'job' ? write.record.id : write.record.jobId)

/** What must be there, in the same job, before a write. */
export function needsOf(write: Write): [Kind, string][] {
  if (write.kind === 'job') return []
  const job: [Kind, string] = ['job', write.record.jobId]
  if (write.kind === 'withdrawal') return [job, ['fact', write.record.factId]]
  const entryId = write.kind === 'fact' ? write.record.provenance.entryId : null
  return entryId === null ? [job] : [job, ['entry', entryId]]
}
