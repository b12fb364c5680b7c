import { Hono } from 'hono'
import { compareAddressOf } from '../pages/address'
import { ComparePage } from '../pages/compare'
import { compareAnswers } from '../questions/common/comparison'
import { questionById } from '../questions/registry'
import { readCompareAddress } from './compare-address'
import { problem } from './problem'

/** `GET /compare/:question`: two variants side by side. Both live in the address. */
export const comparePages = new Hono()

comparePages.get('/:question', (context) => {
  const question = questionById(context.req.param('question'))
  if (!question) return problem(context, 404, 'There is no such question.')
  const address = readCompareAddress(question, new URL(context.req.url).searchParams)
  if (address.changed) {
    return context.redirect(
      compareAddressOf(question.id, address.a, address.both ? address.b : undefined),
      303,
    )
  }
  const answered = { a: question.answer(address.a), b: question.answer(address.b) }
  const { a, b } = answered
  const comparison = a.ok && b.ok ? compareAnswers(question, a.answer, b.answer) : undefined
  const page = (
    <ComparePage question={question} address={address} answered={answered} comparison={comparison} />
  )
  return context.html(page, comparison || address.varying ? 200 : 422)
})

/** `GET /api/compare/:question`: the same as data. A GET, because two variants are named by their address alone. */
export const compareApi = new Hono()

compareApi.get('/:question', (context) => {
  const question = questionById(context.req.param('question'))
  if (!question) return problem(context, 404, 'There is no such question.')
  const address = readCompareAddress(question, new URL(context.req.url).searchParams)
  const [a, b] = [question.answer(address.a), question.answer(address.b)]
  if (a.ok && b.ok) {
    const { answer: one } = a
    const { answer: other } = b
    return context.json({ question: question.id, a: one, b: other, ...compareAnswers(question, one, other) })
  }
  const errors = Object.entries({ a, b }).flatMap(([side, answered]) =>
    answered.ok ? [] : answered.errors.map((error) => ({ ...error, field: `${side}.${error.field}` })),
  )
  return problem(context, 422, 'Some inputs need another look.', errors)
})

compareApi.all('/:question', (context) => {
  context.header('allow', 'GET')
  return problem(context, 405, 'Ask this with GET.')
})
