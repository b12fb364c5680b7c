import type { MiddlewareHandler } from 'hono'
import { problem } from './problem'

/** What a form says it is. */
const isForm = /^\s*(multipart\/form-data|application\/x-www-form-urlencoded)\b/i

/** Says 400 to a form that cannot be read; one that can is read once, and kept for the route that asks for it. */
export const readableForm: MiddlewareHandler = async (context, next) => {
  if (context.req.method === 'GET' || !isForm.test(context.req.header('content-type') ?? '')) return next()
  try {
    await context.req.parseBody()
  } catch (error) {
    // The limit on bodies tells by this error that it was passed, and has its own answer.
    if (error instanceof Error && error.name === 'BodyLimitError') throw error
    return problem(context, 400, 'The form cannot be read.')
  }
  return next()
}
