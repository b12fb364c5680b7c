import type { Answer } from '../questions/common/answer'
import { type FieldError, flattenInputs, type Question } from '../questions/common/question'
import { questionById } from '../questions/registry'
import { type Understood, understand } from '../understanding/understand'

/** The question before this one, as a reply's reading gave it. */
export type Following = { question: string; inputs: Record<string, unknown> }

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

/** A reply, and the inputs of its reading as an address carries them. */
export type Replied = { reply: Reply; typed: Record<string, string> }

/** What one line means, answered where it can be; what the question itself refuses is asked for again. */
export function replyTo(text: string, following?: Following, explain = false): Replied {
  const understood = understand({
    text,
    ...(following ? { following } : {}),
    ...(explain ? { explain } : {}),
  })
  const reply = replyOf(understood)
  const typed = flattenInputs(understood.raw)
  const question =
    understood.kind === 'answer' && understood.question ? questionById(understood.question) : undefined
  if (!question) return { reply, typed }
  return { reply: asked(reply, answeredOf(question, understood.raw)), typed }
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
function answeredOf(question: Question, raw: Record<string, unknown>): Partial<Reply> {
  const answered = question.answer(raw)
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
export function replyToPicked(id: string, inputs: Record<string, string>): Replied | undefined {
  const question = questionById(id)
  if (!question) return undefined
  const answered = answeredOf(question, inputs)
  const given = Object.entries(answered.answer?.inputs ?? {}).filter(([, { from }]) => from === 'given')
  const read = given.map(([field, { value, unit, text }]) => [
    field,
    { value, ...(unit ? { unit } : {}), said: text },
  ])
  const reading = { question: id, inputs: Object.fromEntries(read) as Understood['inputs'], leftOver: [] }
  return { reply: { kind: 'answer', reading, message: question.words.title, ...answered }, typed: inputs }
}
