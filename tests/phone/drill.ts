import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import type { PortableJob } from '../../src/jobs/log/portable'
import { openPhone, type RunningServer, startServer } from '../browser'
import { type Line, openLine } from './line'
import { askFromPage, form, signalIsBack, visit, waitUntilSent } from './phone'

/** What a round of the drill does to the sending. */
export const mishaps = [
  'server killed as it gets the records',
  'server killed a little later',
  'answers lost',
  'page closed',
  'worker stopped',
  'none',
] as const
export type Mishap = (typeof mishaps)[number]

/** A phone, a line, and a server that is killed and started again over one and the same log. */
export type Drill = { round(mishap: Mishap): Promise<void>; close(): Promise<void> }

/** Opens the drill: one visit, after which the phone needs no signal. */
export async function openDrill(browser: Browser): Promise<Drill> {
  const data = mkdtempSync(join(tmpdir(), 'ladderside-drill-'))
  let server = await startServer({ LADDERSIDE_DATA: data })
  const line = await openLine(server.address)
  const context = await openPhone(browser)
  const page = await visit(context, line.address)
  const restart = async () => {
    if (server.process.exitCode === null && server.process.signalCode === null) await killed(server)
    server = await startServer({ LADDERSIDE_DATA: data })
    line.leadTo(server.address)
  }
  let rounds = 0
  return {
    async round(mishap) {
      rounds += 1
      line.state = 'cut'
      const made = await makeJob(page, `Long hall ${rounds}`)
      await send({ line, context, page, mishap, kill: () => killed(server), restart })
      await checkKept(server.address, made)
    },
    async close() {
      await context.close()
      line.close()
      await killed(server)
      rmSync(data, { recursive: true, force: true })
    },
  }
}

async function killed({ process }: RunningServer): Promise<void> {
  const gone = once(process, 'exit')
  if (!process.kill('SIGKILL')) return
  await gone
}

type Made = { id: string; name: string; lines: string[] }

const lines = [
  'what gauge for 40 feet at 24 volts, 60 watts',
  'and at 12 volts?',
  'how far will 4.4 watts a foot tape run on a 96 watt driver',
  'what driver for 16 feet of 4.4 watts a foot at 24 volts',
  'make it 20 feet',
]

/** A job with a thread, made without a signal by the same forms as the pages send. */
async function makeJob(page: Page, name: string): Promise<Made> {
  const begun = await page.evaluate(
    async (body) => (await fetch('/jobs', { method: 'POST', body: new URLSearchParams(body) })).url,
    { name, place: 'First floor' },
  )
  const id = /jobs\/([0-9a-f-]{36})/.exec(begun)?.[1]
  if (!id) throw new Error(`No job was begun: ${begun}`)
  for (const text of lines) {
    const { status } = await askFromPage(page, `/jobs/${id}/ask`, form({ text }))
    if (status !== 200) throw new Error(`"${text}" was met with ${status}`)
  }
  return { id, name, lines }
}

type Sending = {
  line: Line
  context: BrowserContext
  page: Page
  mishap: Mishap
  kill(): Promise<void>
  restart(): Promise<void>
}

/** The signal comes back, something goes wrong in the middle, and in the end all is well. */
async function send({ line, context, page, mishap, kill, restart }: Sending): Promise<void> {
  line.state = mishap === 'answers lost' ? 'answers lost' : 'open'
  const underway = new Promise<void>((resolve) => {
    line.onSent = (data) => {
      if (data.includes('POST /api/jobs/writes')) resolve()
    }
  })
  await signalIsBack(page)
  await underway
  line.onSent = undefined
  if (mishap.startsWith('server killed')) {
    if (mishap.endsWith('later')) await new Promise((resolve) => setTimeout(resolve, Math.random() * 40))
    await kill()
    await restart()
  }
  if (mishap === 'page closed') await reopened(page)
  if (mishap === 'worker stopped') await stopWorkers(context, page)
  line.state = 'open'
  await signalIsBack(page)
  await waitUntilSent(page)
}

/** Leaves the page in the middle of its sending, and comes back to it. */
async function reopened(page: Page): Promise<void> {
  await page.goto('about:blank')
  await page.goBack()
}

/** Ends the service worker, as a phone does that needs the memory. */
async function stopWorkers(context: BrowserContext, page: Page): Promise<void> {
  const session = await context.newCDPSession(page)
  await session.send('ServiceWorker.enable')
  await session.send('ServiceWorker.stopAllWorkers')
  await session.detach()
}

/** The server has the job once, its lines once each and in their order, and no fact twice. */
async function checkKept(address: string, { id, name, lines: said }: Made): Promise<void> {
  const listed = (await (await fetch(`${address}/api/jobs?limit=500`)).json()) as { jobs: { name: string }[] }
  const times = listed.jobs.filter((each) => each.name === name).length
  if (times !== 1) throw new Error(`"${name}" is on the server ${times} times`)
  const file = (await (await fetch(`${address}/api/jobs/${id}/export`)).json()) as PortableJob
  const thread = file.entries.map((entry) => entry.said)
  if (JSON.stringify(thread) !== JSON.stringify(said)) throw new Error(`The thread came to be ${thread}`)
  const facts = file.facts.map(({ provenance, field }) => `${provenance.entryId} ${field}`)
  if (facts.length === 0 || new Set(facts).size !== facts.length)
    throw new Error(`Facts twice, or none: ${facts}`)
}
