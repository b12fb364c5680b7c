import { type Context, Hono } from 'hono'
import { bodyLimit } from 'hono/body-limit'
import { rateLimiter } from 'hono-rate-limiter'
import * as z from 'zod/mini'
import { problem } from '../app/problem'
import { readableForm } from '../app/readable-form'
import { attempt } from '../jobs/log/sqlite-refusal'
import { networkOf } from './addresses'
import { clientOf } from './client'
import { type DeviceBook, longestName } from './device-book'
import type { DeviceCookie } from './device-cookie'
import { PairPage } from './pair-page'
import { codeMinutes, mostTriesByNetwork, mostTriesOverall } from './pairing-code'
import type { Log } from './request-log'
import type { Settings } from './settings'
import { say } from './words'

/** More than a code and a name ever take. */
const mostBytes = 2048

const typedSchema = z.object({
  code: z.catch(z.string().check(z.maxLength(64)), ''),
  name: z.pipe(
    z.catch(
      z.pipe(
        z.string(),
        z.transform((name) => name.replace(/\p{C}/gu, '').trim().slice(0, longestName)),
      ),
      '',
    ),
    z.transform((name) => name || say('pair.unnamed')),
  ),
})

/** What pairing is done with. */
export type Pairing = { book: DeviceBook; cookie: DeviceCookie; settings: Settings; log: Log }

/** `GET /pair`: where a code is typed; with `?code=`, as it comes off the picture, it is filled in. `POST` uses it. */
export function pairing({ book, cookie, settings, log }: Pairing): Hono {
  const routes = new Hono()

  routes.get('/', (context) =>
    context.html(<PairPage code={(context.req.query('code') ?? '').slice(0, 64)} name="" />),
  )

  routes.post(
    '/',
    bodyLimit({ maxSize: mostBytes, onError: (context) => problem(context, 413, say('refused.tooMuch')) }),
    readableForm,
    mostTries(mostTriesByNetwork, (context) => networkOf(clientOf(context, settings.proxied))),
    mostTries(mostTriesOverall, () => 'all'),
    async (context) => {
      if (settings.proxied && !context.req.url.startsWith('https:'))
        return problem(context, 403, say('pair.needsHttps'))
      const { code, name } = typedSchema.parse(await context.req.parseBody())
      const paired = attempt('', () => book.pair(code, name, new Date()))
      if (!paired.ok) return problem(context, 503, say('refused.unavailable'))
      if (!paired.value) {
        log.warn({ event: 'pairing-refused' })
        return context.html(<PairPage code={code} name={name} fault={say('pair.wrong')} />, 422)
      }
      log.info({ event: 'paired', device: paired.value.device.id })
      await cookie.give(context, paired.value.token)
      return context.redirect('/devices', 303)
    },
  )
  return routes
}

/** At most so many refused tries in the time that a code is good; those that succeed do not count. */
const mostTries = (limit: number, keyGenerator: (context: Context) => string) =>
  rateLimiter({
    windowMs: codeMinutes * 60_000,
    limit,
    keyGenerator,
    skipSuccessfulRequests: true,
    standardHeaders: false,
    handler: (context) => {
      context.header('retry-after', String(codeMinutes * 60))
      return context.html(<PairPage code="" name="" fault={say('pair.tooMany')} />, 429)
    },
  })
