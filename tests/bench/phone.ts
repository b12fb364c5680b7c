import { loadavg } from 'node:os'
import type { Browser, BrowserContext, CDPSession, Page } from 'playwright-core'
import { questions } from '../../src/questions/registry'
import { openBrowser, openPhone, startServer } from '../browser'
import { type Line, openLine, type Slowness } from '../phone/line'
import { askFromPage, form } from '../phone/phone'
import { formOf, saidOf } from '../phone/said'
import { type Measured, median } from './measured'

/** A phone of the middling kind on a poor signal, as page audits take it: a quarter of this processor, slow 4G. */
const processorRate = 4
const slow4g: Slowness = { roundTripMs: 150, bytesPerSecond: (1638.4 * 1000) / 8 }

const rounds = 5
const answer = '/q/feed-gauge?distance=40+ft&voltage=24+V&load=60+W'

type Visit = { paintMs: number; bytes: number; scriptedBytes: number }

/** The figures of one first visit and what comes after it. */
type Round = { first: Visit; readyMs: number; readyBytes: number; next: Visit; second: Visit; offline: Visit }

/** A page on a slowed processor. */
async function slowedPage(context: BrowserContext): Promise<{ page: Page; session: CDPSession }> {
  const page = await context.newPage()
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate: processorRate })
  await session.send('Network.enable')
  return { page, session }
}

/** When the largest piece of the page was painted, in ms after it was asked for. */
const largestPaint = (page: Page): Promise<number> =>
  page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        new PerformanceObserver((list) => resolve(list.getEntries().at(-1)?.startTime ?? Number.NaN)).observe(
          {
            type: 'largest-contentful-paint',
            buffered: true,
          },
        )
      }),
  )

async function visited(page: Page, session: CDPSession, line: Line, path: string): Promise<Visit> {
  const images = new Set<string>()
  let scriptedBytes = 0
  const received = ({ requestId, encodedDataLength }: { requestId: string; encodedDataLength: number }) => {
    if (!images.has(requestId)) scriptedBytes += encodedDataLength
  }
  session.on('Network.responseReceived', ({ requestId, type }) => {
    if (type === 'Image' || type === 'Other') images.add(requestId)
  })
  session.on('Network.loadingFinished', received)
  const before = line.bytes()
  await page.goto(`${line.address}${path}`)
  const bytes = line.bytes() - before
  session.off('Network.loadingFinished', received)
  return { paintMs: await largestPaint(page), bytes, scriptedBytes }
}

async function round(browser: Browser, server: string): Promise<Round> {
  const line = await openLine(server, slow4g)
  const context = await openPhone(browser)
  try {
    const { page, session } = await slowedPage(context)
    const begun = performance.now()
    const first = await visited(page, session, line, '/')
    await page.waitForFunction(() => document.getElementById('kept')?.textContent !== '')
    const [readyMs, readyBytes] = [performance.now() - begun, line.bytes()]
    const next = await visited(page, session, line, answer)
    await page.close()
    const again = await slowedPage(context)
    const second = await visited(again.page, again.session, line, '/')
    line.state = 'cut'
    const offline = await visited(again.page, again.session, line, answer)
    return { first, readyMs, readyBytes, next, second, offline }
  } finally {
    await context.close()
    line.close()
  }
}

/**
 * How long each question takes without a signal, in ms as the page sees it: by line or by form, and by a worker just
 * begun, a form's and a line's, for which that worker has to read all phrases first.
 */
async function offlineAnswers(
  browser: Browser,
  server: string,
): Promise<{ warm: number[]; cold: number[]; coldLines: number[] }> {
  const line = await openLine(server)
  const context = await openPhone(browser)
  try {
    const { page, session } = await slowedPage(context)
    await page.goto(line.address)
    await page.waitForFunction(() => document.getElementById('kept')?.textContent !== '')
    line.state = 'cut'
    const warm: number[] = []
    const cold: number[] = []
    const coldLines: number[] = []
    const lines: RequestInit[] = []
    const forms: string[] = []
    for (const { id } of questions) {
      const [text = ''] = saidOf(id, 1)
      const asked = form({ thread: '[]', text })
      lines.push(asked)
      const thread = await askFromPage(page, '/ask', asked)
      forms.push(`/q/${id}?${formOf(id, thread.text)}`)
      warm.push(await timed(page, '/ask', asked), await timed(page, forms.at(-1) ?? '', {}))
    }
    await session.send('ServiceWorker.enable')
    for (const path of forms.slice(0, rounds)) {
      await session.send('ServiceWorker.stopAllWorkers')
      cold.push(await timed(page, path, {}))
    }
    for (const asked of lines.slice(0, rounds)) {
      await session.send('ServiceWorker.stopAllWorkers')
      coldLines.push(await timed(page, '/ask', asked))
    }
    return { warm, cold, coldLines }
  } finally {
    await context.close()
    line.close()
  }
}

const timed = (page: Page, path: string, init: RequestInit): Promise<number> =>
  page.evaluate(
    async ([path, init]) => {
      const begun = performance.now()
      await (await fetch(path, init)).text()
      return performance.now() - begun
    },
    [path, init] as const,
  )

const kilobytes = (bytes: number): string => `${(bytes / 1000).toFixed(1)} kB`

function told(name: string, visits: readonly Visit[]): number {
  const paintMs = median(visits.map((visit) => visit.paintMs))
  const bytes = median(visits.map((visit) => visit.bytes))
  console.info(`  ${name}: largest paint after ${Math.round(paintMs)} ms, ${kilobytes(bytes)} over the line`)
  return paintMs
}

/** What a phone has to load and how long it takes, on a slowed processor and a slowed line. */
export async function benchPhone(): Promise<Measured[]> {
  const [browser, server] = await Promise.all([openBrowser(), startServer()])
  try {
    const done: Round[] = []
    for (let each = 0; each < rounds; each += 1) done.push(await round(browser, server.address))
    const { warm, cold, coldLines } = await offlineAnswers(browser, server.address)
    console.info(`  load of this machine: ${loadavg()[0]?.toFixed(1)}`)
    const firstMs = told(
      'first visit',
      done.map(({ first }) => first),
    )
    const nextMs = told(
      'first answer after it',
      done.map(({ next }) => next),
    )
    const secondMs = told(
      'second visit',
      done.map(({ second }) => second),
    )
    const offlineMs = told(
      'an answer without a signal',
      done.map(({ offline }) => offline),
    )
    const readyMs = median(done.map((each) => each.readyMs))
    const readyBytes = median(done.map((each) => each.readyBytes))
    console.info(`  needs no signal after ${Math.round(readyMs)} ms and ${kilobytes(readyBytes)} in all`)
    const worst = Math.max(...warm)
    console.info(
      `  an answer from the worker: ${median(warm).toFixed(0)} ms, at worst ${worst.toFixed(0)} ms; from one just begun ${median(cold).toFixed(0)} ms, to a line ${median(coldLines).toFixed(0)} ms`,
    )
    const pageBytes = median(done.map(({ first }) => first.scriptedBytes))
    const atMost = (name: string, ratio: number): Measured => ({ name, ratio, target: 1, is: 'at most' })
    return [
      atMost('the first page without images / 30 kB', pageBytes / 30_000),
      atMost('largest paint of the first visit / 1.5 s', firstMs / 1500),
      atMost('largest paint of the first answer / 1.5 s', nextMs / 1500),
      atMost('largest paint of the second visit / 1.5 s', secondMs / 1500),
      atMost('largest paint without a signal / 1.5 s', offlineMs / 1500),
      atMost('an answer without a signal / 100 ms', median(warm) / 100),
      atMost('the same from a worker just begun / 1.5 s', median(cold) / 1500),
      atMost('the same to a line / 1.5 s', median(coldLines) / 1500),
    ]
  } finally {
    await browser.close()
    await server.stop()
  }
}
