import * as z from 'zod/mini'
import {
  changeSchema,
  createdSchema,
  entrySchema,
  factSchema,
  type JobRecords,
  type Write,
  withdrawalSchema,
} from './job'
import { done, invalid, type Outcome, refused } from './refusal'

/** Marks a file as one job. */
export const portableFormat = 'ladderside-job'

/**
 * Version 1 of a job as one file: its records as the log has them, nothing worked out.
 *
 * A version that was ever written stays as it is, with a fixture in tests/jobs/log/fixtures/; the next one gets a
 * schema and a function that makes it of the one before.
 */
const portableOne = z
  .strictObject({
    format: z.literal(portableFormat),
    version: z.literal(1),
    job: createdSchema,
    changes: z.array(changeSchema),
    entries: z.array(entrySchema),
    facts: z.array(factSchema),
    withdrawals: z.array(withdrawalSchema),
  })
  .check(
    z.superRefine(({ job, ...lists }, context) => {
      for (const part of ['changes', 'entries', 'facts', 'withdrawals'] as const) {
        for (const [index, { jobId }] of lists[part].entries()) {
          if (jobId === job.id) continue
          context.addIssue({
            code: 'custom',
            path: [part, index, 'jobId'],
            message: 'belongs to another job',
            input: jobId,
          })
        }
      }
    }),
  )

/** The newest version, which is what gets written. */
export const portableSchema = portableOne
export type PortableJob = z.infer<typeof portableSchema>

const newest = 1

/** Just enough to tell which version a file is of. */
const envelope = z.looseObject({ format: z.literal(portableFormat), version: z.int().check(z.gte(1)) })

/** A job's records as what gets written to a file. The same records always give the same file. */
export const portableOf = ({ created, ...records }: JobRecords): PortableJob => ({
  format: portableFormat,
  version: newest,
  job: created,
  ...records,
})

/** The file's text. */
export const portableText = (job: PortableJob): string => `${JSON.stringify(job, null, 2)}\n`

/**
 * Reads one job's file, of this version or an older one.
 *
 * @param file the parsed JSON
 * @returns the job as the newest version has it; `too-new` for a version that is not known yet
 */
export function readPortable(file: unknown): Outcome<PortableJob> {
  const wrapped = envelope.safeParse(file)
  if (!wrapped.success) return invalid(wrapped.error)
  const { version } = wrapped.data
  if (version > newest) return refused({ reason: 'too-new', version, newest })
  const read = portableSchema.safeParse(file)
  return read.success ? done(read.data) : invalid(read.error)
}

/** The writes that put a job's file into a log, in an order in which each finds what it needs. */
export const writesOf = ({ job, changes, entries, facts, withdrawals }: PortableJob): Write[] => [
  { kind: 'job', record: job },
  ...changes.map((record) => ({ kind: 'change' as const, record })),
  ...entries.map((record) => ({ kind: 'entry' as const, record })),
  ...facts.map((record) => ({ kind: 'fact' as const, record })),
  ...withdrawals.map((record) => ({ kind: 'withdrawal' as const, record })),
]
