import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, describe, expect, it } from 'vitest'
import type { PortableJob } from '../../src/jobs/log/portable'
import { accessibilityFaults, openPhone, smallTargets, widest } from '../browser'
import { browserAndServer } from '../browser-and-server'
import { type Line, openLine } from './line'
import { fillUp, isOnPhone, limitRoom, signalIsBack, waitUntilSent } from './phone'

const data = mkdtempSync(join(tmpdir(), 'ladderside-shut-out-'))
const home = browserAndServer({ LADDERSIDE_LOCKED: '1', LADDERSIDE_DATA: data })
afterAll(() => rmSync(data, { recursive: true, force: true }))

const command = (name: 'pair' | 'devices', ...given: string[]): string =>
  spawnSync(process.execPath, [`dist/${name}.js`, ...given], {
    env: { ...process.env, LADDERSIDE_DATA: data },
    encoding: 'utf8',
  }).stdout

async function pair(page: Page, line: Line, name: string): Promise<void> {
  const [code = ''] = /[0-9A-Z]{4}-[0-9A-Z]{4}/.exec(command('pair')) ?? []
  await page.goto(`${line.address}/pair?code=${code}`)
  await page.fill('[name=name]', name)
  await page.tap('main button')
  await page.waitForURL(`${line.address}/devices`)
}

const begin = async (page: Page, line: Line, name: string): Promise<string> => {
  await page.goto(`${line.address}/jobs`)
  await page.fill('#name', name)
  await page.tap('main form button')
  await page.waitForSelector('.composer')
  return new URL(page.url()).pathname
}

const say = async (page: Page, text: string): Promise<void> => {
  await page.fill('#text', text)
  await page.tap('.composer button')
  await page.waitForSelector('#newest .headline')
}

const idOf = (device: string): string =>
  new RegExp(`^\\S+(?=.*${device}$)`, 'm').exec(command('devices', 'list'))?.[0] ?? ''

/** A phone that was paired, has two jobs of the shop, and an entry that it could not send; then it was shut out. */
async function shutOutPhone(
  name: string,
): Promise<{ context: BrowserContext; page: Page; line: Line; job: string }> {
  const line = await openLine(home.server.address)
  const context = await openPhone(home.browser)
  const page = await context.newPage()
  await pair(page, line, name)
  await page.waitForFunction(() => document.getElementById('kept')?.textContent !== '')
  await begin(page, line, 'Boot room')
  const job = await begin(page, line, 'Long hall')
  await waitUntilSent(page)
  line.state = 'cut'
  await say(page, 'what gauge for 40 feet at 24 volts, 60 watts')
  await page.waitForSelector('#attention:has-text("1 entry waits")')
  command('devices', 'revoke', idOf(name))
  line.state = 'open'
  await signalIsBack(page)
  await page.waitForSelector('#attention:has-text("This phone was shut out")')
  return { context, page, line, job }
}

describe('a phone that was shut out', () => {
  it('says so on every page, has the jobs of the shop no more, and lets what is unsent be taken out and discarded', async () => {
    const { context, page, line, job } = await shutOutPhone('Lost phone')
    try {
      await page.goto(`${line.address}/q/feed-gauge?distance=40+ft&voltage=24+V&load=60+W`)
      expect(await page.textContent('.headline')).toContain('14 AWG')
      await page.waitForSelector('#attention:has-text("1 entry was not sent; it is only on this phone.")')
      await page.goto(`${line.address}/jobs`)
      expect(await page.textContent('main')).toContain('Long hall')
      expect(await page.textContent('main')).not.toContain('Boot room')
      await page.tap('#attention a')
      await page.waitForSelector('h1:has-text("Shut out")')
      expect(await accessibilityFaults(page)).toEqual([])
      expect(await smallTargets(page)).toEqual([])
      expect(await widest(page)).toBeLessThanOrEqual(360)
      await page.tap('main a:has-text("Open the job")')
      expect(await page.textContent('.thread')).toContain('what gauge for 40 feet')
      await page.goto(`${line.address}/phone`)
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.tap('main a:has-text("Take it out as a file")'),
      ])
      const file = JSON.parse(readFileSync(await download.path(), 'utf8')) as PortableJob
      expect([file.job.name, file.entries.map(({ said }) => said)]).toEqual([
        'Long hall',
        ['what gauge for 40 feet at 24 volts, 60 watts'],
      ])
      await page.tap('summary:has-text("Discard it")')
      await page.tap('button:has-text("Yes, discard it")')
      await page.waitForSelector('main:has-text("Nothing on this phone waits to be sent.")')
      expect(await page.evaluate(isOnPhone, job.split('/')[2] ?? '')).toBe(false)
    } finally {
      await context.close()
      line.close()
    }
  })

  it('that is full gives the jobs up all the same', async () => {
    const line = await openLine(home.server.address)
    const context = await openPhone(home.browser)
    const page = await context.newPage()
    try {
      await pair(page, line, 'Full phone')
      await page.waitForFunction(() => document.getElementById('kept')?.textContent !== '')
      await limitRoom(page, line.address, 60_000)
      await begin(page, line, 'Boot room')
      const job = await begin(page, line, 'Glaze bench')
      await waitUntilSent(page)
      line.state = 'cut'
      const { refusal } = await fillUp(page, job)
      expect(refusal.status).toBe(507)
      command('devices', 'revoke', idOf('Full phone'))
      line.state = 'open'
      await signalIsBack(page)
      await page.waitForSelector('#attention:has-text("This phone was shut out")')
      await page.goto(`${line.address}/jobs`)
      expect(await page.textContent('main')).not.toContain('Boot room')
      expect(await page.textContent('main')).toContain('Glaze bench')
    } finally {
      await context.close()
      line.close()
    }
  })

  it('goes on where it was once it is paired again', async () => {
    const { context, page, line, job } = await shutOutPhone('Found phone')
    try {
      await page.goto(`${line.address}/phone`)
      await page.tap('main a:has-text("Pair this phone again")')
      await page.waitForURL(`${line.address}/pair`)
      await pair(page, line, 'Found again')
      await page.waitForFunction(() => document.querySelector('#attention a') === null)
      await waitUntilSent(page)
      await page.goto(line.address + job)
      expect(await page.textContent('.thread')).toContain('what gauge for 40 feet')
      await page.goto(`${line.address}/jobs`)
      expect(await page.textContent('main')).toContain('Boot room')
    } finally {
      await context.close()
      line.close()
    }
  })
})
