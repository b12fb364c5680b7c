import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { sharing } from '../../src/app/sharing'
import { openJobLog } from '../../src/jobs/log/sqlite-job-log'
import { openShares } from '../../src/jobs/share/sqlite-shares'
import { temporaryFolder } from '../jobs/log/built'
import { job, value } from '../jobs/log/samples'
import { form, type Standing, standing } from './standing'

const folder = temporaryFolder()
let server: Standing
let jobId = ''
let token = ''
const close: (() => Promise<void>)[] = []

beforeAll(async () => {
  const file = join(folder, 'jobs.sqlite')
  const log = value(await openJobLog({ file }))
  const shares = value(await openShares({ file }))
  close.push(
    () => shares.close(),
    () => log.close(),
  )
  jobId = value(await log.createJob(job())).id
  token = value(await shares.create(jobId, { expiresAt: '2099-01-01T00:00:00.000Z' })).token
  server = standing(folder, {}, { log, sharing: sharing(shares) })
})

afterAll(async () => {
  for (const each of close) await each()
})

describe('a link to a sheet, behind locked doors', () => {
  it('opens on a phone that was never paired, with all that its page is made of', async () => {
    const sheet = await server.ask(`/s/${token}`)
    expect(sheet.status).toBe(200)
    const page = await sheet.text()
    const needed = [...page.matchAll(/(?:src|href)="(\/[^"]*)"/g)].map(([, path]) => path ?? '')
    expect(needed.length).toBeGreaterThan(1)
    for (const path of needed) expect((await server.ask(path)).status, path).toBe(200)
  })

  it('opens nothing else: not the job, not its links, not another one', async () => {
    for (const path of [
      `/jobs/${jobId}`,
      `/jobs/${jobId}/sheet`,
      `/jobs/${jobId}/share`,
      `/api/jobs/${jobId}/shares`,
    ]) {
      expect((await server.ask(path)).status, path).toBe(401)
    }
    const made = await server.ask(`/jobs/${jobId}/shares`, form({ hours: '24' }))
    expect(made.headers.get('location')).toBe('/pair')
    expect((await server.ask(`/s/${token}/../../jobs/${jobId}`)).status).toBe(401)
  })

  it('stands in no line of the log', () => {
    expect(server.lines.some((line) => line.includes('/s/:token'))).toBe(true)
    for (const line of server.lines) expect(line).not.toContain(token)
  })
})
