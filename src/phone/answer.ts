import { fileOf, isFile } from './files'
import { type PhoneHome, phoneHome } from './home'
import { phonePages } from './pages'
import { asItArrives } from './request'
import { askServer, hasSignal, patienceMs, transferMs } from './signal'
import { fetched, fetchingOf, lookAgain, send, tell } from './synchronise'
import { jobOfAddress, wayOf } from './ways'
import { type FetchEvent, worker } from './worker-scope'

/** Answers a request of a page, or leaves it to the browser. */
export function answer(event: FetchEvent): void {
  const { request } = event
  const url = new URL(request.url)
  if (url.origin !== worker.location.origin) return
  const way = wayOf({ method: request.method, url, navigates: request.mode === 'navigate' }, isFile)
  if (way === 'file') event.respondWith(fileOf(request))
  if (way === 'here') event.respondWith(here(request))
  if (way === 'phone') event.respondWith(phonePages.fetch(request))
  if (way === 'server-first') event.respondWith(serverFirst(event, jobOfAddress(url)))
  if (way === 'here-first') event.respondWith(hereFirst(event, jobOfAddress(url)))
}

const here = async (request: Request): Promise<Response> =>
  (await phoneHome()).app.fetch(await asItArrives(request))

const pause = (ms: number): Promise<undefined> =>
  new Promise((resolve) => setTimeout(() => resolve(undefined), ms))

/** The server's page where it can be had and lacks nothing that was done here; otherwise this phone's. */
async function serverFirst(event: FetchEvent, jobId: string | null): Promise<Response> {
  const request = event.request.clone()
  const home = await phoneHome()
  const fromServer = await serversPage(event.request, home)
  if (fromServer) {
    if (isLedElsewhere(fromServer)) event.waitUntil(lookAgain())
    else if (jobId && home.kept) event.waitUntil(fetched(home.kept, jobId))
    return fromServer
  }
  const response = await here(request)
  event.waitUntil(tell())
  return response
}

async function serversPage(request: Request, { kept }: PhoneHome): Promise<Response | undefined> {
  if (kept && !hasSignal()) return undefined
  const sent = await Promise.race([send(), pause(patienceMs)])
  if (sent?.reached !== 'all') return undefined
  try {
    // What is done must not be given up half-way: nobody would know whether it was done.
    return await askServer(request, request.method === 'GET' ? patienceMs : transferMs)
  } catch {
    return undefined
  }
}

/** Whether the server answered something else than it was asked, as it does a device that is not paired. */
const isLedElsewhere = ({ type, redirected, status }: Response): boolean =>
  type === 'opaqueredirect' || redirected || status === 401

/** Done here, where one request makes one set of ids; what cannot be done here is left to the server. */
async function hereFirst(event: FetchEvent, jobId: string | null): Promise<Response> {
  const request = event.request.clone()
  const home = await phoneHome()
  if (jobId) await Promise.race([broughtUp(home, jobId), pause(patienceMs)])
  const response = await home.app.fetch(await asItArrives(event.request))
  if (cannotHere(response)) return fetch(request).catch(() => response)
  event.waitUntil(send())
  return response
}

/** A job that is on its way, or is not here at all, is waited for. */
async function broughtUp({ kept }: PhoneHome, jobId: string): Promise<void> {
  if (!kept) return
  const shared = await kept.countShared(jobId)
  const isHere = shared.ok && shared.value > 0
  await (fetchingOf(jobId) ?? (isHere || !hasSignal() ? undefined : fetched(kept, jobId)))
}

/** What is not known here, or cannot be kept here; nothing was done then. */
const cannotHere = ({ status }: Response): boolean => status === 404 || status >= 500
