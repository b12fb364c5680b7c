import type { Context } from 'hono'
import type { ContentfulStatusCode } from 'hono/utils/http-status'
import type { FieldError } from '../questions/common/question'

/** A fault as RFC 9457 says it; every faulty field at once in `errors`. Nothing of an exception ever goes out. */
export function problem(
  context: Context,
  status: ContentfulStatusCode,
  title: string,
  errors?: readonly FieldError[],
): Response {
  const body = { type: 'about:blank', title, status, ...(errors ? { errors } : {}) }
  return context.json(body, status, { 'content-type': 'application/problem+json' })
}
