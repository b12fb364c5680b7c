import { Hono } from 'hono'
import { QuestionPage } from '../pages/question-page'
import { questionById } from '../questions/registry'
import { readAddress } from './address'
import { problem } from './problem'

/** `GET /q/:id`: the form; with a query, the answer too. The whole question lives in the address. */
export const questionPages = new Hono()

questionPages.get('/:id', (context) => {
  const question = questionById(context.req.param('id'))
  if (!question) return problem(context, 404, 'There is no such question.')
  const address = readAddress(new URL(context.req.url).searchParams)
  const answered = address.asked ? question.answer(address.typed) : undefined
  const status = answered && !answered.ok ? 422 : 200
  return context.html(<QuestionPage question={question} address={address} answered={answered} />, status)
})
