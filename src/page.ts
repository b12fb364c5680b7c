/**
 * The small script that a page can do without: it answers a question's form in place, so that the answer comes
 * without a white flash and the eye stays where it was.
 */
const swap = async (url: URL): Promise<void> => {
  const response = await fetch(url, { headers: { accept: 'text/html' } })
  const fresh = new DOMParser().parseFromString(await response.text(), 'text/html')
  const main = fresh.querySelector('main')
  if (!main) throw new Error('The page came without its content')
  document.querySelector('main')?.replaceWith(main)
  document.title = fresh.title
}

const land = (url: URL): void => {
  const target = url.hash ? document.getElementById(decodeURIComponent(url.hash.slice(1))) : null
  const shown = target ?? document.getElementById('errors') ?? document.getElementById('main')
  shown?.scrollIntoView()
  shown?.focus()
}

const queryOf = (form: HTMLFormElement, submitter: HTMLElement | null): URL => {
  const url = new URL(form.action)
  const filled = [...new FormData(form, submitter)].filter(([, value]) => value !== '')
  url.search = new URLSearchParams(filled as [string, string][]).toString()
  return url
}

document.addEventListener('submit', (event) => {
  const form = event.target
  if (!(form instanceof HTMLFormElement) || form.method !== 'get') return
  event.preventDefault()
  const url = queryOf(form, event.submitter)
  swap(url).then(
    () => {
      history.pushState(null, '', url)
      land(url)
    },
    () => form.submit(),
  )
})

addEventListener('popstate', () => {
  const url = new URL(location.href)
  swap(url).then(
    () => land(url),
    () => location.reload(),
  )
})
