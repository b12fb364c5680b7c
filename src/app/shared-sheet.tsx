import { type Context, Hono, type MiddlewareHandler } from 'hono'
import type { JobLog } from '../jobs/log/job-log'
import type { ShareStore } from '../jobs/share/share'
import type { JobSheet } from '../jobs/sheet/sheet'
import { ShareGone } from '../pages/job-share'
import { JobSheetPage } from '../pages/job-sheet'
import type { Home } from './home'
import { paperOf, papersOf, sheetAsPdf, sheetOf } from './job-sheets'
import { refusedPage } from './refused'

/**
 * What goes with every answer below `/s/`. The address is the key: it goes to no other page, into no index and into
 * nobody's cache. To stand before the middleware that sets the headers of all pages, so that these come last.
 */
export const keptToItself: MiddlewareHandler = async (context, next) => {
  await next()
  context.header('referrer-policy', 'no-referrer')
  context.header('x-robots-tag', 'noindex')
  context.header('cache-control', 'private, no-store')
}

/**
 * `GET /s/:token`, and `/s/:token/sheet.pdf` where this home can make one: the sheet of the job that a link opens, as it
 * stands now, and nothing else of the job. A link that opens nothing is answered alike, whyever it does.
 */
export function sharedSheet(home: Home, log: JobLog, shares: ShareStore): Hono {
  const pages = new Hono()

  const withSheet =
    (work: (context: Context, sheet: JobSheet) => Response | Promise<Response>) =>
    async (context: Context): Promise<Response> => {
      const share = await shares.open(context.req.param('token') ?? '')
      if (!share.ok) return refusedPage(context, share)
      if (share.value === null) return context.html(<ShareGone />, 404)
      const open = await log.readJob(share.value.jobId)
      return open.ok ? work(context, sheetOf(open.value)) : refusedPage(context, open)
    }

  pages.get(
    '/:token',
    withSheet((context, sheet) => {
      const { path } = context.req
      const links = papersOf(context, home, path, `${path}/sheet.pdf`)
      return context.html(<JobSheetPage sheet={sheet} paper={paperOf(context, sheet)} links={links} />)
    }),
  )
  pages.get(
    '/:token/sheet.pdf',
    withSheet((context, sheet) => sheetAsPdf(context, home, sheet)),
  )

  return pages
}
