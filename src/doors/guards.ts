import type { Context, MiddlewareHandler } from 'hono'
import { problem } from '../app/problem'
import { isAddress, isLoopback } from './addresses'
import type { Settings } from './settings'
import { say } from './words'

/**
 * Answers only to its own names. A page of somebody else's whose name was pointed at this machine after it was loaded
 * asks with that name, and gets nothing (DNS rebinding). Once locked, an address will do as well: no name server can
 * point one elsewhere.
 */
export const ownHostOnly =
  ({ locked, name }: Settings): MiddlewareHandler =>
  async (context, next) => {
    const { hostname } = new URL(context.req.url)
    const isOurs = isLoopback(hostname) || hostname === name || (locked && isAddress(hostname))
    return isOurs ? next() : problem(context, 421, say('refused.host'))
  }

const changesNothing = new Set(['GET', 'HEAD', 'OPTIONS'])

/** What a page elsewhere can send without asking first (Fetch, "CORS-safelisted request-header"). */
const isSentUnasked = (type: string): boolean =>
  type === '' || /^\s*(application\/x-www-form-urlencoded|multipart\/form-data|text\/plain)\b/i.test(type)

/**
 * Lets a change come from our own pages alone, and from programs, which say neither where they come from nor send what
 * a form would. hono's csrf() looks at forms only and leaves the rest to what a browser asks first; this looks at all.
 */
export const ownSiteOnly: MiddlewareHandler = async (context, next) => {
  if (changesNothing.has(context.req.method)) return next()
  const site = context.req.header('sec-fetch-site')
  const origin = context.req.header('origin')
  return isOurs(context, site, origin) ? next() : problem(context, 403, say('refused.otherSite'))
}

/** No page can write either header; of the two the first says more, and comes by HTTPS and on this machine only. */
function isOurs({ req }: Context, site: string | undefined, origin: string | undefined): boolean {
  if (site !== undefined) return site === 'same-origin'
  if (origin !== undefined) return origin === new URL(req.url).origin
  return !isSentUnasked(req.header('content-type') ?? '')
}
