import { Hono } from 'hono'
import { problem } from '../app/problem'
import { attempt } from '../jobs/log/sqlite-refusal'
import { DevicesPage } from './devices-page'
import type { Let } from './lock'
import type { Pairing } from './pairing'
import { say } from './words'

/**
 * `GET /devices`: who is let in. `POST /devices/:id/revoke`: shuts one out, at once and for good. Its cookie stays where
 * it is, also where a device shuts itself out: it opens nothing, and by it the device is told that it was shut out.
 */
export function devices({ book, log }: Pairing): Hono<Let> {
  const routes = new Hono<Let>()

  routes.get('/', (context) =>
    context.html(<DevicesPage devices={book.list(new Date())} own={context.var.device.id} />),
  )

  routes.post('/:id/revoke', (context) => {
    const id = context.req.param('id')
    const revoked = attempt('', () => book.revoke(id))
    if (!revoked.ok) return problem(context, 503, say('refused.unavailable'))
    if (!revoked.value) return problem(context, 404, say('refused.gone'))
    log.info({ event: 'revoked', device: id })
    return context.redirect('/devices', 303)
  })
  return routes
}
