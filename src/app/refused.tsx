import type { Context } from 'hono'
import type { ContentfulStatusCode } from 'hono/utils/http-status'
import type { Refused } from '../jobs/log/refusal'
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
}

/** Why the log did not do it, as the API says it. */
export function refusedProblem(context: Context, refused: Refused): Response {
  const errors =
    refused.reason === 'invalid'
      ? refused.faults.map(({ path, message }) => ({ field: path, message }))
      : undefined
  return problem(context, statuses[refused.reason], titleOf(refused), errors)
}

/** The same as a page. */
export const refusedPage = (context: Context, refused: Refused): Response | Promise<Response> =>
  context.html(
    <Layout title={jobSay('jobs')}>
      <h1>{jobSay('jobs')}</h1>
      <p class="reply" role="alert">
        {titleOf(refused)}
      </p>
      <p>
        <a class="plain" href="/jobs">
          {jobSay('jobs')}
        </a>
      </p>
    </Layout>,
    statuses[refused.reason],
  )

/** An id that cannot be one is as unknown as one that is not there. */
const titleOf = (refused: Refused): string =>
  refused.reason === 'not-found' && refused.kind === 'job' ? jobSay('noJob') : refused.message
