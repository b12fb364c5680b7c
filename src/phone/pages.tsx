import { Hono } from 'hono'
import type { RefusedMark } from '../jobs/log/idb-database'
import { Layout } from '../pages/layout'
import { phoneHome } from './home'
import { type PhoneState, sentenceOf } from './state'
import { stateNow, synchronise } from './synchronise'
import { phoneWords } from './words'

/** `/phone`: what waits on this phone and what the server would not take. Only the phone has these pages. */
export const phonePages = new Hono().basePath('/phone')

phonePages.get('/', async (context) => {
  const { kept } = await phoneHome()
  const refused = await kept?.outbox.refused()
  return context.html(<KeptHere state={await stateNow()} refused={refused?.ok ? refused.value : []} />)
})

phonePages.post('/send', async (context) => {
  await synchronise()
  return context.redirect('/phone', 303)
})

phonePages.post('/send-again', async (context) => {
  const { kept } = await phoneHome()
  await kept?.outbox.retryRefused()
  await synchronise()
  return context.redirect('/phone', 303)
})

const { parts } = phoneWords

const KeptHere = ({ state, refused }: { state: PhoneState; refused: readonly RefusedMark[] }) => (
  <Layout title={phoneWords.title}>
    <h1>{phoneWords.title}</h1>
    <p>{sentenceOf(state)}</p>
    {state.waiting + state.refused === 0 ? <p>{parts.nothing}</p> : null}
    {state.waiting > 0 ? (
      <form method="post" action="/phone/send">
        <h2>{parts.waiting}</h2>
        <p>{parts.waitingWhy}</p>
        <button type="submit">{parts.sendNow}</button>
      </form>
    ) : null}
    {refused.length > 0 ? (
      <form method="post" action="/phone/send-again">
        <h2>{parts.refused}</h2>
        <p>{parts.refusedWhy}</p>
        <ul>
          {refused.map(({ message, jobId }) => (
            <li>
              {message}{' '}
              <a href={`/jobs/${jobId}`} class="plain">
                {parts.job}
              </a>
            </li>
          ))}
        </ul>
        <button type="submit">{parts.sendAgain}</button>
      </form>
    ) : null}
  </Layout>
)
