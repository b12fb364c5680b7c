import { Hono } from 'hono'
import { csrf } from 'hono/csrf'
import type { WriteInput } from '../jobs/log/job'
import type { JobLog } from '../jobs/log/job-log'
import { sentSchema } from '../jobs/sync/protocol'
import { receive } from '../jobs/sync/receive'
import { problem } from './problem'
import { refusedProblem } from './refused'

/** `POST /api/jobs/writes`: takes in the records that a phone made, each with a receipt. Sent again, nothing changes. */
export function syncApi(log: JobLog): Hono {
  const api = new Hono()
  api.post('/writes', csrf(), async (context) => {
    const body = await context.req.json().catch(() => undefined)
    if (body === undefined) return problem(context, 400, 'The body is not JSON.')
    const sent = sentSchema.safeParse(body)
    if (!sent.success) {
      const errors = sent.error.issues.map(({ path, message }) => ({ field: path.join('.'), message }))
      return problem(context, 422, 'These are not records of jobs.', errors)
    }
    const receipts = await receive(log, sent.data.writes as WriteInput[])
    return receipts.ok ? context.json({ receipts: receipts.value }) : refusedProblem(context, receipts)
  })
  return api
}
