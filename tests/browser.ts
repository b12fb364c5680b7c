import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sparticuz from '@sparticuz/chromium'
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js')

/**
 * What the package sets for a machine without a screen and this is better without: one process, in which closing one
 * phone would close them all; drawing by a simulated graphics card, which costs more than drawing without; and laxer
 * rules than the browsers of people have.
 */
const unwanted =
  /single-process|gpu|gl=|angle|swiftshader|disable-web-security|allow-running-insecure-content/

/** A real browser, as it comes out of the registry package. */
export async function openBrowser(): Promise<Browser> {
  const args = [...sparticuz.args.filter((argument) => !unwanted.test(argument)), '--disable-gpu']
  return chromium.launch({ executablePath: await sparticuz.executablePath(), args, headless: true })
}

/** How a phone is set: whether its pages may run scripts, by day or by night, whether the app may move in. */
export type PhoneSettings = { script?: boolean; dark?: boolean; movesIn?: boolean }

/**
 * A phone held upright. Where the app does not move in, every page is the server's own, and no megabyte of worker is
 * read for each of many phones.
 */
export const openPhone = (
  browser: Browser,
  { script = true, dark = false, movesIn = true }: PhoneSettings = {},
): Promise<BrowserContext> =>
  browser.newContext({
    viewport: { width: 360, height: 740 },
    javaScriptEnabled: script,
    colorScheme: dark ? 'dark' : 'light',
    hasTouch: true,
    isMobile: true,
    serviceWorkers: movesIn ? 'allow' : 'block',
  })

/** A server in a process of its own; `stop` ends it, and throws where it does not end by itself. */
export type RunningServer = { address: string; process: ChildProcess; stop: () => Promise<void> }

/**
 * The built server on a free port, with jobs of its own.
 *
 * @param script the server; another one than the build's for tests of an update
 */
export async function startServer(
  environment: Record<string, string> = {},
  script = 'dist/server.js',
): Promise<RunningServer> {
  const data = await mkdtemp(join(tmpdir(), 'ladderside-data-'))
  const child = spawn(process.execPath, [script], {
    env: { ...process.env, PORT: '0', HOST: '127.0.0.1', LADDERSIDE_DATA: data, ...environment },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  child.once('exit', () => rm(data, { recursive: true, force: true }))
  const ended = once(child, 'exit').then(([code, signal]) => {
    throw new Error(`The server ended before it was ready: ${code ?? signal}`)
  })
  const [line] = (await Promise.race([once(child.stdout, 'data'), ended])) as [Buffer]
  const address = /http:\/\/\S+/.exec(line.toString())?.[0]
  if (!address) throw new Error(`The server said "${line}"`)
  return { address, process: child, stop: () => stopped(child) }
}

/** Longer than a server waits for whoever is still connected, in ms. */
const mostStoppingMs = 25_000

async function stopped(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return
  const ended = once(child, 'exit')
  const overdue = setTimeout(() => child.kill('SIGKILL'), mostStoppingMs)
  child.kill()
  const [, signal] = await ended
  clearTimeout(overdue)
  if (signal === 'SIGKILL') throw new Error('The server did not end when it was told to')
}

/** What axe-core finds on a page, contrast of 7:1 included, as one line a finding. */
export async function accessibilityFaults(page: Page): Promise<string[]> {
  // Evaluated, because the page's own policy forbids every script that is not its own.
  await page.evaluate(await readFile(axePath, 'utf8'))
  return page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: { run(context: Document, options: object): Promise<AxeResult> }
    }
    const result = await axe.run(document, { rules: { 'color-contrast-enhanced': { enabled: true } } })
    return result.violations.flatMap(({ id, nodes }) =>
      nodes.map(({ html }) => `${id}: ${html.slice(0, 160)}`),
    )
  })
}

type AxeResult = { violations: { id: string; nodes: { html: string }[] }[] }

/** Whether anything on the page is wider than the screen. */
export const widest = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth)

/** Controls smaller than a gloved thumb needs (48 px high, or wide for a link in running text). */
export const smallTargets = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('button, input, select, textarea, summary, a')]
      .filter((element) => element.checkVisibility() && !element.classList.contains('skip'))
      .filter((element) => element.getBoundingClientRect().height < 47.5)
      .map((element) => element.outerHTML.slice(0, 120)),
  )
