import { fetchNewest } from '../jobs/sync/fetch-jobs'
import { type AskServer, type Reached, sendWaiting } from '../jobs/sync/send'
import { phoneHome } from './home'
import { askServer, hasSignal, transferMs } from './signal'
import { heldBy, type PhoneState, sentenceOf } from './state'
import { worker } from './worker-scope'

/** How often the jobs touched last are looked at, in ms. */
const newsEveryMs = 60_000

export const exchange: AskServer = (path, body) =>
  askServer(
    new URL(path, worker.location.href).href,
    transferMs,
    body === undefined
      ? {}
      : { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) },
  )

let underWay: Promise<Reached> | undefined
let following: Promise<Reached> | undefined
let last: Reached | undefined
let newsAt = Number.NEGATIVE_INFINITY

/**
 * Sends what waits, one attempt at a time. An attempt that is under way may have begun before there was a signal, or
 * before there was what is to be sent, so one more follows it.
 */
export function send(): Promise<Reached> {
  if (!underWay) return attempt()
  following ??= underWay.then(attempt, attempt)
  return following
}

function attempt(): Promise<Reached> {
  following = undefined
  underWay = sendOnce().finally(() => {
    underWay = undefined
  })
  return underWay
}

async function sendOnce(): Promise<Reached> {
  const { kept } = await phoneHome()
  if (!kept) return { reached: 'all' }
  last = await sendWaiting(kept.outbox, exchange)
  if (last.reached !== 'all') await worker.registration.sync?.register('waiting').catch(() => undefined)
  await tell()
  return last
}

/** Sends what waits and fetches what is new, as when a page was opened or the signal came back. */
export async function synchronise(): Promise<void> {
  const { kept } = await phoneHome()
  if (!kept) return tell()
  const { reached } = await send()
  if (reached !== 'all' || Date.now() - newsAt < newsEveryMs) return
  const fetched = await fetchNewest(kept, exchange)
  if (fetched.reached === 'all') newsAt = Date.now()
  await tell()
}

export async function stateNow(): Promise<PhoneState> {
  const home = await phoneHome()
  if (!home.kept) return { hasSignal: hasSignal(), waiting: 0, refused: 0, noStorage: home.noStorage }
  const counts = await home.kept.outbox.counts()
  if (!counts.ok) return { hasSignal: hasSignal(), waiting: 0, refused: 0, noStorage: counts.message }
  return { hasSignal: hasSignal(), ...counts.value, ...heldBy(last) }
}

/** Tells every open page how it stands. */
export async function tell(): Promise<void> {
  const message = toldOf(await stateNow())
  for (const page of await worker.clients.matchAll()) page.postMessage(message)
}

/** The state as pages get it: they have no words of their own. */
const toldOf = (state: PhoneState) => ({
  sentence: sentenceOf(state),
  attention: !state.hasSignal || state.waiting + state.refused > 0 || state.noStorage !== undefined,
  waiting: state.waiting,
})
