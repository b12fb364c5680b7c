import type { JobLog } from '../jobs/log/job-log'

/** What one home can do beyond plain web standards; each part that is missing is said to be missing, not hidden. */
export type Home = {
  /** Where jobs are kept. */
  log?: JobLog
}
