import type { Context, MiddlewareHandler } from 'hono'
import { problem } from '../app/problem'
import { shutOutReason } from '../jobs/sync/protocol'
import { isFromHere } from './client'
import type { Device, DeviceBook } from './device-book'
import type { DeviceCookie } from './device-cookie'
import { say } from './words'

/** What anybody may have, each with the reason; a path that ends in "/" stands for all below it. */
const open: readonly string[] = [
  '/healthz', // whoever watches the server has no device
  '/pair', // how one gets in
  '/style.css', // what the pairing page is dressed in
  '/icon.svg',
  '/manifest.webmanifest', // a browser asks for it and for its icons without cookies
  '/icons/',
  '/s/', // sheets that somebody shared by a link of their own
]

const isOpen = (path: string): boolean =>
  open.some((each) => (each.endsWith('/') ? path.startsWith(each) : path === each))

/** Whether a person looks at what comes back, so that a page has to come. */
const wantsPage = ({ req }: Context): boolean =>
  !req.path.startsWith('/api/') && (req.header('accept') ?? '').includes('text/html')

/** What a request carries once it has passed the lock. */
export type Let = { Variables: { device: Device } }

/**
 * Lets paired devices in, and everybody to what is open. What a paired device is shown is not kept by a browser or a
 * proxy, unless the route says that it may.
 */
export const pairedOnly =
  (book: DeviceBook, cookie: DeviceCookie): MiddlewareHandler<Let> =>
  async (context, next) => {
    const { path } = context.req
    if (isOpen(path) || (path === '/metrics' && isFromHere(context))) return next()
    const token = await cookie.read(context)
    const device = token === undefined ? undefined : book.deviceOf(token, new Date())
    if (!device) {
      if (wantsPage(context)) return context.redirect('/pair', 303)
      return token !== undefined && book.isShutOut(token)
        ? problem(context, 401, say('refused.shutOut'), undefined, shutOutReason)
        : problem(context, 401, say('refused.unpaired'))
    }
    context.set('device', device)
    await next()
    if (!context.res.headers.has('cache-control')) context.header('cache-control', 'no-store')
  }
