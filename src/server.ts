import { serve } from '@hono/node-server'
import { serveStatic } from '@hono/node-server/serve-static'
import { Hono } from 'hono'
import { createApp } from './app/app'
import { jobLogFile } from './jobs/log/sqlite-file'
import { openJobLog } from './jobs/log/sqlite-job-log'

const port = Number(process.env.PORT ?? 3150)
const hostname = process.env.HOST ?? '127.0.0.1'

const log = await openJobLog({ file: jobLogFile(process.env) })
if (!log.ok) {
  console.error(log.message)
  process.exit(1)
}

const home = new Hono()
home.get('/page.js', serveStatic({ path: './dist/browser/page.js' }))
home.route('/', createApp({ log: log.value }))

serve({ fetch: home.fetch, port, hostname }, (info) => {
  console.info(
    `Ladderside is ready on http://${hostname.includes(':') ? `[${hostname}]` : hostname}:${info.port}`,
  )
})
