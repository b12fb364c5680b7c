import { Hono } from 'hono'
import * as z from 'zod/mini'
import type { Home } from './home'
import { memoryAt } from './job-deeds'
import { problem } from './problem'
import { refusedProblem } from './refused'
import { longestLine, replyTo } from './reply'

/**
 * `POST /api/ask`: one typed or dictated line becomes a question and its answer, or one good question back. With `job`,
 * what that job knows fills in what is left out; nothing is kept there (`POST /api/jobs/:id/ask` keeps it).
 */
export function askApi({ log }: Home): Hono {
  const api = new Hono()

  api.post('/', async (context) => {
    const body = await context.req.json().catch(() => undefined)
    const parsed = askSchema.safeParse(body)
    if (!parsed.success) {
      const errors = parsed.error.issues.map(({ path, message }) => ({ field: path.join('.'), message }))
      return problem(
        context,
        body === undefined ? 400 : 422,
        'This cannot be read as a line to answer.',
        errors,
      )
    }
    const { text, following, explain, job, where } = parsed.data
    if (job === undefined) return context.json(replyTo(text, following, explain).reply)
    const open = log ? await log.readJob(job) : undefined
    if (!open) return problem(context, 404, 'No jobs are kept here.')
    if (!open.ok) return refusedProblem(context, open)
    const memory = memoryAt(open.value.known, where ?? null)
    return context.json(replyTo(text, following, explain, memory).reply)
  })

  api.all('/', (context) => {
    context.header('allow', 'POST')
    return problem(context, 405, 'Ask this with POST.')
  })

  return api
}

export const askSchema = z.strictObject({
  text: z.string().check(z.maxLength(longestLine)),
  following: z.optional(
    z.strictObject({
      question: z.string().check(z.maxLength(60)),
      inputs: z.record(z.string(), z.unknown()),
    }),
  ),
  job: z.optional(z.string().check(z.maxLength(60))),
  where: z.optional(z.string().check(z.minLength(1), z.maxLength(200))),
  explain: z.optional(z.boolean()),
})
