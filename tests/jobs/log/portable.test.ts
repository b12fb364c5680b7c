import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import * as z from 'zod/mini'
import { newId } from '../../../src/jobs/log/identifier'
import type { JobLog } from '../../../src/jobs/log/job-log'
import { portableSchema, portableText } from '../../../src/jobs/log/portable'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { temporaryFolder } from './built'
import { entry, job, value } from './samples'

const fixtures = join(import.meta.dirname, 'fixtures')
const fixture = (name: string): Record<string, unknown> =>
  JSON.parse(readFileSync(join(fixtures, name), 'utf8'))

const folder = temporaryFolder()
let log: JobLog
beforeAll(async () => {
  log = value(await openJobLog({ file: join(folder, 'jobs.sqlite') }))
})

describe('a job as one file', () => {
  it.each(readdirSync(fixtures))('%s, written by a version once released, opens', async (name) => {
    const { jobId, added } = value(await log.importJob(fixture(name)))
    expect(added).toBe(8)
    const open = value(await log.readJob(jobId))
    expect(open.job).toEqual({
      id: '0195561a-3c00-7a10-8b6e-3f2d1c0b9a81',
      name: 'Glaze bench',
      place: 'Fernhollow Pottery Studio, back room',
      notes: 'The box behind the sink has two spare conductors.',
      state: 'done',
      createdAt: '2026-03-02T08:00:00.000Z',
      touchedAt: '2026-03-02T10:30:00.000Z',
    })
    expect(open.thread.map(({ said }) => said)).toEqual(['what gauge for forty feet at 24 V, sixty watts'])
    expect(open.thread[0]?.version).toEqual({ calculators: '0.1.0', tables: '0.1.0' })
    expect(open.known.map(({ field, where, current }) => [field, where, current?.value])).toEqual([
      ['voltage', null, '24 V'],
      ['feeds', 'glaze bench', [{ at: '0 ft' }, { at: '20 ft' }]],
    ])
    expect(open.known[0]?.history.map(({ withdrawnAt }) => withdrawnAt)).toEqual([
      '2026-03-02T09:10:00.000Z',
      null,
    ])
  })

  it('is the same after it went through another log, and changes nothing where it is known', async () => {
    const { jobId } = value(await log.importJob(fixture('job-v1.json')))
    const text = portableText(value(await log.exportJob(jobId)))
    const other = value(await openJobLog({ file: join(folder, 'other.sqlite') }))
    expect(value(await other.importJob(JSON.parse(text))).added).toBe(8)
    expect(value(await other.importJob(JSON.parse(text))).added).toBe(0)
    expect(portableText(value(await other.exportJob(jobId)))).toBe(text)
    expect(await other.readJob(jobId)).toEqual(await log.readJob(jobId))
    await other.close()
  })

  it('adds what a log does not have yet, and takes nothing where an id is taken', async () => {
    const begun = job()
    value(await log.createJob(begun))
    const file = value(await log.exportJob(begun.id))
    const asked = entry(begun.id)
    const more = { ...file, entries: [asked] }
    expect(await log.importJob(more)).toEqual({ ok: true, value: { jobId: begun.id, added: 1 } })
    const clash = { ...file, entries: [{ ...asked, said: 'other' }, entry(begun.id)] }
    expect(await log.importJob(clash)).toMatchObject({ ok: false, reason: 'conflict', kind: 'entry' })
    expect(value(await log.readJob(begun.id)).thread).toEqual([asked])
  })

  it('of a newer version, of something else, or with another job’s records is refused by name', async () => {
    const file = fixture('job-v1.json')
    expect(await log.importJob({ ...file, version: 2 })).toMatchObject({ reason: 'too-new', newest: 1 })
    expect(await log.importJob({ ...file, format: 'other' })).toMatchObject({
      reason: 'invalid',
      faults: [{ path: 'format' }],
    })
    expect(await log.importJob({ ...file, extra: true })).toMatchObject({ reason: 'invalid' })
    expect(await log.importJob({ ...file, entries: [entry(newId())] })).toMatchObject({
      reason: 'invalid',
      faults: [{ path: 'entries.0.jobId' }],
    })
  })

  it('has a description in JSON Schema', () => {
    const { properties } = z.toJSONSchema(portableSchema, { io: 'input', unrepresentable: 'any' })
    expect(Object.keys(properties ?? {})).toEqual(Object.keys(fixture('job-v1.json')))
  })
})
