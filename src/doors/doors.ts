import type { Hono } from 'hono'
import { isFromHere } from './client'
import { compressed } from './compressed'
import type { DeviceBook } from './device-book'
import { deviceCookie } from './device-cookie'
import { devices } from './devices'
import { ownHostOnly, ownSiteOnly } from './guards'
import { pairedOnly } from './lock'
import type { Metrics } from './metrics'
import { pairing } from './pairing'
import { type Log, requestLog } from './request-log'
import type { Settings } from './settings'

/** What the doors are made of. */
export type Doors = {
  settings: Settings
  log: Log
  metrics: Metrics
  /** Where the doors are locked: who is let in, and what their cookies are signed with. */
  lock?: { book: DeviceBook; secret: string } | undefined
}

/**
 * What stands before every route of the app: what is counted and logged, who is answered, who may change something,
 * and, where the doors are locked, who is let in.
 *
 * @example
 * createApp({ doors: doors({ settings, log, metrics, lock: { book, secret } }) })
 */
export const doors =
  ({ settings, log, metrics, lock }: Doors) =>
  (app: Hono): void => {
    app.use(metrics.count, requestLog(log), compressed, ownHostOnly(settings), ownSiteOnly)
    if (lock) {
      const cookie = deviceCookie(lock.secret, settings.proxied)
      app.use(pairedOnly(lock.book, cookie))
      app.route('/pair', pairing({ book: lock.book, cookie, settings, log }))
      app.route('/devices', devices({ book: lock.book, cookie, settings, log }))
    }
    app.get('/metrics', (context, next) =>
      lock || isFromHere(context) ? metrics.show(context, next) : context.notFound(),
    )
  }
