import type { Child } from 'hono/jsx'
import type { Answer } from '../questions/common/answer'
import { printValue } from '../questions/common/printing'
import type { Question } from '../questions/common/question'
import { fieldWordsOf, sharedSay, sharedWords } from '../questions/common/shared-words'
import { addressOf } from './address'
import { AnswerView, VerdictMark } from './answer'
import { Carried, type Posting } from './composer'

/** One line of the thread and what came of it. */
export type Turn = {
  said: string
  /** The inputs of the reading as an address carries them, those that a job filled in left out. */
  typed: Readonly<Record<string, string>>
  /** What an address carries beside: the job and its part. */
  context?: Readonly<Record<string, string>>
  reply: {
    kind: 'answer' | 'ask-back' | 'choose' | 'out-of-reach'
    reading?: {
      question: string
      inputs: Readonly<Record<string, { value: unknown; unit?: string; said: string }>>
      leftOver: readonly string[]
    }
    answer?: Answer
    missing?: readonly { field: string; prompt: string; suggestion?: string }[]
    choices?: readonly { question: string; title: string; inputs: Record<string, string> }[]
    changed?: readonly string[]
    message: string
  }
}

type TurnProps = {
  turn: Turn
  questions: readonly Question[]
  /** Where a quick reply goes. */
  posting: Posting
  newest: boolean
}

/** One line of a thread: what was said, what was understood, the answer or the question back. */
export const TurnView = ({ turn, questions, posting, newest }: TurnProps) => {
  const { said, reply, context } = turn
  const question = questions.find(({ id }) => id === reply.reading?.question)
  const typed = { ...context, ...turn.typed }
  return (
    <>
      {said ? <p class="said">{said}</p> : null}
      <Understood reply={reply} question={question} typed={typed} />
      {reply.answer && question ? (
        <AnswerInThread
          answer={reply.answer}
          question={question}
          typed={typed}
          about={context ?? {}}
          newest={newest}
        />
      ) : (
        <p class="reply">{reply.message}</p>
      )}
      {newest ? <QuickReplies reply={reply} posting={posting} /> : null}
      {newest && reply.kind === 'ask-back' && question ? (
        <p>
          <a href={addressOf(question.id, typed)} class="plain">
            {sharedWords.parts.openForm}
          </a>
        </p>
      ) : null}
    </>
  )
}

type UnderstoodProps = Pick<Turn, 'reply' | 'typed'> & { question: Question | undefined }

/** What was understood, number by number: each a link that opens the form at that field. */
const Understood = ({ reply, question, typed }: UnderstoodProps) => {
  const { reading, changed = [] } = reply
  if (!reading || !question) return null
  return (
    <>
      <p class="about">{question.words.title}</p>
      <ul class="chips" aria-label={sharedWords.parts.understood}>
        {saidInputs(reply).map(([field, understood]) => (
          <Chip question={question} field={field} typed={typed}>
            {changed.includes(field) ? <span class="changed">{sharedWords.parts.changed} </span> : null}
            {fieldWordsOf(question.words, field).label}:{' '}
            <b>{reply.answer?.inputs[field]?.text ?? shown(understood)}</b>
          </Chip>
        ))}
        {filledInputs(reply).map(([field, { text }]) => (
          <Chip question={question} field={field} typed={typed}>
            {fieldWordsOf(question.words, field).label}: <b>{text}</b> ({sharedWords.parts.fromJob})
          </Chip>
        ))}
      </ul>
      {reading.leftOver.length === 0 ? null : (
        <p class="left-over">
          {sharedSay('reply.leftOver', { pieces: reading.leftOver.map((piece) => `“${piece}”`).join(', ') })}
        </p>
      )}
    </>
  )
}

type Reading = NonNullable<Turn['reply']['reading']>

/** What was said of the question, now or in a line before; not what the job filled in. */
const saidInputs = ({ reading, answer }: Turn['reply']): [string, Reading['inputs'][string]][] =>
  Object.entries(reading?.inputs ?? {}).filter(([field]) => answer?.inputs[field]?.from !== 'job')

/** What the job filled in. */
const filledInputs = ({ answer }: Turn['reply']) =>
  Object.entries(answer?.inputs ?? {}).filter(([, { from }]) => from === 'job')

type ChipProps = { question: Question; field: string; typed: Turn['typed']; children: Child }

/** One understood input: a link that opens the form at it. */
const Chip = ({ question, field, typed, children }: ChipProps) => (
  <li>
    <a href={addressOf(question.id, { ...typed, open: field }, `#${field}`)}>{children}</a>
  </li>
)

/** What was understood where there is no answer yet to print it. */
const shown = ({ value, unit, said }: { value: unknown; unit?: string; said: string }): string =>
  typeof value === 'number' && unit ? printValue(value, unit, 'us') : said

type AnswerProps = {
  answer: Answer
  question: Question
  typed: Turn['typed']
  about: Turn['typed']
  newest: boolean
}

const AnswerInThread = ({ answer, question, typed, about, newest }: AnswerProps) => {
  if (newest) return <AnswerView answer={answer} question={question} typed={typed} about={about} />
  return (
    <>
      <p class={`headline ${answer.verdict}`}>{answer.headline}</p>
      <VerdictMark verdict={answer.verdict} />
      <p>
        <a href={addressOf(question.id, typed)} class="plain">
          {sharedWords.parts.wholeAnswer}
        </a>
      </p>
    </>
  )
}

const QuickReplies = ({ reply, posting }: { reply: Turn['reply']; posting: Posting }) => {
  const suggestions = (reply.missing ?? []).flatMap(({ suggestion }) => suggestion ?? [])
  const choices = reply.choices ?? []
  if (suggestions.length === 0 && choices.length === 0) return null
  return (
    <form method="post" action={posting.action} class="quick">
      <Carried carried={posting.carried} />
      {suggestions.map((suggestion) => (
        <button class="quiet" type="submit" name="text" value={suggestion}>
          {suggestion}
        </button>
      ))}
      {choices.map(({ question, title, inputs }) => (
        <button class="quiet" type="submit" name="picked" value={JSON.stringify({ question, inputs })}>
          {title}
        </button>
      ))}
    </form>
  )
}
