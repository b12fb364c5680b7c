import { Hono } from 'hono'
import type { JobLog } from '../jobs/log/job-log'
import { factsAt } from '../jobs/memory/facts'
import { fillFromFacts } from '../jobs/memory/fill'
import { type CompareAddress, compareAddressOf, type Typed } from '../pages/address'
import { ComparePage } from '../pages/compare'
import { compareAnswers } from '../questions/common/comparison'
import { flattenInputs, type Question } from '../questions/common/question'
import { questionById } from '../questions/registry'
import { readAddress } from './address'
import { readCompareAddress } from './compare-address'
import type { Home } from './home'
import { problem } from './problem'

/**
 * `GET /compare/:question`: two variants side by side. Both live in the address; where it names a job, what the job
 * fills in is put into it first, so that it can be sent to somebody who has not got the job.
 */
export function comparePages({ log }: Home): Hono {
  const pages = new Hono()

  pages.get('/:question', async (context) => {
    const question = questionById(context.req.param('question'))
    if (!question) return problem(context, 404, 'There is no such question.')
    const query = new URL(context.req.url).searchParams
    const read = readCompareAddress(question, query)
    const { about } = readAddress(query)
    const address = about && log ? await filledFromJob(log, question, read, about) : read
    if (address.changed) {
      const { a, b, both } = address
      return context.redirect(compareAddressOf(question.id, a, both ? b : undefined), 303)
    }
    const answered = { a: question.answer(address.a), b: question.answer(address.b) }
    const { a, b } = answered
    const comparison = a.ok && b.ok ? compareAnswers(question, a.answer, b.answer) : undefined
    const page = (
      <ComparePage question={question} address={address} answered={answered} comparison={comparison} />
    )
    return context.html(page, comparison || address.varying ? 200 : 422)
  })

  return pages
}

/** Both variants with what a job knows of those inputs that are not given; as they were where there is no such job. */
async function filledFromJob(
  log: JobLog,
  question: Question,
  address: CompareAddress,
  { job, where }: { job: string; where: string | null },
): Promise<CompareAddress> {
  const open = await log.readJob(job)
  if (!open.ok) return address
  const facts = factsAt(open.value.known, where)
  const filled = (typed: Typed): Typed => flattenInputs(fillFromFacts(question, typed, facts).raw)
  return { a: filled(address.a), b: filled(address.b), both: address.both, changed: true }
}

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
