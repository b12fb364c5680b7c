import type { ShareStore } from '../jobs/share/share'
import type { Home } from './home'
import { sharePages } from './share-pages'
import { sharedSheet } from './shared-sheet'
import { sharesApi } from './shares-api'

/** The links by which a job's sheet may be read: their pages, the twins of these in the API, and what they open. */
export const sharing =
  (shares: ShareStore): NonNullable<Home['sharing']> =>
  (app, log, home) => {
    app.route('/jobs', sharePages(log, shares, home))
    app.route('/api/jobs', sharesApi(log, shares, home))
    app.route('/s', sharedSheet(home, log, shares))
  }
