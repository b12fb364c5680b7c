import type { Hono } from 'hono'
import { etag } from 'hono/etag'
import { questions } from '../questions/registry'
import { catalogueEntry } from './catalogue'
import { openapi } from './openapi'
import { version } from './version'

const catalogue = questions.map(catalogueEntry)

/** Adds what programs ask of the API itself: `GET /openapi.json`, and `GET /api/questions` with JSON Schemas. */
export function described(app: Hono, keepsJobs: boolean): void {
  app.get('/openapi.json', etag(), (context) => context.json(openapi(questions, version, keepsJobs)))
  app.get('/api/questions', (context) => context.json(catalogue))
}
