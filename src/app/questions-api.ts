import { Hono } from 'hono'
import { questionById } from '../questions/registry'
import { problem } from './problem'

/** `POST /api/questions/:id`. */
export const questionsApi = new Hono()

questionsApi.post('/:id', async (context) => {
  const question = questionById(context.req.param('id'))
  if (!question) return problem(context, 404, 'There is no such question.')
  const body = await context.req.json().catch(() => undefined)
  if (body === undefined) return problem(context, 400, 'The body is not JSON.')
  const answered = question.answer(body)
  return answered.ok
    ? context.json(answered.answer)
    : problem(context, 422, 'Some inputs need another look.', answered.errors)
})

questionsApi.all('/:id', (context) => {
  context.header('allow', 'POST')
  return problem(context, 405, 'Ask this with POST.')
})
