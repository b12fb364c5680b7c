import type { Answer } from '../questions/common/answer'
import { printValue } from '../questions/common/printing'
import type { Question } from '../questions/common/question'
import { sharedSay, sharedWords } from '../questions/common/shared-words'
import { addressOf } from './address'
import { AnswerView, VerdictMark } from './answer'
import { Layout } from './layout'
import { Stages } from './stages'

/** One line of the thread and what came of it. */
export type Turn = {
  said: string
  /** The inputs of the reading as an address carries them. */
  typed: Readonly<Record<string, string>>
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

type ConversationProps = {
  questions: readonly Question[]
  turns: readonly Turn[]
  /** The thread as the form carries it on. */
  thread: string
  /** What was typed and could not be taken, and why. */
  typed?: string
  fault?: string
}

/** The thread, newest at the bottom, and the line to type into, in reach of the thumb. */
export const Conversation = ({ questions, turns, thread, typed = '', fault }: ConversationProps) => {
  const newest = turns.length - 1
  return (
    <Layout title={turns[newest]?.reply.answer?.headline ?? 'Ladderside'}>
      <h1>{sharedWords.parts.conversation}</h1>
      {turns.length === 0 ? <Stages questions={questions} /> : null}
      <ol class="thread">
        {turns.map((turn, at) => (
          <li id={at === newest ? 'newest' : undefined} tabindex={at === newest ? -1 : undefined}>
            <TurnView turn={turn} questions={questions} thread={thread} newest={at === newest} />
          </li>
        ))}
      </ol>
      <form method="post" action="/ask#newest" class="composer">
        {fault ? (
          <p class="fault" id="text-fault" role="alert">
            {fault}
          </p>
        ) : null}
        <input type="hidden" name="thread" value={thread} />
        <label for="text">{sharedWords.parts.composer}</label>
        <div>
          <input
            id="text"
            name="text"
            type="text"
            value={typed}
            placeholder={sharedWords.parts.composerExample}
            autocomplete="off"
            enterkeyhint="send"
            aria-describedby={fault ? 'text-fault' : undefined}
          />
          <button type="submit">{sharedWords.parts.send}</button>
        </div>
      </form>
    </Layout>
  )
}

type TurnProps = { turn: Turn; questions: readonly Question[]; thread: string; newest: boolean }

const TurnView = ({ turn: { said, typed, reply }, questions, thread, newest }: TurnProps) => {
  const question = questions.find(({ id }) => id === reply.reading?.question)
  return (
    <>
      <p class="said">{said}</p>
      <Understood reply={reply} question={question} typed={typed} />
      {reply.answer && question ? (
        <AnswerInThread answer={reply.answer} question={question} typed={typed} newest={newest} />
      ) : (
        <p class="reply">{reply.message}</p>
      )}
      {newest ? <QuickReplies reply={reply} thread={thread} /> : null}
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
        {Object.entries(reading.inputs).map(([field, understood]) => (
          <li>
            <a href={addressOf(question.id, { ...typed, open: field }, `#${field}`)}>
              {changed.includes(field) ? <span class="changed">{sharedWords.parts.changed} </span> : null}
              {question.words.fields[field]?.label ?? sharedWords.fields[field]?.label ?? field}:{' '}
              <b>{reply.answer?.inputs[field]?.text ?? shown(understood)}</b>
            </a>
          </li>
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

/** What was understood where there is no answer yet to print it. */
const shown = ({ value, unit, said }: { value: unknown; unit?: string; said: string }): string =>
  typeof value === 'number' && unit ? printValue(value, unit, 'us') : said

type AnswerProps = { answer: Answer; question: Question; typed: Turn['typed']; newest: boolean }

const AnswerInThread = ({ answer, question, typed, newest }: AnswerProps) => {
  if (newest) return <AnswerView answer={answer} question={question} typed={typed} />
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

const QuickReplies = ({ reply, thread }: { reply: Turn['reply']; thread: string }) => {
  const suggestions = (reply.missing ?? []).flatMap(({ suggestion }) => suggestion ?? [])
  const choices = reply.choices ?? []
  if (suggestions.length === 0 && choices.length === 0) return null
  return (
    <form method="post" action="/ask#newest" class="quick">
      <input type="hidden" name="thread" value={thread} />
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
