import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { openDeviceBook } from '../../../src/doors/device-book'
import { readSettings } from '../../../src/doors/settings'
import { Unusable } from '../../../src/doors/unusable'
import { restore } from '../../../src/jobs/log/backup'
import type { Kind } from '../../../src/jobs/log/job'
import type { PortableJob } from '../../../src/jobs/log/portable'
import { readPortable, writesOf } from '../../../src/jobs/log/portable'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { readRecord, rowOf } from '../../../src/jobs/log/sqlite-rows'
import { mutated, mutatedBytes, mutatedText } from './mutate'

/** What was kept before it is damaged: a job, and the files of a log and of a list of devices. */
export type Kept = { job: PortableJob; log: string; devices: string; jobId: string; token: string }

/** Damages one kept thing and reads it; throws only where the program would fall. */
export type Format = {
  name: string
  share: number
  run: (seed: number, runs: number, folder: string) => Promise<void>
}

const sampled = <T>(arbitrary: fc.Arbitrary<T>, seed: number, numRuns: number): T[] =>
  fc.sample(arbitrary, { seed, numRuns })

/** Every format in which something is kept, each with its share of all that is tried. */
export const formatsOf = ({ job, log, devices, jobId, token }: Kept): Format[] => [
  {
    name: 'a job as a portable file',
    share: 1 / 20,
    async run(seed, runs) {
      for (const file of sampled(mutated(fc.constant(job)), seed, runs)) readPortable(file)
    },
  },
  {
    name: 'a portable file as text',
    share: 1 / 50,
    async run(seed, runs) {
      for (const text of sampled(mutatedText(fc.constant(JSON.stringify(job))), seed, runs)) {
        try {
          readPortable(JSON.parse(text))
        } catch (error) {
          if (!(error instanceof SyntaxError)) throw error
        }
      }
    },
  },
  {
    name: 'a row of the job log',
    share: 1 / 20,
    async run(seed, runs) {
      const rows = writesOf(job).map((write) => ({ kind: write.kind as Kind, row: rowOf(write) }))
      const tried = fc
        .constantFrom(...rows)
        .chain(({ kind, row }) => mutated(fc.constant(row)).map((changed) => ({ kind, row: changed })))
      for (const { kind, row } of sampled(tried, seed, runs)) readRecord(kind, row)
    },
  },
  {
    name: 'the file of a job log, and of a backup',
    share: 1 / 2000,
    async run(seed, runs, folder) {
      for (const bytes of sampled(mutatedBytes(readFileSync(log)), seed, runs)) {
        const file = fresh(folder, 'jobs.sqlite', bytes)
        const opened = await openJobLog({ file })
        if (opened.ok) {
          await opened.value.listJobs()
          await opened.value.readJob(jobId)
          await opened.value.exportJob(jobId)
          await opened.value.close()
        }
        await restore(file, join(folder, 'damaged', 'restored.sqlite'))
      }
    },
  },
  {
    name: 'the list of devices',
    share: 1 / 2000,
    async run(seed, runs, folder) {
      for (const bytes of sampled(mutatedBytes(readFileSync(devices)), seed, runs)) {
        fresh(folder, 'doors.sqlite', bytes)
        try {
          const book = openDeviceBook(join(folder, 'damaged'))
          book.deviceOf(token, new Date())
          book.list(new Date())
          book.pair('ABCD-EFGH', 'x', new Date())
          book.address()
          book.close()
        } catch (error) {
          if (!(error instanceof Unusable)) throw error
        }
      }
    },
  },
  {
    name: 'the settings',
    share: 1 / 50,
    async run(seed, runs) {
      const names = [
        'PORT',
        'HOST',
        'LADDERSIDE_DATA',
        'LADDERSIDE_NAME',
        'LADDERSIDE_LOCKED',
        'LADDERSIDE_LOG',
      ]
      const environment = fc.dictionary(
        fc.constantFrom(...names),
        fc.string({ unit: 'binary', maxLength: 20 }),
      )
      for (const each of sampled(environment, seed, runs)) readSettings(each)
    },
  },
]

/** A damaged file in a folder with nothing else in it. */
function fresh(folder: string, name: string, bytes: Buffer): string {
  const place = join(folder, 'damaged')
  rmSync(place, { recursive: true, force: true })
  mkdirSync(place)
  writeFileSync(join(place, name), bytes)
  return join(place, name)
}
