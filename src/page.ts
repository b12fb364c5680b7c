/**
 * The small script that a page can do without: it answers a form in place, so that the answer comes without a white
 * flash, and it keeps the thread when the page is left and opened again.
 */
const threadKey = 'ladderside-thread'

async function swap(request: Request): Promise<Response> {
  const response = await fetch(request)
  const fresh = new DOMParser().parseFromString(await response.text(), 'text/html')
  const main = fresh.querySelector('main')
  if (!main) throw new Error('The page came without its content')
  document.querySelector('main')?.replaceWith(main)
  document.title = fresh.title
  return response
}

function land(hash: string): void {
  const wanted = hash ? document.getElementById(decodeURIComponent(hash.slice(1))) : null
  const shown = document.getElementById('errors') ?? wanted ?? document.getElementById('main')
  shown?.scrollIntoView()
  shown?.focus()
}

/** A form that asks by its address; empty fields stay out of it. */
function queryOf(form: HTMLFormElement, submitter: HTMLElement | null): URL {
  const url = new URL(form.action)
  const filled = [...new FormData(form, submitter)].filter(([, value]) => value !== '')
  url.search = new URLSearchParams(filled as [string, string][]).toString()
  return url
}

/** A form that carries something: the thread, a fact, a file. */
function postOf(form: HTMLFormElement, submitter: HTMLElement | null): Request {
  const data = new FormData(form, submitter)
  const carriesFile = form.enctype === 'multipart/form-data'
  const body = carriesFile ? data : new URLSearchParams([...data] as [string, string][])
  return new Request(form.action, { method: 'POST', body })
}

/** Whether a form was answered with another page. A worker between the two may hide that it was led there. */
const hasMoved = ({ action }: HTMLFormElement, { redirected, url }: Response): boolean =>
  redirected || url !== action.split('#')[0]

const carriedThread = (): HTMLInputElement | null => document.querySelector('.composer [name=thread]')

const keepThread = (): void => {
  const carried = carriedThread()
  if (carried) sessionStorage.setItem(threadKey, carried.value)
}

document.addEventListener('submit', (event) => {
  const form = event.target
  if (!(form instanceof HTMLFormElement)) return
  event.preventDefault()
  const { hash } = new URL(form.action)
  const url = form.method === 'get' ? queryOf(form, event.submitter) : undefined
  swap(url ? new Request(url) : postOf(form, event.submitter)).then(
    (response) => {
      if (url) history.pushState(null, '', url)
      else if (hasMoved(form, response)) {
        history.pushState(null, '', response.url)
        // It may have been the form by which this phone is let in.
        send()
      } else keepThread()
      land(hash)
    },
    () => form.submit(),
  )
})

addEventListener('popstate', () => {
  const { hash } = location
  swap(new Request(location.href)).then(
    () => land(hash),
    () => location.reload(),
  )
})

/** The conversation opens where it was left: the server works every reply out anew from the lines alone. */
async function resumeThread(): Promise<void> {
  const kept = sessionStorage.getItem(threadKey)
  if (!kept || kept === '[]' || carriedThread()?.value !== '[]') return
  await swap(new Request('/ask', { method: 'POST', body: new URLSearchParams({ thread: kept }) }))
  land('#newest')
}

resumeThread().catch(() => sessionStorage.removeItem(threadKey))

/** What the phone's own app tells of itself (src/phone/synchronise.ts). */
type Told = { sentence: string; attention: boolean; waiting: number }

const sendEveryMs = 60_000
let sendLater: ReturnType<typeof setTimeout> | undefined

function show({ sentence, attention, waiting }: Told): void {
  const [kept, banner] = [document.getElementById('kept'), document.getElementById('attention')]
  if (kept) kept.textContent = sentence
  const link = document.createElement('a')
  link.href = '/phone'
  link.textContent = sentence
  if (banner?.textContent !== (attention ? sentence : ''))
    banner?.replaceChildren(...(attention ? [link] : []))
  clearTimeout(sendLater)
  if (waiting === 0) return
  sendLater = setTimeout(send, sendEveryMs)
  // What waits must outlast a browser that makes room.
  navigator.storage?.persist?.().catch(() => undefined)
}

/** Has the phone send what waits and fetch what is new; it tells how that went. */
async function send(): Promise<void> {
  if (!('serviceWorker' in navigator) || !navigator.serviceWorker.controller) return
  await fetch('/phone/send', { method: 'POST', redirect: 'manual' }).catch(() => undefined)
}

/** Once the page is there, the app itself comes onto the phone, so that it needs no signal the next time. */
async function moveIn(): Promise<void> {
  const { serviceWorker } = navigator
  serviceWorker.addEventListener('message', ({ data }) => show(data as Told))
  serviceWorker.addEventListener('controllerchange', send)
  addEventListener('online', send)
  await serviceWorker.register('/phone.js')
  await send()
}

if ('serviceWorker' in navigator) {
  // A browser that lets nothing be kept still shows every page.
  addEventListener('load', () => moveIn().catch(() => undefined))
}
