import { Hono } from 'hono'
import { printFact } from '../jobs/memory/fact-book'
import { factOf, factsAt } from '../jobs/memory/facts'
import { type Filled, fillFromFacts } from '../jobs/memory/fill'
import type { Address } from '../pages/address'
import { type AskedInJob, QuestionPage } from '../pages/question-page'
import type { Question } from '../questions/common/question'
import { questionById } from '../questions/registry'
import { readAddress } from './address'
import type { Home } from './home'
import { problem } from './problem'

/**
 * `GET /q/:id`: the form; with a query, the answer too. The whole question lives in the address; with `job` in it,
 * what that job knows fills in what is not given.
 */
export function questionPages(home: Home): Hono {
  const pages = new Hono()

  pages.get('/:id', async (context) => {
    const question = questionById(context.req.param('id'))
    if (!question) return problem(context, 404, 'There is no such question.')
    const address = readAddress(new URL(context.req.url).searchParams)
    const inJob = await readInJob(home, question, address)
    const { raw, remembered } = inJob?.filled ?? { raw: address.typed, remembered: new Set<string>() }
    const tried = address.asked || inJob ? question.answer(raw, remembered) : undefined
    const answered = address.asked || tried?.ok ? tried : undefined
    const status = answered && !answered.ok ? 422 : 200
    return context.html(
      <QuestionPage question={question} address={address} answered={answered} inJob={inJob?.asked} />,
      status,
    )
  })

  return pages
}

/** What the job of an address fills in; nothing where the address names no job that is there. */
async function readInJob(
  { log }: Home,
  question: Question,
  { typed, about }: Address,
): Promise<{ asked: AskedInJob; filled: Filled } | undefined> {
  const open = about && log ? await log.readJob(about.job) : undefined
  if (!about || !open?.ok) return undefined
  const facts = factsAt(open.value.known, about.where)
  const filled = fillFromFacts(question, typed, facts)
  const shown = [...filled.remembered].map((input) => {
    const field = factOf(question, input)
    const label = question.words.fields[input]?.label
    const value = printFact(field, facts.get(field)?.value ?? '', typed.units === 'metric' ? 'metric' : 'us')
    return label ? `${label}: ${value}` : value
  })
  return { asked: { job: open.value.job, where: about.where, filled: shown }, filled }
}
