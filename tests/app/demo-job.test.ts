import { expect, it } from 'vitest'
import fernhollow from '../../data/demo/fernhollow.json'
import { loadDemo } from '../../src/app/demo-job'
import { readingOf } from '../../src/app/job-deeds'
import { checkJob } from '../../src/jobs/check/board'
import { appWithJobs } from './jobs'

it('loads a job in which every line is answered, nothing fails, and loading it again changes nothing', async () => {
  const { log } = await appWithJobs()
  const id = await loadDemo(log, fernhollow)
  const first = await log.readJob(id)
  if (!first.ok) throw new Error(first.message)
  const asked = fernhollow.steps.flatMap((step) => ('ask' in step ? [step.ask] : []))
  expect(first.value.thread.map(({ said }) => said)).toEqual(asked)
  for (const entry of first.value.thread) {
    expect([entry.said, readingOf(entry)?.kind]).toEqual([entry.said, 'answer'])
    expect([entry.said, readingOf(entry)?.reply.reading?.leftOver]).toEqual([entry.said, []])
  }
  expect(first.value.known.filter(({ contested }) => contested.length > 0)).toEqual([])
  const board = checkJob(first.value.known)
  expect(board.rows.filter(({ state }) => state === 'fails')).toEqual([])
  expect(board.counts.holds).toBeGreaterThan(15)
  await loadDemo(log, fernhollow)
  expect(await log.readJob(id)).toEqual(first)
})
