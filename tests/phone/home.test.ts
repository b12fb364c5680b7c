import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import manifest from '../../package.json'
import {
  accessibilityFaults,
  openBrowser,
  openPhone,
  type RunningServer,
  smallTargets,
  startServer,
  widest,
} from '../browser'
import { type Line, openLine } from './line'
import { askFromPage, form, isOnPhone, signalIsBack, visit, waitUntilSent } from './phone'

let browser: Browser
let server: RunningServer
const data = mkdtempSync(join(tmpdir(), 'ladderside-home-'))

beforeAll(async () => {
  ;[browser, server] = await Promise.all([openBrowser(), startServer({ LADDERSIDE_DATA: data })])
})

afterAll(async () => {
  await browser?.close()
  await server?.stop()
  rmSync(data, { recursive: true, force: true })
})

/** One phone with a line of its own, visited once. */
async function onPhone(
  work: (phone: { context: BrowserContext; page: Page; line: Line }) => Promise<void>,
  prelude?: string,
): Promise<void> {
  const line = await openLine(server.address)
  const context = await openPhone(browser)
  try {
    if (prelude) await beginWorkerWith(context, prelude)
    await work({ context, page: await visit(context, line.address), line })
  } finally {
    await context.close()
    line.close()
  }
}

const begin = async (page: Page, line: Line, name: string): Promise<void> => {
  await page.goto(`${line.address}/jobs`)
  await page.fill('#name', name)
  await page.tap('main form button')
  await page.waitForSelector('.composer')
}

const say = async (page: Page, text: string): Promise<void> => {
  const before = await page.locator('.thread > li').count()
  await page.fill('#text', text)
  await page.tap('.composer button')
  await page.waitForFunction((count) => document.querySelectorAll('.thread > li').length > count, before)
}

const foot = (page: Page): Promise<string | null> => page.textContent('.foot')

/** The page asks its worker for the state and shows it when that has answered, which may be after it is loaded. */
const footSays = (page: Page, text: string): Promise<void> =>
  page.locator('.foot', { hasText: text }).waitFor()

/** Has the worker begin with a script of the test's own, for what a browser cannot be asked to do. */
const beginWorkerWith = (context: BrowserContext, prelude: string): Promise<unknown> =>
  context.route('**/phone.js', async (route) => {
    const script = await (await fetch(`${server.address}/phone.js`)).text()
    await route.fulfill({ contentType: 'text/javascript', body: `${prelude};${script}` })
  })

/** What a browser does whose disk is full, from when a page says so: nothing more can be added. */
const fillsUp = `(() => {
  let full = false
  addEventListener('message', ({ data }) => { full = data === 'full' })
  const { add } = IDBObjectStore.prototype
  IDBObjectStore.prototype.add = function (...given) {
    if (full) throw new DOMException('full', 'QuotaExceededError')
    return add.apply(this, given)
  }
})()`

const tellWorker = (page: Page, message: string): Promise<void> =>
  page.evaluate((told) => navigator.serviceWorker.controller?.postMessage(told), message)

describe('what waits', () => {
  it('is said on every page, is there after all pages were closed, and goes up when the signal is back', async () => {
    await onPhone(async ({ context, page, line }) => {
      line.state = 'cut'
      await begin(page, line, 'Upper landing')
      await say(page, 'what gauge for 40 feet at 24 volts, 60 watts')
      await page.waitForSelector('#attention:has-text("2 entries wait for a signal.")')
      await footSays(page, 'No signal: answered on this phone. 2 entries wait for a signal.')
      await page.close()
      const again = await context.newPage()
      await again.goto(`${line.address}/q/feed-gauge`)
      await again.waitForSelector('#attention:has-text("2 entries wait")')
      await again.tap('#attention a')
      await again.waitForSelector('main button:has-text("Send now")')
      expect(await accessibilityFaults(again)).toEqual([])
      expect(await smallTargets(again)).toEqual([])
      expect(await widest(again)).toBeLessThanOrEqual(360)
      line.state = 'open'
      await again.tap('main button:has-text("Send now")')
      await again.waitForSelector('main:has-text("Nothing waits here.")')
      await waitUntilSent(again)
      expect(await again.locator('#attention a').count()).toBe(0)
      await again.goto(`${line.address}/jobs`)
      expect(await again.textContent('main')).toContain('Upper landing')
    })
  })

  it('is in the page of its job while a server is there that cannot take it, with the reason', async () => {
    await onPhone(async ({ page, line }) => {
      line.state = 'cut'
      await begin(page, line, 'Lower landing')
      const path = new URL(page.url()).pathname
      const full = await startServer({ LADDERSIDE_DATA: '/dev/null/none' })
      try {
        line.leadTo(full.address)
        line.state = 'open'
        await signalIsBack(page)
        await page.waitForSelector('#attention:has-text("1 entry waits: The server keeps no jobs now")')
        await page.goto(`${line.address}${path}`)
        expect(await page.textContent('h1')).toBe('Lower landing')
      } finally {
        await full.stop()
      }
    })
  })
})

describe('a signal so poor that nothing comes back', () => {
  it('is waited for only once, and the job is there all the same', async () => {
    await onPhone(async ({ page, line }) => {
      await begin(page, line, 'Long hall')
      const address = page.url()
      await waitUntilSent(page)
      line.state = 'silent'
      await page.goto(address)
      expect(await page.textContent('h1')).toBe('Long hall')
      const before = Date.now()
      await page.goto(address)
      expect(Date.now() - before).toBeLessThan(2500)
      expect(await page.textContent('h1')).toBe('Long hall')
    })
  })
})

describe('a job that somebody else began', () => {
  it('is there without a signal, though it was never opened on this phone', async () => {
    const begun = await fetch(`${server.address}/api/jobs`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ name: 'Boot room' }),
    })
    const { job } = (await begun.json()) as { job: { id: string } }
    await onPhone(async ({ page, line }) => {
      await expect.poll(() => page.evaluate(isOnPhone, job.id), { timeout: 10_000 }).toBe(true)
      line.state = 'cut'
      await page.goto(`${line.address}/jobs/${job.id}`)
      expect(await page.textContent('main')).toContain('Boot room')
      await page.goto(`${line.address}/jobs`)
      expect(await page.textContent('main')).toContain('Boot room')
    })
  })
})

describe('a phone that is full', () => {
  it('says so, loses nothing that it has kept, and goes on once there is room', async () => {
    await onPhone(async ({ page, line }) => {
      line.state = 'cut'
      await begin(page, line, 'Back stairs')
      const path = new URL(page.url()).pathname
      await say(page, 'what gauge for 40 feet at 24 volts, 60 watts')
      await tellWorker(page, 'full')
      const { status, text } = await askFromPage(page, `${path}/ask`, form({ text: 'and at 12 volts?' }))
      expect([status, text]).toEqual([507, expect.stringContaining('full')])
      await page.goto(`${line.address}${path}`)
      expect(await page.locator('.thread > li').count()).toBe(1)
      await footSays(page, '2 entries wait')
      await tellWorker(page, 'room again')
      await say(page, 'and at 12 volts?')
      line.state = 'open'
      await signalIsBack(page)
      await waitUntilSent(page)
      expect(await page.locator('.thread > li').count()).toBe(2)
    }, fillsUp)
  })

  it('leaves to the server what it cannot keep, where there is a signal', async () => {
    await onPhone(async ({ page, line }) => {
      await tellWorker(page, 'full')
      await begin(page, line, 'Side door')
      await say(page, 'what gauge for 40 feet at 24 volts, 60 watts')
      const listed = (await (await fetch(`${server.address}/api/jobs`)).json()) as {
        jobs: { name: string }[]
      }
      expect(listed.jobs.filter(({ name }) => name === 'Side door')).toHaveLength(1)
    }, fillsUp)
  })
})

describe('a browser that keeps nothing', () => {
  it('answers questions all the same, says so, and leaves jobs to the server', async () => {
    const refusing = `indexedDB.open = () => { throw new DOMException('refused', 'SecurityError') }`
    await onPhone(async ({ page, line }) => {
      await page.waitForSelector('#attention:has-text("This browser keeps nothing")')
      await begin(page, line, 'Front door')
      await say(page, 'what gauge for 40 feet at 24 volts, 60 watts')
      line.state = 'cut'
      await page.goto(`${line.address}/q/feed-gauge?distance=40+ft&voltage=24+V&load=60+W`)
      expect(await page.textContent('.headline')).toContain('14 AWG')
    }, refusing)
  })
})

describe('an update', () => {
  /** The same build under another version, in a folder of its own. */
  function buildOf(version: string): { script: string; remove: () => void } {
    const folder = mkdtempSync(join(tmpdir(), 'ladderside-build-'))
    cpSync('dist', join(folder, 'dist'), { recursive: true })
    symlinkSync(resolve('node_modules'), join(folder, 'node_modules'))
    writeFileSync(join(folder, 'package.json'), '{"type":"module"}')
    for (const each of readdirSync(join(folder, 'dist'), { recursive: true, withFileTypes: true })) {
      const file = join(each.parentPath, each.name)
      if (/\.(br|gz)$/.test(each.name)) rmSync(file)
      else if (each.name.endsWith('.js')) {
        writeFileSync(file, readFileSync(file, 'utf8').replaceAll(manifest.version, version))
      }
    }
    const remove = () => rmSync(folder, { recursive: true, force: true })
    return { script: join(folder, 'dist', 'server.js'), remove }
  }

  it('breaks no open job, shows its version, and takes the old files away', async () => {
    const build = buildOf('9.9.9')
    const newer = await startServer({ LADDERSIDE_DATA: data }, build.script)
    try {
      await onPhone(async ({ context, page, line }) => {
        line.state = 'cut'
        await begin(page, line, 'Attic')
        await say(page, 'what gauge for 40 feet at 24 volts, 60 watts')
        expect(await foot(page)).toContain(`Ladderside ${manifest.version}`)
        line.leadTo(newer.address)
        line.state = 'open'
        const other = await context.newPage()
        await other.goto(line.address)
        const names = () => other.evaluate(async () => (await caches.keys()).join())
        await expect.poll(names, { timeout: 10_000 }).toBe('ladderside-9.9.9')
        await other.reload()
        expect(await foot(other)).toContain('Ladderside 9.9.9')
        // The page that was open all the while goes on where it was.
        await say(page, 'and at 12 volts?')
        await page.reload()
        expect(await page.locator('.thread > li').count()).toBe(2)
        expect(await foot(page)).toContain('Ladderside 9.9.9')
        await waitUntilSent(page)
        const listed = (await (await fetch(`${newer.address}/api/jobs`)).json()) as {
          jobs: { name: string; entries: number }[]
        }
        expect(listed.jobs.filter(({ name }) => name === 'Attic')).toMatchObject([{ entries: 2 }])
      })
    } finally {
      await newer.stop()
      build.remove()
    }
  })
})
