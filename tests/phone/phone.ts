import type { BrowserContext, Page } from 'playwright-core'

/** Opens a page and waits until the app has come onto the phone, as it has after one visit. */
export async function visit(context: BrowserContext, address: string): Promise<Page> {
  const page = await context.newPage()
  await page.goto(address)
  await page.waitForFunction(() => document.getElementById('kept')?.textContent !== '')
  return page
}

/** What a request from the page's own script is answered with. */
export type Met = { status: number; type: string | null; policy: string | null; text: string }

/** Asks from within a page, as its script would. */
export const askFromPage = (page: Page, path: string, init: RequestInit = {}): Promise<Met> =>
  page.evaluate(
    async ([path, init]) => {
      const response = await fetch(path, init)
      return {
        status: response.status,
        type: response.headers.get('content-type'),
        policy: response.headers.get('content-security-policy'),
        text: await response.text(),
      }
    },
    [path, init] as const,
  )

/** Tells a page that there is a signal again, as the browser would. */
export const signalIsBack = (page: Page): Promise<unknown> =>
  page.evaluate(() => dispatchEvent(new Event('online')))

/** Waits until nothing waits for the server any more. */
export const waitUntilSent = (page: Page): Promise<unknown> =>
  page.waitForFunction(() => !/wait|^$/.test(document.getElementById('kept')?.textContent ?? ''))

/** A form as a page sends it. */
export const form = (fields: Record<string, string>): RequestInit => ({
  method: 'POST',
  headers: { 'content-type': 'application/x-www-form-urlencoded' },
  body: new URLSearchParams(fields).toString(),
})

/** Whether a job has come onto the phone; runs in the page. */
export async function isOnPhone(id: string): Promise<boolean> {
  const ended = (request: IDBRequest) =>
    new Promise((resolve) => {
      request.onsuccess = resolve
    })
  const opening = indexedDB.open('ladderside-jobs')
  await ended(opening)
  const reading = opening.result.transaction('job_now').objectStore('job_now').get(id)
  await ended(reading)
  opening.result.close()
  return reading.result !== undefined
}

/**
 * Leaves the browser room for so many bytes more, as it keeps count itself; for a phone that has kept nothing yet, since
 * it looks again only after half a minute.
 *
 * @returns what takes the limit away
 */
export async function limitRoom(page: Page, origin: string, bytes: number): Promise<() => Promise<void>> {
  const session = await page.context().newCDPSession(page)
  const { usage } = await session.send('Storage.getUsageAndQuota', { origin })
  await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: usage + bytes })
  return () => session.detach()
}

/** Asks in a job until there is no room for more. How many lines were kept, and what was said then. */
export async function fillUp(page: Page, job: string): Promise<{ kept: number; refusal: Met }> {
  for (let kept = 0; kept < 100; kept += 1) {
    const met = await askFromPage(page, `${job}/ask`, form({ text: longLine }))
    if (met.status !== 200) return { kept, refusal: met }
  }
  throw new Error('There is still room')
}

const longLine = 'what gauge for 40 feet at 24 volts, 60 watts'
