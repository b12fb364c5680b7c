import { type Context, Hono } from 'hono'
import * as z from 'zod/mini'
import type { JobLog } from '../jobs/log/job-log'
import type { ShareStore } from '../jobs/share/share'
import { proposedHours, validHours } from '../pages/job-share'
import { shareSay } from '../pages/job-share-words'
import type { Home } from './home'
import { readBody } from './jobs-api'
import { problem } from './problem'
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
export function sharesApi(log: JobLog, home: Home): Hono {
  const api = new Hono()
  const { shares } = home
  const withJob = ofJob(log, refusedProblem)

  /** A route of one job, where this home has links. */
  const withShares =
    (work: (context: Context, jobId: string, shares: ShareStore) => Promise<Response>) =>
    (context: Context): Response | Promise<Response> =>
      shares
        ? withJob((_, { job }) => work(context, job.id, shares))(context)
        : problem(context, 501, shareSay('noShares'))

  api.get(
    '/:id/shares',
    withShares(async (context, jobId, store) => {
      const listed = await store.list(jobId)
      return listed.ok ? context.json(listed.value) : refusedProblem(context, listed)
    }),
  )

  api.post(
    '/:id/shares',
    withShares(async (context, jobId, store) => {
      const read = await readBody(context, shareBody)
      if (read instanceof Response) return read
      const made = await share(store, jobId, read.body, originOf(home, context.req.url))
      context.header('cache-control', 'private, no-store')
      return made.ok ? context.json(made.value, 201) : refusedProblem(context, made)
    }),
  )

  api.post(
    '/:id/shares/:share/revoke',
    withShares(async (context, jobId, store) => {
      const taken = await takeBack(store, jobId, context.req.param('share') ?? '')
      return taken.ok ? context.json(taken.value) : refusedProblem(context, taken)
    }),
  )

  return api
}
