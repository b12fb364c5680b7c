import type { Filled } from '../jobs/memory/fill'
import type { Answer } from '../questions/common/answer'
import { type FieldError, flattenInputs, type Question } from '../questions/common/question'
import { questionById } from '../questions/registry'
import { phraseBook } from '../understanding/book'
import { type Understood, understand } from '../understanding/understand'

/** Makes ready what reads a line; the first line would otherwise wait for it. */
export const readPhrases = (): void => void phraseBook()

/** The question before this one, as a reply's reading gave it; and which of its inputs a job had filled in. */
export type Following = { question: string; inputs: Record<string, unknown>; remembered?: readonly string[] }

/** What a job knows: fills in those of a question's inputs that nobody gives. */
export type Memory = (question: Question, given: Record<string, unknown>) => Filled

const nothingKnown: Memory = (_, raw) => ({ raw, remembered: new Set() })

/** What `POST /api/ask` sends back, and what the page shows of one line. */
export type Reply = {
  kind: Understood['kind']
  reading?: {
    question: string
    inputs: Understood['inputs']
    claim?: NonNullable<Understood['claim']>
    leftOver: string[]
  }
  answer?: Answer
  missing?: NonNullable<Understood['missing']>
  choices?: NonNullable<Understood['choices']>
  /** The inputs that differ from the question before. */
  changed?: string[]
  message: string
  explanation?: unknown
}

/** Longest line that is read. */
export const longestLine = 8000

/** A reply, the inputs of its reading as an address carries them, and which of them a job filled in. */
export type Replied = { reply: Reply; typed: Record<string, string>; remembered: string[] }

/** What one line means, answered where it can be; what the question itself refuses is asked for again. */
export function replyTo(
  text: string,
  following?: Following,
  explain = false,
  memory: Memory = nothingKnown,
): Replied {
  const understood = understand({
    text,
    ...(following ? { following } : {}),
    ...(explain ? { explain } : {}),
  })
  const reply = replyOf(understood)
  const question = understood.question ? questionById(understood.question) : undefined
  if (!question) return { reply, typed: {}, remembered: [] }
  const { raw, remembered } = memory(question, saidNow(understood, following))
  const replied = { typed: flattenInputs(raw), remembered: [...remembered] }
  const mayAnswer = understood.kind === 'answer' || (remembered.size > 0 && saidClearly(understood))
  if (!mayAnswer) return { reply, ...replied }
  const answered = answeredOf(question, raw, remembered)
  if (understood.kind === 'answer') return { reply: asked(reply, answered), ...replied }
  const { missing: _, ...known } = reply
  return {
    reply: answered.answer
      ? { ...known, kind: 'answer', message: question.words.title, ...answered }
      : stillMissing(reply, remembered),
    ...replied,
  }
}

/** Nothing known elsewhere may stand in for what somebody tried to say. */
const saidClearly = ({ doubtful = [], leftOver }: Understood): boolean =>
  doubtful.length === 0 && leftOver.length === 0

/** What the line and the lines before it said, without what the job had filled in and nobody has changed since. */
function saidNow(
  { question, raw, changed = [] }: Understood,
  following?: Following,
): Record<string, unknown> {
  const carried = following?.question === question ? (following?.remembered ?? []) : []
  return Object.fromEntries(
    Object.entries(raw).filter(([field]) => !carried.includes(field) || changed.includes(field)),
  )
}

/** What the job could not fill in either is asked for. */
function stillMissing(reply: Reply, remembered: ReadonlySet<string>): Reply {
  const missing = (reply.missing ?? []).filter(({ field }) => !remembered.has(field))
  const [first] = missing
  return first ? { ...reply, missing, message: first.prompt } : reply
}

/** A reply with its answer; what the question refuses is no input of the reading. */
function asked(reply: Reply, answered: Partial<Reply>): Reply {
  const { reading } = reply
  const refused = answered.missing?.[0]?.field
  if (!reading || refused === undefined) return { ...reply, ...answered }
  const { [refused]: _, ...inputs } = reading.inputs
  return { ...reply, ...answered, reading: { ...reading, inputs } }
}

/** The answer to a question's raw inputs, or the first thing that is wrong with them, asked for again. */
function answeredOf(
  question: Question,
  raw: Record<string, unknown>,
  remembered?: ReadonlySet<string>,
): Partial<Reply> {
  const answered = question.answer(raw, remembered)
  if (answered.ok) return { answer: answered.answer }
  const [{ field, message, example } = { field: '', message: '' }] = answered.errors as [FieldError?]
  const missing = [{ field, prompt: message, ...(example ? { suggestion: example } : {}) }]
  return { kind: 'ask-back', missing, message }
}

function replyOf(understood: Understood): Reply {
  const { kind, question, inputs, claim, leftOver, missing, choices, changed, message, explanation } =
    understood
  return {
    kind,
    ...(question ? { reading: { question, inputs, ...(claim ? { claim } : {}), leftOver } } : {}),
    ...(missing ? { missing } : {}),
    ...(choices ? { choices } : {}),
    ...(changed?.length ? { changed } : {}),
    message,
    ...(explanation === undefined ? {} : { explanation }),
  }
}

/** The reply to a reading that was picked among several. */
export function replyToPicked(
  id: string,
  inputs: Record<string, string>,
  memory: Memory = nothingKnown,
): Replied | undefined {
  const question = questionById(id)
  if (!question) return undefined
  const { raw, remembered } = memory(question, inputs)
  const answered = answeredOf(question, raw, remembered)
  const given = Object.entries(answered.answer?.inputs ?? {}).filter(([, { from }]) => from === 'given')
  const read = given.map(([field, { value, unit, text }]) => [
    field,
    { value, ...(unit ? { unit } : {}), said: text },
  ])
  const reading = { question: id, inputs: Object.fromEntries(read) as Understood['inputs'], leftOver: [] }
  const reply: Reply = { kind: 'answer', reading, message: question.words.title, ...answered }
  return { reply, typed: flattenInputs(raw), remembered: [...remembered] }
}
