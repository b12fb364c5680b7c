import { JobFrame } from '../pages/job-frame'
import { shareSay } from '../pages/job-share-words'
import type { Home } from './home'
import { problem } from './problem'
import { ofJob, refusedPage } from './refused'

/** What a home without links says wherever another has them. */
export const noSharing: NonNullable<Home['sharing']> = (app, log) => {
  const page = ofJob(
    log,
    refusedPage,
  )((context, { job }) =>
    context.html(
      <JobFrame job={job} tab="share">
        <p>{shareSay('noShares')}</p>
      </JobFrame>,
    ),
  )
  for (const path of ['share', 'shares', 'shares/:share/revoke']) {
    app.on(['GET', 'POST'], `/jobs/:id/${path}`, page)
    app.all(`/api/jobs/:id/${path}`, (context) => problem(context, 501, shareSay('noShares')))
  }
}
