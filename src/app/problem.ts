import type { Context } from 'hono'
import type { ContentfulStatusCode } from 'hono/utils/http-status'
import type { FieldError } from '../questions/common/question'

/**
 * A fault as RFC 9457 says it; every faulty field at once in `errors`. Nothing of an exception ever goes out.
 *
 * @param reason a word for programs, where the status alone does not tell what they should do
 */
export function problem(
  context: Context,
  status: ContentfulStatusCode,
  title: string,
  errors?: readonly FieldError[],
  reason?: string,
): Response {
  const body = {
    type: 'about:blank',
    title,
    status,
    ...(errors ? { errors } : {}),
    ...(reason ? { reason } : {}),
  }
  return context.json(body, status, { 'content-type': 'application/problem+json' })
}
