import { Hono } from 'hono'
import * as z from 'zod/mini'
import type { JobLog } from '../jobs/log/job-log'
import type { ShareStore } from '../jobs/share/share'
import { proposedHours, validHours } from '../pages/job-share'
import type { Home } from './home'
import { readBody } from './jobs-api'
import { ofJob, refusedProblem } from './refused'
import { originOf, share, takeBack } from './share-deeds'

/** The body that makes a link. */
export const shareBody = z.strictObject({
  id: z
    .optional(z.uuidv7())
    .check(z.describe('made by the client, so that a repeated request makes no second link')),
  hours: z._default(z.literal([...validHours]), proposedHours).check(z.describe('how long it opens')),
})

/** `/api/jobs/:id/shares`: the twins of the pages of links. */
export function sharesApi(log: JobLog, shares: ShareStore, home: Home): Hono {
  const api = new Hono()
  const withJob = ofJob(log, refusedProblem)

  api.get(
    '/:id/shares',
    withJob(async (context, { job }) => {
      const listed = await shares.list(job.id)
      return listed.ok ? context.json(listed.value) : refusedProblem(context, listed)
    }),
  )

  api.post(
    '/:id/shares',
    withJob(async (context, { job }) => {
      const read = await readBody(context, shareBody)
      if (read instanceof Response) return read
      const made = await share(shares, job.id, read.body, originOf(home, context.req.url))
      context.header('cache-control', 'private, no-store')
      return made.ok ? context.json(made.value, 201) : refusedProblem(context, made)
    }),
  )

  api.post(
    '/:id/shares/:share/revoke',
    withJob(async (context, { job }) => {
      const taken = await takeBack(shares, job.id, context.req.param('share') ?? '')
      return taken.ok ? context.json(taken.value) : refusedProblem(context, taken)
    }),
  )

  return api
}
