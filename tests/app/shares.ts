import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll } from 'vitest'
import { sharing } from '../../src/app/sharing'
import { openShares } from '../../src/jobs/share/sqlite-shares'
import { appWithJobs } from './jobs'

/** The app over a log and its links, with a clock of the links that may be set forward and back. */
export async function appWithShares() {
  let aheadMs = 0
  const clock = {
    add: (ms: number) => {
      aheadMs += ms
    },
  }
  const folder = mkdtempSync(join(tmpdir(), 'ladderside-shares-'))
  afterAll(() => rmSync(folder, { recursive: true, force: true }))
  const file = join(folder, 'jobs.sqlite')
  const opened = await openShares({ file }, () => new Date(Date.now() + aheadMs))
  if (!opened.ok) throw new Error(opened.message)
  afterAll(() => opened.value.close())
  return { ...(await appWithJobs({ sharing: sharing(opened.value) }, file)), shares: opened.value, clock }
}
