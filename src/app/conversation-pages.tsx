import { Hono } from 'hono'
import { csrf } from 'hono/csrf'
import { Conversation } from '../pages/conversation'
import { sharedSay } from '../questions/common/shared-words'
import { questions } from '../questions/registry'
import { type Act, keptOf, readPicked, readThread, turnsOf } from './conversation'
import { longestLine } from './reply'

/** `GET /`: the conversation. `POST /ask`: the same with one more line, the thread carried by the form. */
export const conversationPages = new Hono()

conversationPages.get('/', (context) =>
  context.html(<Conversation questions={questions} turns={[]} thread="[]" />),
)

conversationPages.post('/ask', csrf(), async (context) => {
  const form = await context.req.parseBody()
  const field = (name: string): string => (typeof form[name] === 'string' ? form[name] : '')
  const before = readThread(field('thread'))
  const said = actOf(field('picked'), field('text'))
  if (typeof said === 'string' && said.length > longestLine) {
    const fault = sharedSay('reply.tooLong', { most: String(longestLine) })
    const page = (
      <Conversation
        questions={questions}
        turns={turnsOf(before)}
        thread={JSON.stringify(before)}
        typed={said}
        fault={fault}
      />
    )
    return context.html(page, 422)
  }
  const acts = keptOf(said === undefined ? before : [...before, said])
  return context.html(
    <Conversation questions={questions} turns={turnsOf(acts)} thread={JSON.stringify(acts)} />,
  )
})

conversationPages.get('/ask', (context) => context.redirect('/'))

const actOf = (picked: string, text: string): Act | undefined => {
  if (picked) return readPicked(picked)
  return text.trim() ? text : undefined
}
