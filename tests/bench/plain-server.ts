import { serve } from '@hono/node-server'
import { createApp } from '../../src/app/app'

/** The same app on the same listener without any doors: what they cost is the difference. */
serve({ fetch: createApp().fetch, port: Number(process.env.PORT), hostname: '127.0.0.1' }, () =>
  console.info('ready'),
)
