import { serve } from '@hono/node-server'
import { serveStatic } from '@hono/node-server/serve-static'
import { Hono } from 'hono'
import { createApp } from './app/app'

const port = Number(process.env.PORT ?? 3150)
const hostname = process.env.HOST ?? '127.0.0.1'

const home = new Hono()
home.get('/page.js', serveStatic({ path: './dist/browser/page.js' }))
home.route('/', createApp())

serve({ fetch: home.fetch, port, hostname }, (info) => {
  console.info(
    `Ladderside is ready on http://${hostname.includes(':') ? `[${hostname}]` : hostname}:${info.port}`,
  )
})
