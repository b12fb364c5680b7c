import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { beforeAll, describe, expect, it } from 'vitest'
import type { OpenJob } from '../../../src/jobs/log/job-view'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { built, temporaryFolder } from './built'
import { longAnswer, value } from './samples'

const lanes = 4
const killsPerLane = 55

const folder = temporaryFolder()
let writer = ''
beforeAll(async () => {
  writer = await built('writer.ts', folder)
})

/** Lets a writer run and kills it at a random moment: while it opens, or while it writes. */
async function acknowledgedUntilKilled(file: string, whileOpening: boolean): Promise<string[]> {
  const child = spawn(process.execPath, [writer, file, '1000000'], { stdio: ['ignore', 'pipe', 'inherit'] })
  let printed = ''
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    printed += text
  })
  const closed = once(child, 'close')
  if (whileOpening) await wait(Math.random() * 250)
  else {
    await once(child.stdout, 'data')
    await wait(Math.random() * 80)
  }
  child.kill('SIGKILL')
  const [, signal] = (await closed) as [number | null, string | null]
  expect(signal, printed).toBe('SIGKILL')
  const lines = printed.split('\n').slice(0, -1)
  expect(lines.filter((line) => line.startsWith('refused'))).toEqual([])
  return lines
}

/** Holds a job to what its writer was told had been kept. */
function expectKept(job: OpenJob, acknowledged: readonly string[]): void {
  const ids = (kind: string) =>
    acknowledged.filter((line) => line.startsWith(kind)).map((line) => line.split(' ')[1] ?? '')
  const history = job.known.flatMap((known) => known.history)
  expect(job.thread.map(({ id }) => id)).toEqual(expect.arrayContaining(ids('entry')))
  expect(job.changes.map(({ id }) => id)).toEqual(expect.arrayContaining(ids('change')))
  const withdrawn = history.filter(({ withdrawnAt }) => withdrawnAt !== null).map(({ id }) => id)
  expect(withdrawn).toEqual(expect.arrayContaining(ids('withdrawal')))
  for (const entry of job.thread) {
    expect(entry.said).toBe(entry.id)
    expect(entry.answer).toEqual(longAnswer(entry.id))
  }
  // An entry and its facts were written as one: all of it is there, or none.
  expect(history.map(({ value: said }) => said).sort()).toEqual(
    job.thread.flatMap(({ id }) => [id, id]).sort(),
  )
}

/** Kills writers on one log over and over; opening it checks its integrity each time. */
async function drill(file: string): Promise<{ kills: number; kept: number }> {
  const acknowledged = new Map<string, string[]>()
  for (let kill = 0; kill < killsPerLane; kill += 1) {
    const lines = await acknowledgedUntilKilled(file, kill % 5 === 0)
    const log = value(await openJobLog({ file }))
    const jobId = lines[0]?.split(' ')[1]
    if (jobId !== undefined) {
      acknowledged.set(jobId, lines)
      expectKept(value(await log.readJob(jobId)), lines)
    }
    await log.close()
  }
  const log = value(await openJobLog({ file }))
  for (const [jobId, lines] of acknowledged) expectKept(value(await log.readJob(jobId)), lines)
  await log.close()
  return { kills: killsPerLane, kept: [...acknowledged.values()].flat().length }
}

describe('a log whose writer is killed', () => {
  it('keeps every acknowledged write and passes its integrity check', async () => {
    const drills = await Promise.all(
      Array.from({ length: lanes }, (_, lane) => drill(join(folder, `log-${lane}`, 'jobs.sqlite'))),
    )
    const sum = (of: 'kills' | 'kept') => drills.reduce((total, each) => total + each[of], 0)
    console.info(`${sum('kills')} kills; ${sum('kept')} acknowledged writes, all kept`)
    expect(sum('kills')).toBeGreaterThanOrEqual(200)
    expect(sum('kept')).toBeGreaterThan(sum('kills'))
  }, 120_000)
})
