import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll } from 'vitest'
import { createApp } from '../../src/app/app'
import { described } from '../../src/app/described'
import type { Home } from '../../src/app/home'
import type { JobLog } from '../../src/jobs/log/job-log'
import { openJobLog } from '../../src/jobs/log/sqlite-job-log'

/** The app over a job log of its own, which is gone when the test file ends. */
export async function appWithJobs(more: Omit<Home, 'log'> = {}, at?: string) {
  const folder = mkdtempSync(join(tmpdir(), 'ladderside-app-'))
  const opened = await openJobLog({ file: at ?? join(folder, 'jobs.sqlite') })
  if (!opened.ok) throw new Error(opened.message)
  const log: JobLog = opened.value
  afterAll(async () => {
    await log.close()
    rmSync(folder, { recursive: true, force: true })
  })
  const app = createApp({ log, described, ...more })

  /** Sends JSON and reads JSON. */
  const send = async (path: string, body?: unknown, status = 200): Promise<Body> => {
    const response = await app.request(
      path,
      body === undefined
        ? {}
        : { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) },
    )
    const read = (await response.json()) as Body
    if (response.status !== status) throw new Error(`${path} ${response.status}: ${JSON.stringify(read)}`)
    return read
  }
  return { app, log, send }
}

// biome-ignore lint/suspicious/noExplicitAny: a body is whatever the route sends; the test says what it should be
export type Body = any
