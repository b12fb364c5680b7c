import { type Context, Hono } from 'hono'
import * as z from 'zod/mini'
import { checkJob } from '../jobs/check/board'
import { newId } from '../jobs/log/identifier'
import { factSchema } from '../jobs/log/job'
import type { JobLog, PageInput } from '../jobs/log/job-log'
import type { OpenJob } from '../jobs/log/job-view'
import { momentAfter } from '../jobs/log/moment'
import { readFact } from '../jobs/memory/fact-book'
import { jobSay } from '../pages/job-words'
import { flattenInputs } from '../questions/common/question'
import { askInJob, forget, openContradictions, readingOf, settle, settlements, tell } from './job-deeds'
import { problem } from './problem'
import { ofJob, refusedProblem } from './refused'
import { longestLine } from './reply'

const id = z
  .optional(z.uuidv7())
  .check(z.describe('made by the client, so that a repeated request is known as one'))
const where = z
  ._default(z.nullable(z.string().check(z.minLength(1), z.maxLength(200))), null)
  .check(z.describe('the part; null: the whole job'))

/** The bodies that a job's API takes. */
export const jobBodies = {
  job: z.strictObject({
    id,
    name: z.string().check(z.minLength(1), z.maxLength(200)),
    place: z._default(z.string().check(z.maxLength(1000)), ''),
    notes: z._default(z.string().check(z.maxLength(50_000)), ''),
  }),
  changes: z.strictObject({
    id,
    name: z.exactOptional(z.string().check(z.minLength(1), z.maxLength(200))),
    place: z.exactOptional(z.string().check(z.maxLength(1000))),
    notes: z.exactOptional(z.string().check(z.maxLength(50_000))),
    state: z.exactOptional(z.enum(['open', 'done', 'archived'])),
  }),
  ask: z.strictObject({ id, where, text: z.string().check(z.minLength(1), z.maxLength(longestLine)) }),
  entries: z.strictObject({
    id,
    where,
    question: z.string().check(z.maxLength(60)),
    inputs: z.record(z.string(), z.unknown()),
  }),
  facts: z.strictObject({
    id,
    where,
    field: z.string().check(z.minLength(1), z.maxLength(100)),
    value: factSchema.shape.value,
  }),
  forget: z.strictObject({ where, field: z.string().check(z.minLength(1), z.maxLength(100)) }),
  settle: z.strictObject({
    entry: z.uuidv7(),
    field: z.string().check(z.minLength(1), z.maxLength(100)),
    which: z.enum(settlements),
  }),
}

/** `/api/jobs` and what belongs to one job: the twins of its pages. */
export function jobsApi(log: JobLog): Hono {
  const api = new Hono()

  const withJob = ofJob(log, refusedProblem)

  /** A route of one job that takes a body. */
  const withBody = <S extends z.ZodMiniType>(
    schema: S,
    work: (context: Context, open: OpenJob, body: z.output<S>) => Response | Promise<Response>,
  ) =>
    withJob(async (context, open) => {
      const read = await readBody(context, schema)
      return read instanceof Response ? read : work(context, open, read.body)
    })

  /** The job as it stands after a deed. */
  const opened = async (context: Context, jobId: string): Promise<Response> => {
    const open = await log.readJob(jobId)
    return open.ok ? context.json(open.value) : refusedProblem(context, open)
  }

  api.get('/', async (context) => {
    const { state, after, limit } = context.req.query()
    const asked = {
      ...(state === undefined ? {} : { state }),
      ...(after === undefined ? {} : { after }),
      ...(limit === undefined ? {} : { limit: Number(limit) }),
    } as PageInput
    const page = await log.listJobs(asked)
    return page.ok ? context.json(page.value) : refusedProblem(context, page)
  })

  api.post('/', async (context) => {
    const read = await readBody(context, jobBodies.job)
    if (read instanceof Response) return read
    const { id: given, ...job } = read.body
    const jobId = given ?? newId()
    const there = await log.readJob(jobId)
    if (there.ok) return context.json(there.value)
    const created = await log.createJob({ id: jobId, ...job, createdAt: momentAfter() })
    if (!created.ok) return refusedProblem(context, created)
    context.status(201)
    context.header('location', `/api/jobs/${jobId}`)
    return opened(context, jobId)
  })

  api.post('/import', async (context) => {
    const file = await context.req.json().catch(() => undefined)
    if (file === undefined) return problem(context, 400, 'The body is not JSON.')
    const imported = await log.importJob(file)
    return imported.ok ? context.json(imported.value) : refusedProblem(context, imported)
  })

  api.get(
    '/:id',
    withJob((context, open) => context.json(open)),
  )

  api.get(
    '/:id/check',
    withJob((context, { known }) => context.json(checkJob(known))),
  )

  api.get('/:id/export', async (context) => {
    const exported = await log.exportJob(context.req.param('id'))
    return exported.ok ? context.json(exported.value) : refusedProblem(context, exported)
  })

  api.post(
    '/:id/changes',
    withBody(jobBodies.changes, async (context, { job, changes }, { id: given, ...set }) => {
      if (given && changes.some((change) => change.id === given)) return opened(context, job.id)
      const changed = await log.changeJob({
        id: given ?? newId(),
        jobId: job.id,
        at: momentAfter(job.touchedAt),
        set,
      })
      return changed.ok ? opened(context, job.id) : refusedProblem(context, changed)
    }),
  )

  const asked = async (
    context: Context,
    jobId: string,
    outcome: Awaited<ReturnType<typeof askInJob>>,
  ): Promise<Response> => {
    if (!outcome.ok) return refusedProblem(context, outcome)
    const open = await log.readJob(jobId)
    if (!open.ok) return refusedProblem(context, open)
    const entry = outcome.value
    const { reply, remembered = [], where: at = null } = readingOf(entry) ?? {}
    return context.json({
      entry: entry.id,
      where: at,
      ...reply,
      ...(entry.answer === null ? {} : { answer: entry.answer }),
      remembered,
      contradicting: openContradictions(open.value, entry),
    })
  }

  api.post(
    '/:id/ask',
    withBody(jobBodies.ask, async (context, open, body) =>
      asked(context, open.job.id, await askInJob(log, open, body.text, deedOf(body, open))),
    ),
  )

  api.post(
    '/:id/entries',
    withBody(jobBodies.entries, async (context, open, body) => {
      const act = { question: body.question, inputs: flattenInputs(body.inputs) }
      return asked(context, open.job.id, await askInJob(log, open, act, deedOf(body, open)))
    }),
  )

  api.post(
    '/:id/settle',
    withBody(jobBodies.settle, async (context, open, body) => {
      const settled = await settle(log, open, body, momentAfter(open.job.touchedAt))
      return settled.ok ? opened(context, open.job.id) : refusedProblem(context, settled)
    }),
  )

  api.post(
    '/:id/facts',
    withBody(jobBodies.facts, async (context, open, body) => {
      const read = readFact(body.field, body.value)
      if (!read.ok) {
        const errors = [{ field: 'value', message: read.message || jobSay('noSuchFact') }]
        return problem(context, 422, 'This cannot be read as a fact.', errors)
      }
      const told = await tell(log, open, { field: body.field, value: read.value }, deedOf(body, open))
      return told.ok ? opened(context, open.job.id) : refusedProblem(context, told)
    }),
  )

  api.post(
    '/:id/forget',
    withBody(jobBodies.forget, async (context, open, body) => {
      const forgot = await forget(log, open, body.field, body.where, momentAfter(open.job.touchedAt))
      return forgot.ok ? opened(context, open.job.id) : refusedProblem(context, forgot)
    }),
  )

  return api
}

const deedOf = (
  { id: given, where: at }: { id?: string | undefined; where: string | null },
  { job }: OpenJob,
) => ({
  id: given ?? newId(),
  at: momentAfter(job.touchedAt),
  where: at,
})

/** A JSON body as its schema reads it, or the answer that says what is wrong with it. */
export async function readBody<S extends z.ZodMiniType>(
  context: Context,
  schema: S,
): Promise<{ body: z.output<S> } | Response> {
  const json = await context.req.json().catch(() => undefined)
  if (json === undefined) return problem(context, 400, 'The body is not JSON.')
  const read = schema.safeParse(json)
  if (read.success) return { body: read.data }
  const errors = read.error.issues.map(({ path, message }) => ({ field: path.join('.'), message }))
  return problem(context, 422, 'Some of this needs another look.', errors)
}
