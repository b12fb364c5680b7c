import { rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { createApp } from '../../src/app/app'
import { openDeviceBook } from '../../src/doors/device-book'
import { healthOf, type Vitals } from '../../src/doors/health'
import { openJobLog } from '../../src/jobs/log/sqlite-job-log'
import { temporaryFolder } from '../jobs/log/built'

const folder = temporaryFolder()
let count = 0

async function vitals(): Promise<Vitals> {
  count += 1
  const place = join(folder, String(count))
  const log = await openJobLog({ file: join(place, 'jobs.sqlite') })
  return { log, book: openDeviceBook(place), folder: place, isStopping: () => false }
}

/** What `/healthz` says, asked anew each time. */
const told = async (well: Vitals) => {
  const answer = await createApp({ health: healthOf(well) }).request('/healthz')
  const { status, reasons } = (await answer.json()) as { status: string; reasons?: string[] }
  return [answer.status, status, ...(reasons ?? [])]
}

describe('the health', () => {
  it('is well where all works, and leaves nothing behind', async () => {
    const well = await vitals()
    expect(await told(well)).toEqual([200, 'ok'])
    const { readdirSync } = await import('node:fs')
    expect(readdirSync(well.folder).filter((name) => name.startsWith('health'))).toEqual([])
  })

  it('says that the log is closed', async () => {
    const well = await vitals()
    if (well.log.ok) await well.log.value.close()
    expect(await told(well)).toEqual([503, 'failing', 'log-closed'])
  })

  it('says that the log was damaged when it was opened', async () => {
    const well = await vitals()
    const file = join(well.folder, 'broken.sqlite')
    writeFileSync(file, 'not a log')
    expect(await told({ ...well, log: await openJobLog({ file }) })).toEqual([503, 'failing', 'log-corrupt'])
  })

  it('says that the list of devices cannot be read', async () => {
    const well = await vitals()
    well.book?.close()
    expect(await told(well)).toEqual([503, 'failing', 'devices-unreadable'])
  })

  it('says that the disk cannot be written', async () => {
    const well = await vitals()
    rmSync(well.folder, { recursive: true })
    expect(await told(well)).toContain('disk-enoent')
  })

  it('says that the server is about to stop', async () => {
    const well = await vitals()
    expect(await told({ ...well, isStopping: () => true })).toEqual([503, 'failing', 'stopping'])
  })

  it('does not write the disk for each one who asks', async () => {
    const well = await vitals()
    let now = 0
    const health = healthOf(well, () => now)
    expect(await health()).toEqual([])
    rmSync(well.folder, { recursive: true })
    now = 5000
    expect(await health()).toEqual([])
    now = 5001
    expect(await health()).toContain('disk-enoent')
  })
})
