import { Hono, type MiddlewareHandler } from 'hono'
import { bodyLimit } from 'hono/body-limit'
import { etag } from 'hono/etag'
import { HTTPException } from 'hono/http-exception'
import { secureHeaders } from 'hono/secure-headers'
import icon from '../pages/icon.svg?raw'
import style from '../pages/style.css?raw'
import { questions } from '../questions/registry'
import { askApi } from './ask-api'
import { compareApi, comparePages } from './compare'
import { conversationPages } from './conversation-pages'
import type { Home } from './home'
import { jobPages } from './job-pages'
import { jobSheets } from './job-sheets'
import { jobsApi } from './jobs-api'
import { manifest } from './manifest'
import { noJobs } from './no-jobs'
import { noSharing } from './no-sharing'
import { problem } from './problem'
import { questionPages } from './question-pages'
import { questionsApi } from './questions-api'
import { readableForm } from './readable-form'
import { keptToItself } from './shared-sheet'
import { syncApi } from './sync-api'
import { version } from './version'

const self = ["'self'"]
const none = ["'none'"]

const mostBytes = 64 * 1024
const limitStream = bodyLimit({
  maxSize: mostBytes,
  onError: (context) => problem(context, 413, 'The body is over 64 kB.'),
})

/** A job's file holds a whole thread with its answers, and what a phone sends may be as much. */
const limitFile = bodyLimit({
  maxSize: 16 * 1024 * 1024,
  onError: (context) => problem(context, 413, 'The file is over 16 MB.'),
})
const fileRoutes = new Set(['/jobs/import', '/api/jobs/import', '/api/jobs/writes'])

/**
 * Refuses a body over 64 kB. A length that is told is enough to go by, since the listener reads no further; only a
 * body without one has to be counted, which costs more than most answers.
 */
const limitBody: MiddlewareHandler = (context, next) => {
  if (fileRoutes.has(context.req.path)) return limitFile(context, next)
  const told = context.req.header('content-length')
  const streams = context.req.header('transfer-encoding') !== undefined
  const small = told === undefined ? context.req.method === 'GET' : Number(told) <= mostBytes
  return small && !streams ? next() : limitStream(context, next)
}

/**
 * The whole product as one app on web-standard requests; the server and the phone run the same one.
 *
 * @param home what the home that runs it can do; without any of it questions and conversation work all the same
 */
export function createApp(home: Home = {}): Hono {
  const app = new Hono()
  app.use('/s/*', keptToItself)
  app.use(
    secureHeaders({
      contentSecurityPolicy: {
        defaultSrc: none,
        scriptSrc: self,
        styleSrc: self,
        imgSrc: self,
        connectSrc: self,
        manifestSrc: self,
        workerSrc: self,
        formAction: self,
        baseUri: none,
        frameAncestors: none,
      },
      // With no-referrer a browser would say "null" as the origin of our own forms, and they would be refused.
      referrerPolicy: 'same-origin',
    }),
  )
  home.doors?.(app)
  app.use(limitBody, readableForm)

  home.described?.(app, home.log !== undefined)
  app.route('/api/questions', questionsApi)
  app.route('/api/ask', askApi(home))
  app.route('/api/compare', compareApi)
  app.get('/healthz', async (context) => {
    const reasons = (await home.health?.()) ?? []
    const known = { version, questions: questions.length }
    return reasons.length === 0
      ? context.json({ status: 'ok', ...known })
      : context.json({ status: 'failing', reasons, ...known }, 503)
  })
  app.get('/style.css', etag(), (context) =>
    context.body(style, 200, { 'content-type': 'text/css; charset=utf-8' }),
  )
  app.get('/icon.svg', etag(), (context) =>
    context.body(icon, 200, { 'content-type': 'image/svg+xml; charset=utf-8' }),
  )
  app.get('/manifest.webmanifest', etag(), (context) =>
    context.json(manifest, 200, { 'content-type': 'application/manifest+json' }),
  )
  app.route('/q', questionPages(home))
  app.route('/compare', comparePages(home))
  if (home.log) {
    for (const base of ['/jobs', '/api/jobs'] as const) app.route(base, jobSheets(home, home.log, base))
    app.route('/jobs', jobPages(home.log))
    app.route('/api/jobs', syncApi(home.log))
    app.route('/api/jobs', jobsApi(home.log))
    const sharing = home.sharing ?? noSharing
    sharing(app, home.log, home)
  } else {
    app.route('/', noJobs(home.noLog))
  }
  app.route('/', conversationPages)

  app.notFound((context) => problem(context, 404, 'There is nothing here.'))
  app.onError((error, context) => {
    if (error instanceof HTTPException && error.status < 500)
      return problem(context, error.status, 'The request cannot be used.')
    const report = home.report ?? console.error
    report(error)
    return problem(context, 500, 'Something went wrong on our side. Nothing was lost; try once more.')
  })
  return app
}
