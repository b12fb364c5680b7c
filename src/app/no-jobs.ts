import { Hono } from 'hono'
import { jobSay } from '../pages/job-words'
import { problem } from './problem'
import { withoutJobs } from './refused'

/**
 * Stands in the place of all jobs where there is no log to keep them in: it is not that there is nothing.
 *
 * @param why in a sentence; that this home keeps none, where it is not said
 */
export function noJobs(why: string = jobSay('noLog')): Hono {
  const routes = new Hono()
  for (const path of ['/api/jobs', '/api/jobs/*']) routes.all(path, (context) => problem(context, 503, why))
  for (const path of ['/jobs', '/jobs/*']) routes.all(path, (context) => withoutJobs(context, why, 503))
  return routes
}
