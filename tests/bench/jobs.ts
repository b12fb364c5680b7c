import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { performance } from 'node:perf_hooks'
import Database from 'better-sqlite3'
import { newId } from '../../src/jobs/log/identifier'
import type { WriteInput } from '../../src/jobs/log/job'
import type { JobLog } from '../../src/jobs/log/job-log'
import type { Outcome } from '../../src/jobs/log/refusal'
import { openJobLog } from '../../src/jobs/log/sqlite-job-log'
import { questionById } from '../../src/questions/registry'
import { type Measured, median } from './measured'

const jobs = 10_000
const entriesPerJob = 50
const factsPerJob = 10
const samples = 200
/** What a person may wait at the median, in ms. */
const allowedMs = 50

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.message)
  return outcome.value
}

const moment = (seconds: number): string => new Date(Date.UTC(2026, 0, 1, 0, 0, seconds)).toISOString()

/** Real answers, of different lengths, as entries keep them. */
const answers = Array.from({ length: 50 }, (_, index) => {
  const answered = questionById('feed-gauge')?.answer({
    distance: `${10 + index} ft`,
    voltage: '24 V',
    load: `${20 + (index % 7) * 10} W`,
  })
  if (!answered?.ok) throw new Error('the question of the bench was not answered')
  return answered.answer as unknown as null
})

/** One job with its thread and facts, as writes. */
function jobWrites(jobId: string, second: number): WriteInput[] {
  const entries = Array.from({ length: entriesPerJob }, (_, index) => ({
    id: newId(),
    jobId,
    at: moment(second + index),
    said: `what gauge for ${10 + index} feet at 24 V`,
    reading: { question: 'feed-gauge' },
    answer: answers[index % answers.length] ?? null,
    version: { calculators: '0.1.0', tables: '0.1.0' },
  }))
  return [
    {
      kind: 'job',
      record: { id: jobId, name: 'Glaze bench', place: 'Back room', createdAt: moment(second) },
    },
    ...entries.map((record) => ({ kind: 'entry' as const, record })),
    ...entries.slice(0, factsPerJob).map(({ id: entryId, at }, index) => ({
      kind: 'fact' as const,
      record: {
        id: newId(),
        jobId,
        field: `input${index}`,
        value: `${index} V`,
        provenance: { from: 'answer' as const, entryId },
        at,
      },
    })),
  ]
}

async function filled(file: string): Promise<string[]> {
  const log = value(await openJobLog({ file }))
  const ids = Array.from({ length: jobs }, () => newId())
  for (const [index, id] of ids.entries()) value(await log.write(jobWrites(id, index * 60)))
  await log.close()
  return ids
}

/** Times of two ways to do the same, in ms, in turn. */
async function timesOf(ours: () => Promise<unknown>, bare: () => unknown): Promise<[number, number]> {
  const before = performance.now()
  await ours()
  const between = performance.now()
  bare()
  return [between - before, performance.now() - between]
}

function figures(name: string, times: readonly [number, number][], most: number): Measured[] {
  const [ourMs, bareMs] = [median(times.map(([ms]) => ms)), median(times.map(([, ms]) => ms))]
  console.info(
    `  ${name}: ${ourMs.toFixed(2)} ms, a bare SELECT of the rows ${bareMs.toFixed(2)} ms (medians)`,
  )
  return [
    { name: `${name}, median / ${allowedMs} ms`, ratio: ourMs / allowedMs, target: 1, is: 'at most' },
    { name: `${name} / a bare SELECT of the same rows`, ratio: ourMs / bareMs, target: most, is: 'at most' },
  ]
}

/** The rows of one page, as they stand in their tables. */
const barePage = `
  select * from job_now join job on job.id = job_now.job_id where (touched_at, job_now.job_id) < (?, ?)
  order by touched_at desc, job_now.job_id desc limit 51`

async function measureList(log: JobLog, bare: Database.Database): Promise<Measured[]> {
  const page = bare.prepare(barePage)
  const times: [number, number][] = []
  let after = value(await log.listJobs()).next
  for (let sample = 0; sample < samples && after; sample += 1) {
    const from: string = after
    const ours = async () => {
      after = value(await log.listJobs({ after: from })).next
    }
    times.push(await timesOf(ours, () => page.all(...from.split('~'))))
  }
  return figures('a page of the list', times, 5)
}

async function measureOpening(
  log: JobLog,
  bare: Database.Database,
  ids: readonly string[],
): Promise<Measured[]> {
  const rowsOf = ['change', 'entry', 'fact', 'withdrawal'].map((table) =>
    bare.prepare(`select * from ${table} where job_id = ? order by at, id`),
  )
  const times: [number, number][] = []
  for (let sample = 0; sample < samples; sample += 1) {
    const id = ids[(sample * 7919) % ids.length] ?? ''
    const ours = async () => value(await log.readJob(id))
    times.push(await timesOf(ours, () => rowsOf.map((rows) => rows.all(id))))
  }
  return figures('one job', times, 10)
}

/** How long a page of 10,000 jobs with 50 entries each takes, and one of them, against a bare SELECT of the rows. */
export async function benchJobs(): Promise<Measured[]> {
  const folder = mkdtempSync(join(tmpdir(), 'ladderside-bench-'))
  try {
    const file = join(folder, 'jobs.sqlite')
    const ids = await filled(file)
    const before = performance.now()
    const log = value(await openJobLog({ file }))
    console.info(`  opening, with the integrity check: ${Math.round(performance.now() - before)} ms`)
    const bare = new Database(file, { readonly: true })
    try {
      return [...(await measureList(log, bare)), ...(await measureOpening(log, bare, ids))]
    } finally {
      bare.close()
      await log.close()
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
