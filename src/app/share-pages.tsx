import { type Context, Hono } from 'hono'
import { csrf } from 'hono/csrf'
import type { JobLog } from '../jobs/log/job-log'
import type { OpenJob } from '../jobs/log/job-view'
import type { ShareStore } from '../jobs/share/share'
import { type FreshShare, JobShare, validHours } from '../pages/job-share'
import { shareSay } from '../pages/job-share-words'
import type { Home } from './home'
import { ofJob, refusedPage } from './refused'
import { originOf, share, takeBack } from './share-deeds'

/** `/jobs/:id/share` and what it does: the links by which a job's sheet may be read. */
export function sharePages(log: JobLog, shares: ShareStore, home: Home): Hono {
  const pages = new Hono()
  pages.use(csrf())

  const withJob = ofJob(log, refusedPage)

  /** The page with all links as they stand now; it may hold the only copy of one, so nobody keeps it. */
  const show = async (
    context: Context,
    open: OpenJob,
    more: { fresh?: FreshShare; notice?: string } = {},
    status: 200 | 201 | 422 = 200,
  ): Promise<Response> => {
    const listed = await shares.list(open.job.id)
    if (!listed.ok) return refusedPage(context, listed)
    const at = new Date().toISOString()
    context.header('cache-control', 'private, no-store')
    return context.html(<JobShare open={open} shares={listed.value} at={at} {...more} />, status)
  }

  pages.get(
    '/:id/share',
    withJob((context, open) => show(context, open)),
  )
  pages.get('/:id/shares', (context) =>
    context.redirect(`/jobs/${encodeURIComponent(context.req.param('id'))}/share`, 303),
  )

  pages.post(
    '/:id/shares',
    withJob(async (context, open) => {
      const form = await context.req.parseBody()
      const hours = validHours.find((each) => String(each) === form.hours)
      if (hours === undefined) return show(context, open, { notice: shareSay('notChoice') }, 422)
      const id = typeof form.id === 'string' && form.id !== '' ? form.id : undefined
      const made = await share(shares, open.job.id, { id, hours }, originOf(home, context.req.url))
      if (made.ok) return show(context, open, { fresh: made.value }, 201)
      const repeated = made.reason === 'conflict' && made.kind === 'share'
      return repeated ? show(context, open, { notice: shareSay('already') }) : refusedPage(context, made)
    }),
  )

  pages.post(
    '/:id/shares/:share/revoke',
    withJob(async (context, open) => {
      const taken = await takeBack(shares, open.job.id, context.req.param('share') ?? '')
      return taken.ok ? context.redirect(`/jobs/${open.job.id}/share`, 303) : refusedPage(context, taken)
    }),
  )

  return pages
}
