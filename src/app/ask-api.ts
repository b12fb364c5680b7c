import { Hono } from 'hono'
import { z } from 'zod'
import { problem } from './problem'
import { longestLine, replyTo } from './reply'

/** `POST /api/ask`: one typed or dictated line becomes a question and its answer, or one good question back. */
export const askApi = new Hono()

export const askSchema = z.strictObject({
  text: z.string().max(longestLine),
  following: z
    .strictObject({ question: z.string().max(60), inputs: z.record(z.string(), z.unknown()) })
    .optional(),
  job: z.string().max(60).optional(),
  explain: z.boolean().optional(),
})

askApi.post('/', async (context) => {
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
  const { text, following, explain } = parsed.data
  return context.json(replyTo(text, following, explain).reply)
})

askApi.all('/', (context) => {
  context.header('allow', 'POST')
  return problem(context, 405, 'Ask this with POST.')
})
