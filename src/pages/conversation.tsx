import type { Question } from '../questions/common/question'
import { sharedWords } from '../questions/common/shared-words'
import { Composer } from './composer'
import { Layout } from './layout'
import { Stages } from './stages'
import { type Turn, TurnView } from './turn'

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
export const Conversation = ({ questions, turns, thread, typed, fault }: ConversationProps) => {
  const newest = turns.length - 1
  const posting = { action: '/ask#newest', carried: { thread } }
  return (
    <Layout title={turns[newest]?.reply.answer?.headline ?? 'Ladderside'}>
      <h1>{sharedWords.parts.conversation}</h1>
      {turns.length === 0 ? <Stages questions={questions} /> : null}
      <ol class="thread">
        {turns.map((turn, at) => (
          <li id={at === newest ? 'newest' : undefined} tabindex={at === newest ? -1 : undefined}>
            <TurnView turn={turn} questions={questions} posting={posting} newest={at === newest} />
          </li>
        ))}
      </ol>
      <Composer {...posting} typed={typed} fault={fault} />
    </Layout>
  )
}
