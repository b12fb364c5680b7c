import { serve } from '@hono/node-server'
import { Hono } from 'hono'
import * as z from 'zod/mini'

/** The baseline: a bare route that checks the same body with zod and sends it back. */
const body = z.strictObject({
  distance: z.string().check(z.maxLength(200)),
  voltage: z.string().check(z.maxLength(200)),
  load: z.string().check(z.maxLength(200)),
})

const app = new Hono()
app.post('/api/questions/feed-gauge', async (context) => {
  const parsed = body.safeParse(await context.req.json())
  return parsed.success ? context.json(parsed.data) : context.json(parsed.error.issues, 422)
})

serve({ fetch: app.fetch, port: Number(process.env.PORT), hostname: '127.0.0.1' }, () =>
  console.info('ready'),
)
