import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { beforeAll, describe, expect, it } from 'vitest'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { built, temporaryFolder } from './built'
import { entry, job, minute, value } from './samples'

const folder = temporaryFolder()
let writer = ''
beforeAll(async () => {
  writer = await built('writer.ts', folder)
})

async function printedBy(file: string, rounds: number): Promise<string[]> {
  const child = spawn(process.execPath, [writer, file, String(rounds)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  let printed = ''
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    printed += text
  })
  await once(child, 'close')
  return printed.trim().split('\n')
}

describe('several processes on one log', () => {
  it('make it together, write at the same time, and lose nothing', async () => {
    const file = join(folder, 'together', 'jobs.sqlite')
    const all = await Promise.all([30, 30, 30].map((rounds) => printedBy(file, rounds)))
    const log = value(await openJobLog({ file }))
    expect(value(await log.listJobs()).jobs).toHaveLength(3)
    for (const printed of all) {
      expect(printed.at(-1)).toBe('done')
      const open = value(await log.readJob(printed[0]?.split(' ')[1] ?? ''))
      expect(open.thread).toHaveLength(30)
      expect(open.changes).toHaveLength(30)
    }
    await log.close()
  })

  it('see what the others wrote, and refuse another thing under its id', async () => {
    const file = join(folder, 'seen', 'jobs.sqlite')
    const [one, other] = [value(await openJobLog({ file })), value(await openJobLog({ file }))]
    const begun = job()
    value(await one.createJob(begun))
    expect(value(await other.readJob(begun.id)).job.name).toBe('Glaze bench')
    const asked = entry(begun.id)
    value(await other.addEntry(asked))
    value(await one.addEntry(asked))
    expect(await one.addEntry({ ...asked, at: minute(9) })).toMatchObject({ reason: 'conflict' })
    await one.close()
    expect(value(await other.readJob(begun.id)).thread).toHaveLength(1)
    await other.close()
  })

  it('are told where another keeps the log for too long, and go on afterwards', async () => {
    const file = join(folder, 'kept', 'jobs.sqlite')
    const log = value(await openJobLog({ file, busyTimeoutMs: 20 }))
    const holder = new Database(file)
    holder.exec('begin immediate')
    const begun = job()
    expect(await log.createJob(begun)).toMatchObject({ ok: false, reason: 'busy' })
    expect(value(await log.listJobs()).jobs).toEqual([])
    holder.exec('rollback')
    value(await log.createJob(begun))
    holder.close()
    await log.close()
  })
})
