import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { questions } from '../../src/questions/registry'
import { openBrowser, openPhone, type RunningServer, startServer } from '../browser'
import { type Line, openLine } from './line'
import { askFromPage, form, isOnPhone, type Met, visit } from './phone'
import { formOf, saidOf } from './said'

let browser: Browser
let server: RunningServer
let line: Line
let context: BrowserContext
let page: Page

beforeAll(async () => {
  ;[browser, server] = await Promise.all([openBrowser(), startServer()])
  line = await openLine(server.address)
  context = await openPhone(browser)
  page = await visit(context, line.address)
  line.state = 'cut'
})

afterAll(async () => {
  await browser?.close()
  line?.close()
  await server?.stop()
})

/** The same request to the server itself. */
async function askServer(path: string, init: RequestInit = {}): Promise<Met> {
  const response = await fetch(`${server.address}${path}`, {
    ...init,
    headers: { ...init.headers, 'sec-fetch-site': 'same-origin' },
  })
  return {
    status: response.status,
    type: response.headers.get('content-type'),
    policy: response.headers.get('content-security-policy'),
    text: await response.text(),
  }
}

/** Where two texts part, in few words: an answer is long. */
function firstDifference(phones: string, servers: string): string | undefined {
  if (phones === servers) return undefined
  const at = [...phones].findIndex((character, index) => character !== servers[index])
  const around = (text: string) => text.slice(Math.max(0, at - 60), at + 60)
  return `the phone says …${around(phones)}…, the server …${around(servers)}…`
}

async function expectSame(path: string, init: RequestInit = {}): Promise<Met> {
  const [phones, servers] = [await askFromPage(page, path, init), await askServer(path, init)]
  const { text: phonesText, ...phonesHead } = phones
  const { text: serversText, ...serversHead } = servers
  expect(phonesHead).toEqual(serversHead)
  expect(firstDifference(phonesText, serversText)).toBeUndefined()
  return phones
}

const withoutFormIds = (text: string): string => text.replaceAll(/name="id" value="[0-9a-f-]{36}"/g, '')

const json = (body: unknown): RequestInit => ({
  method: 'POST',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(body),
})

describe('without a signal, after one visit', () => {
  it.each(questions.map(({ id }) => id))('%s is answered byte for byte as by the server', async (id) => {
    await expectSame(`/q/${id}`)
    await expectSame(`/q/${id}?nonsense=1`)
    await expectSame(`/api/questions/${id}`, json({}))
    const lines = saidOf(id, 4)
    expect(lines.length).toBeGreaterThan(1)
    let answered = 0
    for (const text of lines) {
      await expectSame('/api/ask', json({ text }))
      const thread = await expectSame('/ask', form({ thread: '[]', text }))
      const inputs = formOf(id, thread.text)
      const answer = await expectSame(`/q/${id}?${inputs}`)
      await expectSame(`/api/questions/${id}`, json(Object.fromEntries(inputs)))
      if (answer.text.includes('class="headline')) answered += 1
    }
    expect(answered).toBeGreaterThan(0)
  })

  it.each(['/', '/style.css', '/icon.svg', '/manifest.webmanifest', '/q/none', '/api/questions/none'])(
    '%s is the same',
    async (path) => {
      await expectSame(path)
    },
  )

  it('a job is shown as by the server, page by page, save the ids that each page makes for its forms', async () => {
    line.state = 'open'
    const begun = await askServer('/api/jobs', json({ name: 'Long hall', place: 'First floor' }))
    const { id } = (JSON.parse(begun.text) as { job: { id: string } }).job
    for (const text of ['what gauge for 40 feet at 24 volts, 60 watts', 'and at 12 volts?']) {
      await askServer(`/api/jobs/${id}/ask`, json({ text, where: 'North shelf' }))
    }
    await page.goto(`${line.address}/jobs/${id}`)
    await expect.poll(() => page.evaluate(isOnPhone, id), { timeout: 10_000 }).toBe(true)
    line.state = 'cut'
    const pages = ['', '/facts', '/check', '/sheet.csv', '/export'].map((each) => `/jobs/${id}${each}`)
    const twins = ['', '/export'].map((each) => `/api/jobs/${id}${each}`)
    const withIt = [`/q/feed-gauge?job=${id}&where=North+shelf`, `/q/driver-size?job=${id}`]
    for (const path of ['/jobs', '/api/jobs', ...pages, ...twins, ...withIt]) {
      const [phones, servers] = [await askFromPage(page, path), await askServer(path)]
      expect(phones.status, path).toBe(200)
      expect(firstDifference(withoutFormIds(phones.text), withoutFormIds(servers.text)), path).toBeUndefined()
    }
  })

  it('a conversation goes on in the page itself', async () => {
    await page.goto(`${line.address}/`)
    await page.fill('#text', 'what gauge for forty feet at twenty four volts')
    await page.tap('.composer button')
    await page.waitForSelector('#newest .reply')
    await page.fill('#text', '60 watts')
    await page.tap('.composer button')
    await page.waitForSelector('#newest .headline:has-text("14 AWG")')
    await page.goto(`${line.address}/q/feed-gauge`)
    await page.fill('[name=distance]', '40 ft')
    await page.fill('[name=voltage]', '24 V')
    await page.fill('[name=load]', '60 W')
    await page.tap('main form button[type=submit]:not([name])')
    await page.waitForSelector('.headline:has-text("14 AWG")')
  })

  it('can be put on the home screen: the manifest is taken, every icon is there, the version is shown', async () => {
    line.state = 'open'
    const session = await context.newCDPSession(page)
    const { manifest, errors } = (await session.send('Page.getAppManifest')) as {
      manifest?: unknown
      errors: unknown[]
      data?: string
    }
    expect(manifest ?? true).toBeTruthy()
    expect(errors).toEqual([])
    const { installabilityErrors } = (await session.send('Page.getInstallabilityErrors')) as {
      installabilityErrors: { errorId: string }[]
    }
    expect(installabilityErrors.map(({ errorId }) => errorId)).toEqual([])
    expect(await page.textContent('.foot')).toMatch(/Ladderside \d+\.\d+\.\d+/)
    line.state = 'cut'
  })
})
