import * as z from 'zod/mini'
import { newId } from '../jobs/log/identifier'
import type { Entry, FactValue, Json, WriteInput } from '../jobs/log/job'
import type { JobLog } from '../jobs/log/job-log'
import type { Known, OpenJob } from '../jobs/log/job-view'
import { done, type Outcome } from '../jobs/log/refusal'
import { factsAt } from '../jobs/memory/facts'
import { fillFromFacts } from '../jobs/memory/fill'
import { learnFrom } from '../jobs/memory/learn'
import { questionById } from '../questions/registry'
import type { Act } from './conversation'
import { type Following, type Memory, type Replied, type Reply, replyTo, replyToPicked } from './reply'
import { madeBy } from './version'

/** Something given otherwise than the job knows it, as an entry keeps it. */
const contradictionSchema = z.object({
  field: z.string(),
  input: z.string(),
  value: z.custom<FactValue>((value) => value !== undefined),
  known: z.string(),
})
export type KeptContradiction = z.infer<typeof contradictionSchema>

/** What an entry keeps of how its line was understood; what a page or a later line needs of it. */
export const readingSchema = z.object({
  kind: z.enum(['answer', 'ask-back', 'choose', 'out-of-reach']),
  question: z.nullable(z.string()),
  where: z.nullable(z.string()),
  /** All inputs as typed, flat; those that the job filled in are named in `remembered`. */
  typed: z.record(z.string(), z.string()),
  remembered: z.array(z.string()),
  contradicting: z.array(contradictionSchema),
  reply: z.custom<Omit<Reply, 'answer'>>((value) => typeof value === 'object' && value !== null),
})
export type KeptReading = z.infer<typeof readingSchema>

/** An entry's reading, where it was kept by this program; other entries show their line and their headline alone. */
export const readingOf = (entry: Entry): KeptReading | undefined =>
  readingSchema.safeParse(entry.reading).data

/** The inputs of a reading that somebody gave, without those that the job filled in. */
export const saidOf = ({ typed, remembered }: KeptReading): Record<string, string> =>
  Object.fromEntries(Object.entries(typed).filter(([key]) => !remembered.includes(key.split('.')[0] ?? '')))

/** The id by which a repeated request is known as one, the time, and the part of the job it is about. */
export type Deed = { id: string; at: string; where: string | null }

/** What a job knows at a part of it, as a question's memory. */
export const memoryAt =
  (known: readonly Known[], where: string | null): Memory =>
  (question, given) =>
    fillFromFacts(question, given, factsAt(known, where))

/** The newest entry of a part that a line may follow on from. */
function followingOf({ thread, known }: OpenJob, where: string | null): Following | undefined {
  for (const entry of [...thread].reverse()) {
    const reading = readingOf(entry)
    if (!reading || reading.where !== where || reading.question === null) continue
    const question = questionById(reading.question)
    if (!question) continue
    const { raw, remembered } = memoryAt(known, where)(question, saidOf(reading))
    const { claim: _, ...inputs } = raw
    return { question: question.id, inputs, remembered: [...remembered] }
  }
  return undefined
}

/**
 * Asks a line, or one of several readings that was picked, inside a job: what the job knows fills in what is left out,
 * what is new is learned, and what contradicts the job waits until somebody says which holds. Asked again with the
 * same id, nothing changes.
 */
export async function askInJob(log: JobLog, open: OpenJob, act: Act, deed: Deed): Promise<Outcome<Entry>> {
  const before = open.thread.find(({ id }) => id === deed.id)
  if (before) return done(before)
  const memory = memoryAt(open.known, deed.where)
  const replied =
    typeof act === 'string'
      ? replyTo(act, followingOf(open, deed.where), false, memory)
      : replyToPicked(act.question, act.inputs, memory)
  const said = typeof act === 'string' ? act : ''
  return keep(log, open, said, replied ?? nothing, deed)
}

const nothing: Replied = { reply: { kind: 'out-of-reach', message: '' }, typed: {}, remembered: [] }

async function keep(
  log: JobLog,
  { job, known }: OpenJob,
  said: string,
  { reply, typed, remembered }: Replied,
  { id, at, where }: Deed,
): Promise<Outcome<Entry>> {
  const question = reply.reading && questionById(reply.reading.question)
  const learned =
    question && reply.answer
      ? learnFrom(question, typed, new Set(remembered), factsAt(known, where))
      : { fresh: [], contradicting: [] }
  const { answer = null, ...rest } = reply
  const reading: KeptReading = {
    kind: reply.kind,
    question: question?.id ?? null,
    where,
    typed,
    remembered,
    contradicting: learned.contradicting.map(({ known: fact, ...each }) => ({ ...each, known: fact.id })),
    reply: rest,
  }
  const entry = {
    id,
    jobId: job.id,
    at,
    said,
    reading: asJson(reading),
    answer: asJson(answer),
    version: madeBy,
  }
  const provenance = { from: 'answer' as const, entryId: id }
  const facts = learned.fresh.map(
    ({ field, value }): WriteInput => ({
      kind: 'fact',
      record: { id: newId(), jobId: job.id, field, where, value, provenance, at },
    }),
  )
  const written = await log.write([{ kind: 'entry', record: entry }, ...facts])
  return written.ok ? done(entry) : written
}

const asJson = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json

/** Which of two values holds: the new one from now on, the new one at this part only, or what was known. */
export const settlements = ['new', 'here', 'known'] as const
export type Settlement = (typeof settlements)[number]

/** The contradictions of an entry about which nobody has said yet which holds. */
export function openContradictions({ known }: OpenJob, entry: Entry): KeptContradiction[] {
  const settled = new Set(
    known.flatMap(({ field, history }) =>
      history.some(({ provenance }) => provenance.entryId === entry.id) ? [field] : [],
    ),
  )
  return (readingOf(entry)?.contradicting ?? []).filter(({ field }) => !settled.has(field))
}

/** Says which of two values holds where an entry contradicts the job; where nothing is open, nothing changes. */
export async function settle(
  log: JobLog,
  open: OpenJob,
  { entry: entryId, field, which }: { entry: string; field: string; which: Settlement },
  at: string,
): Promise<Outcome<null>> {
  const entry = open.thread.find(({ id }) => id === entryId)
  const contradiction = entry && openContradictions(open, entry).find((each) => each.field === field)
  if (!entry || !contradiction) return done(null)
  const about = open.known.find(({ history }) => history.some(({ id }) => id === contradiction.known))
  const standing = standingOf(about)
  const kept = standing.find(({ id }) => id === contradiction.known)
  const value = which === 'known' ? kept?.value : contradiction.value
  if (value === undefined) return done(null)
  const where = which === 'here' ? (readingOf(entry)?.where ?? null) : (about?.where ?? null)
  const fact: WriteInput = {
    kind: 'fact',
    record: {
      id: newId(),
      jobId: open.job.id,
      field,
      where,
      value,
      provenance: { from: which === 'known' ? 'person' : 'answer', entryId: entry.id },
      at,
    },
  }
  const gone = where === (about?.where ?? null) ? standing : []
  const written = await log.write([fact, ...gone.map(({ id }) => withdrawalOf(open, id, at))])
  return written.ok ? done(null) : written
}

/** What was told of one thing at one part and was not taken back. */
const standingOf = (about: Known | undefined): Known['history'] =>
  about?.history.filter(({ withdrawnAt }) => withdrawnAt === null) ?? []

const withdrawalOf = ({ job }: OpenJob, factId: string, at: string): WriteInput => ({
  kind: 'withdrawal',
  record: { id: newId(), jobId: job.id, factId, at },
})

/** Tells the job a value; what stood for the same thing at the same part is withdrawn. Asked again, nothing changes. */
export async function tell(
  log: JobLog,
  open: OpenJob,
  { field, value }: { field: string; value: FactValue },
  { id, at, where }: Deed,
): Promise<Outcome<null>> {
  const about = open.known.find((known) => known.field === field && known.where === where)
  if (about?.history.some((fact) => fact.id === id)) return done(null)
  const standing = standingOf(about)
  const provenance = { from: 'person' as const, entryId: null }
  const written = await log.write([
    { kind: 'fact', record: { id, jobId: open.job.id, field, where, value, provenance, at } },
    ...standing.map((fact) => withdrawalOf(open, fact.id, at)),
  ])
  return written.ok ? done(null) : written
}

/** Takes back everything that stands for one thing at one part. */
export async function forget(
  log: JobLog,
  open: OpenJob,
  field: string,
  where: string | null,
  at: string,
): Promise<Outcome<null>> {
  const about = open.known.find((known) => known.field === field && known.where === where)
  const standing = standingOf(about)
  const written = await log.write(standing.map(({ id }) => withdrawalOf(open, id, at)))
  return written.ok ? done(null) : written
}
