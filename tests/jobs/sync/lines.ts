import { createApp } from '../../../src/app/app'
import type { JobLog } from '../../../src/jobs/log/job-log'
import type { AskServer } from '../../../src/jobs/sync/send'

/** The server over a perfect line. */
export const lineTo =
  (log: JobLog): AskServer =>
  async (path, body) =>
    createApp({ log }).request(path, requestOf(body))

const requestOf = (body: unknown): RequestInit =>
  body === undefined
    ? {}
    : { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }
