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

/** A form that carries the thread. */
const postOf = (form: HTMLFormElement, submitter: HTMLElement | null): Request =>
  new Request(form.action, {
    method: 'POST',
    body: new URLSearchParams([...new FormData(form, submitter)] as [string, string][]),
  })

const carriedThread = (): HTMLInputElement | null => document.querySelector('.composer [name=thread]')

const keepThread = (): void => {
  const carried = carriedThread()
  if (carried) sessionStorage.setItem(threadKey, carried.value)
}

document.addEventListener('submit', (event) => {
  const form = event.target
  if (!(form instanceof HTMLFormElement) || form.enctype === 'multipart/form-data') return
  event.preventDefault()
  const { hash } = new URL(form.action)
  const url = form.method === 'get' ? queryOf(form, event.submitter) : undefined
  swap(url ? new Request(url) : postOf(form, event.submitter)).then(
    (response) => {
      if (url) history.pushState(null, '', url)
      else if (response.redirected) history.pushState(null, '', response.url)
      else keepThread()
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
