import type { Hono } from 'hono'
import type { JobLog } from '../jobs/log/job-log'
import type { JobSheet, Paper } from '../jobs/sheet/sheet'

/** What one home can do beyond plain web standards; each part that is missing is said to be missing, not hidden. */
export type Home = {
  /** Where jobs are kept. */
  log?: JobLog
  /** Why no jobs are kept, where there is no log. */
  noLog?: string
  /** Makes the PDF of a job's sheet. */
  sheetPdf?: (sheet: JobSheet, paper: Paper) => Promise<Uint8Array>
  /** Adds the links by which a job's sheet may be read from elsewhere. */
  sharing?: (app: Hono, log: JobLog, home: Home) => void
  /** The address by which others reach this home, where it was asked by `asked` (an origin). */
  publicAddress?: (asked: string) => string
  /** Adds the routes that describe the API to programs, with those of jobs where the home keeps them. */
  described?: (app: Hono, keepsJobs: boolean) => void
  /** Codes of what does not work now, for whoever watches the home; none where all is well. */
  health?: () => Promise<readonly string[]>
  /** Where a fault of ours is told; the console where it is not said. */
  report?: (fault: unknown) => void
  /** Sets what stands before every route: who is let in, what is counted. */
  doors?: (app: Hono) => void
}
