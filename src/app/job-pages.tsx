import { type Context, Hono } from 'hono'
import { csrf } from 'hono/csrf'
import { checkJob } from '../jobs/check/board'
import { changesOf } from '../jobs/check/changes'
import type { Board } from '../jobs/check/row'
import { newId } from '../jobs/log/identifier'
import type { Entry, FactValue, State } from '../jobs/log/job'
import type { JobLog } from '../jobs/log/job-log'
import { knownBefore, type OpenJob } from '../jobs/log/job-view'
import { momentAfter } from '../jobs/log/moment'
import { portableText } from '../jobs/log/portable'
import type { Outcome } from '../jobs/log/refusal'
import { factLabel, printFact, readFact } from '../jobs/memory/fact-book'
import { JobBoard, type JustTold } from '../pages/job-board'
import { JobFacts } from '../pages/job-facts'
import { JobList } from '../pages/job-list'
import { JobThread, type ThreadTurn } from '../pages/job-thread'
import { jobSay } from '../pages/job-words'
import type { Turn } from '../pages/turn'
import type { Answer } from '../questions/common/answer'
import { sharedSay } from '../questions/common/shared-words'
import { questions } from '../questions/registry'
import { asFile } from './as-file'
import { readAct, readPicked } from './conversation'
import {
  askInJob,
  type Deed,
  forget,
  openContradictions,
  readingOf,
  saidOf,
  settle,
  settlements,
  tell,
} from './job-deeds'
import { parsed } from './parsed'
import { ofJob, refusedPage } from './refused'
import { longestLine } from './reply'

/** A form's fields; a field that came more than once or as a file counts as empty. */
type Form = (name: string) => string

async function readForm(context: Context): Promise<Form> {
  const body = await context.req.parseBody()
  return (name) => (typeof body[name] === 'string' ? body[name] : '')
}

/** What a form is about: a part named for the first time, one chosen, or the whole job. */
const whereOf = (form: Form): string | null => form('newPart').trim() || form('where').trim() || null

/** The id that the form carries, so that sending it twice does nothing twice; a new one where it carries none. */
const deedOf = (form: Form, { job }: OpenJob): Deed => ({
  id: form('id') || newId(),
  at: momentAfter(job.touchedAt),
  where: whereOf(form),
})

const pathOf = ({ job }: OpenJob, page = '', where: string | null = null): string =>
  `/jobs/${job.id}${page}${where === null ? '' : `?${new URLSearchParams({ where })}`}`

/** `/jobs` and the pages of each job: its thread, what is known, and what can be done with it. */
export function jobPages(log: JobLog): Hono {
  const pages = new Hono()
  pages.use(csrf())

  const withJob = ofJob(log, refusedPage)

  pages.get('/', async (context) => {
    const after = context.req.query('after')
    const page = await log.listJobs(after === undefined ? {} : { after })
    return page.ok ? context.html(<JobList page={page.value} />) : refusedPage(context, page)
  })

  pages.post('/', async (context) => {
    const form = await readForm(context)
    const [name, place] = [form('name').trim(), form('place').trim()]
    const id = form('id') || newId()
    if (name === '') {
      const page = await log.listJobs()
      if (!page.ok) return refusedPage(context, page)
      const fault = jobSay('nameMissing')
      return context.html(<JobList page={page.value} typed={{ name, place }} fault={fault} />, 422)
    }
    const there = await log.readJob(id)
    if (there.ok) return context.redirect(pathOf(there.value), 303)
    const created = await log.createJob({ id, name, place, createdAt: momentAfter() })
    return created.ok ? context.redirect(`/jobs/${id}`, 303) : refusedPage(context, created)
  })

  pages.post('/import', async (context) => {
    const { file } = await context.req.parseBody()
    const text = file instanceof File ? await file.text() : ''
    const imported = await log.importJob(parsed(text))
    return imported.ok
      ? context.redirect(`/jobs/${imported.value.jobId}`, 303)
      : refusedPage(context, imported)
  })

  pages.get(
    '/:id',
    withJob((context, open) =>
      context.html(<Thread open={open} where={context.req.query('where') || null} />),
    ),
  )

  pages.post(
    '/:id/ask',
    withJob(async (context, open) => {
      const form = await readForm(context)
      const deed = deedOf(form, open)
      const act = form('picked') ? readPicked(form('picked')) : form('text')
      if (typeof act === 'string' && act.length > longestLine) {
        const fault = sharedSay('reply.tooLong', { most: String(longestLine) })
        return context.html(<Thread open={open} where={deed.where} typed={act} fault={fault} />, 422)
      }
      if (act === undefined || (typeof act === 'string' && act.trim() === ''))
        return context.redirect(pathOf(open, '', deed.where), 303)
      return thenThread(context, open, await askInJob(log, open, act, deed), deed.where)
    }),
  )

  pages.post(
    '/:id/entries',
    withJob(async (context, open) => {
      const form = await readForm(context)
      const deed = deedOf(form, open)
      const act = readAct({ question: form('question'), inputs: parsed(form('inputs')) })
      if (act === undefined) return context.redirect(pathOf(open), 303)
      return thenThread(context, open, await askInJob(log, open, act, deed), deed.where)
    }),
  )

  pages.post(
    '/:id/settle',
    withJob(async (context, open) => {
      const form = await readForm(context)
      const entry = open.thread.find(({ id }) => id === form('entry'))
      const which = settlements.find((each) => each === form('which'))
      if (!entry || !which) return context.redirect(pathOf(open), 303)
      const said = { entry: entry.id, field: form('field'), which }
      const settled = await settle(log, open, said, momentAfter(open.job.touchedAt))
      return thenThread(context, open, settled, readingOf(entry)?.where ?? null)
    }),
  )

  pages.get(
    '/:id/facts',
    withJob((context, open) => context.html(<JobFacts open={open} />)),
  )

  pages.post(
    '/:id/facts',
    withJob(async (context, open) => {
      const form = await readForm(context)
      const deed = deedOf(form, open)
      const field = form('field')
      const typed = form('chosen') ? parsed(form('chosen')) : typedValue(form('value'))
      const units = open.known.some((known) => known.field === 'units' && known.current?.value === 'metric')
      const read = readFact(field, typed as FactValue, units ? 'metric' : 'us')
      if (!read.ok) {
        const message = jobSay('unreadable', { message: read.message || jobSay('noSuchFact') })
        const faulty = { field, where: deed.where, typed: form('value'), message }
        return context.html(<JobFacts open={open} faulty={faulty} />, 422)
      }
      const told = await tell(log, open, { field, value: read.value }, deed)
      return told.ok
        ? context.redirect(`${pathOf(open, '/check')}?since=${deed.id}`, 303)
        : refusedPage(context, told)
    }),
  )

  pages.post(
    '/:id/forget',
    withJob(async (context, open) => {
      const form = await readForm(context)
      const forgot = await forget(log, open, form('field'), whereOf(form), momentAfter(open.job.touchedAt))
      return forgot.ok ? context.redirect(pathOf(open, '/facts'), 303) : refusedPage(context, forgot)
    }),
  )

  pages.post(
    '/:id/changes',
    withJob(async (context, open) => {
      const form = await readForm(context)
      const name = form('name').trim()
      const set = {
        ...(name === '' ? {} : { name }),
        place: form('place').trim(),
        notes: form('notes'),
        ...(isState(form('state')) ? { state: form('state') as State } : {}),
      }
      const { id, at } = deedOf(form, open)
      const done = open.changes.some((change) => change.id === id)
      const changed = done ? undefined : await log.changeJob({ id, jobId: open.job.id, at, set })
      return changed === undefined || changed.ok
        ? context.redirect(pathOf(open, '/facts'), 303)
        : refusedPage(context, changed)
    }),
  )

  pages.get(
    '/:id/check',
    withJob((context, open) => {
      const board = checkJob(open.known)
      const told = justTold(open, board, context.req.query('since'))
      return context.html(<JobBoard job={open.job} board={board} told={told} />)
    }),
  )

  pages.get('/:id/export', async (context) => {
    const exported = await log.exportJob(context.req.param('id'))
    if (!exported.ok) return refusedPage(context, exported)
    return context.body(portableText(exported.value), 200, {
      'content-type': 'application/json; charset=utf-8',
      'content-disposition': asFile('attachment', exported.value.job.name, 'json'),
    })
  })

  return pages
}

/** What a fact that was just told did to the board. */
function justTold({ known }: OpenJob, after: Board, since: string | undefined): JustTold | undefined {
  const fact = known.flatMap(({ history }) => history).find(({ id }) => id === since)
  if (!fact) return undefined
  const before = checkJob(knownBefore(known, fact.at))
  const label = factLabel(fact.field)
  return { label, value: printFact(fact.field, fact.value), changes: changesOf(before, after) }
}

const isState = (text: string): boolean => ['open', 'done', 'archived'].includes(text)

/** Several lines are a list. */
function typedValue(typed: string): FactValue {
  const lines = typed
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '')
  return lines.length > 1 ? lines : (lines[0] ?? '')
}

/** Back to the thread, its newest entry in sight. */
const thenThread = (
  context: Context,
  open: OpenJob,
  done: Outcome<unknown>,
  where: string | null,
): Response | Promise<Response> =>
  done.ok ? context.redirect(`${pathOf(open, '', where)}#newest`, 303) : refusedPage(context, done)

type ThreadProps = { open: OpenJob; where: string | null; typed?: string; fault?: string }

const Thread = ({ open, ...rest }: ThreadProps) => (
  <JobThread open={open} questions={questions} turns={threadTurns(open)} {...rest} />
)

/** The entries of a job as its page shows them. */
const threadTurns = (open: OpenJob): ThreadTurn[] =>
  open.thread.map((entry) => ({
    entry,
    turn: turnOf(open, entry),
    where: readingOf(entry)?.where ?? null,
    contradictions: openContradictions(open, entry).map(({ field, value, known }) => {
      const fact = open.known.flatMap(({ history }) => history).find(({ id }) => id === known)
      return {
        entry: entry.id,
        field,
        known: fact ? printFact(field, fact.value) : '',
        knownAt: fact?.where ?? null,
        said: printFact(field, value),
      }
    }),
  }))

function turnOf({ job }: OpenJob, entry: Entry): Turn {
  const reading = readingOf(entry)
  const answer = entry.answer as Answer | null
  if (!reading) return { said: entry.said, typed: {}, reply: { kind: 'out-of-reach', message: '' } }
  return {
    said: entry.said,
    typed: saidOf(reading),
    context: { job: job.id, ...(reading.where === null ? {} : { where: reading.where }) },
    reply: { ...reading.reply, ...(answer ? { answer } : {}) },
  }
}
