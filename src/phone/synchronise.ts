import type { PhoneLog } from '../jobs/log/idb-job-log'
import { fetchJob, fetchNewest } from '../jobs/sync/fetch-jobs'
import { heeding } from '../jobs/sync/heeding'
import { type AskServer, type Reached, sendWaiting } from '../jobs/sync/send'
import { phoneHome } from './home'
import { askServer, hasSignal, transferMs } from './signal'
import { heldBy, needsAttention, type PhoneState, sentenceOf } from './state'
import { worker } from './worker-scope'

/** How often the jobs touched last are looked at, in ms. */
const newsEveryMs = 60_000

const exchange: AskServer = (path, body) =>
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
  last = await heeding(kept, exchange, () => sendWaiting(kept.outbox, exchange))
  if (last.reached === 'no-signal' || last.reached === 'stopped')
    await worker.registration.sync?.register('waiting').catch(() => undefined)
  await tell()
  return last
}

/** Sends what waits and fetches what is new, as when a page was opened or the signal came back. */
export async function synchronise(): Promise<void> {
  const { kept } = await phoneHome()
  if (!kept) return tell()
  const { reached } = await send()
  if (reached !== 'all' || Date.now() - newsAt < newsEveryMs) return
  await lookForNews(kept)
}

/** Fetches what is new; it may be that this phone was shut out. */
async function lookForNews(kept: PhoneLog): Promise<void> {
  const fetched = await heeding(kept, exchange, () => fetchNewest(kept, exchange))
  if (fetched.reached === 'all') newsAt = Date.now()
  if (fetched.reached === 'shut-out') last = fetched
  await tell()
}

/** Looks at once, as when the server led elsewhere than it was asked for. */
export async function lookAgain(): Promise<void> {
  const { kept } = await phoneHome()
  if (kept) await lookForNews(kept)
}

const fetching = new Map<string, Promise<unknown>>()

/** The fetching of a job that is under way, if it is. */
export const fetchingOf = (jobId: string): Promise<unknown> | undefined => fetching.get(jobId)

/** Fetches a job, once at a time. */
export function fetched(kept: PhoneLog, jobId: string): Promise<unknown> {
  const started =
    fetching.get(jobId) ??
    heeding(kept, exchange, () => fetchJob(kept, jobId, exchange))
      .then(tell)
      .finally(() => fetching.delete(jobId))
  fetching.set(jobId, started)
  return started
}

export async function stateNow(): Promise<PhoneState> {
  const home = await phoneHome()
  const nothing = { hasSignal: hasSignal(), waiting: 0, refused: 0, clashing: 0, isShutOut: false }
  if (!home.kept) return { ...nothing, noStorage: home.noStorage }
  const { outbox, clashes, shop } = home.kept
  const counts = await outbox.counts()
  if (!counts.ok) return { ...nothing, noStorage: counts.message }
  const clashing = await clashes.count()
  if (!clashing.ok) return { ...nothing, noStorage: clashing.message }
  const isShutOut = await shop.isShutOut()
  if (!isShutOut.ok) return { ...nothing, noStorage: isShutOut.message }
  const { value } = counts
  return {
    ...nothing,
    ...value,
    clashing: clashing.value,
    isShutOut: isShutOut.value || last?.reached === 'shut-out',
    ...heldBy(last),
  }
}

/** Tells every open page how it stands. */
export async function tell(): Promise<void> {
  const message = toldOf(await stateNow())
  for (const page of await worker.clients.matchAll()) page.postMessage(message)
}

/** The state as pages get it: they have no words of their own. */
const toldOf = (state: PhoneState) => ({
  sentence: sentenceOf(state),
  attention: needsAttention(state),
  waiting: state.waiting,
})
