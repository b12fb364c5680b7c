import type { Context } from 'hono'
import type { ContentfulStatusCode } from 'hono/utils/http-status'
import type { JobLog } from '../jobs/log/job-log'
import type { OpenJob } from '../jobs/log/job-view'
import { type Outcome, type Refused, refused } from '../jobs/log/refusal'
import { jobSay } from '../pages/job-words'
import { Layout } from '../pages/layout'
import { problem } from './problem'

const statuses: Record<Refused['reason'], ContentfulStatusCode> = {
  invalid: 422,
  'not-found': 404,
  conflict: 409,
  'too-new': 422,
  busy: 503,
  closed: 503,
  'read-only': 503,
  'disk-full': 507,
  'disk-failed': 503,
  corrupt: 503,
  exists: 409,
  'no-log': 404,
  'shut-out': 403,
}

/** Why the log did not do it, as the API says it. */
export function refusedProblem(context: Context, why: Refused): Response {
  const errors =
    why.reason === 'invalid' ? why.faults.map(({ path, message }) => ({ field: path, message })) : undefined
  return problem(context, statuses[why.reason], titleOf(why), errors)
}

/** The same as a page. */
export const refusedPage = (context: Context, why: Refused): Response | Promise<Response> =>
  withoutJobs(context, titleOf(why), statuses[why.reason])

/** A page that says why there is nothing of a job to be seen. */
export const withoutJobs = (
  context: Context,
  why: string,
  status: ContentfulStatusCode,
): Response | Promise<Response> =>
  context.html(
    <Layout title={jobSay('jobs')}>
      <h1>{jobSay('jobs')}</h1>
      <p class="reply" role="alert">
        {why}
      </p>
      <p>
        <a class="plain" href="/jobs">
          {jobSay('jobs')}
        </a>
      </p>
    </Layout>,
    status,
  )

/** An id that cannot be one is as unknown as one that is not there. */
const titleOf = (why: Refused): string =>
  why.reason === 'not-found' && why.kind === 'job' ? jobSay('noJob') : why.message

/**
 * Routes of one job: each gets the job as it stands, or says by `refuse` why it cannot be had.
 *
 * @example routes.get('/:id', ofJob(log, refusedPage)((context, open) => context.text(open.job.name)))
 */
export const ofJob =
  (log: JobLog, refuse: (context: Context, why: Refused) => Response | Promise<Response>) =>
  (work: (context: Context, open: OpenJob) => Response | Promise<Response>) =>
  async (context: Context): Promise<Response> => {
    const open = await openJob(log, context.req.param('id') ?? '')
    return open.ok ? work(context, open.value) : refuse(context, open)
  }

/** One job, where an id that cannot be one is as unknown as one that is not there. */
export async function openJob(log: JobLog, id: string): Promise<Outcome<OpenJob>> {
  const open = await log.readJob(id)
  return !open.ok && open.reason === 'invalid' ? refused({ reason: 'not-found', kind: 'job', id }) : open
}
