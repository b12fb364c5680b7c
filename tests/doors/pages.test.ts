import { spawnSync } from 'node:child_process'
import { networkInterfaces } from 'node:os'
import type { BrowserContext } from 'playwright-core'
import { beforeAll, describe, expect, it } from 'vitest'
import { accessibilityFaults, openPhone, smallTargets, widest } from '../browser'
import { browserAndServer } from '../browser-and-server'
import { temporaryFolder } from '../jobs/log/built'

/** Pairing and the list of devices in a real browser, by a plain connection, as it is on a network at home. */

const folder = temporaryFolder()
const home = browserAndServer({ HOST: '0.0.0.0', LADDERSIDE_LOCKED: '1', LADDERSIDE_DATA: folder })
let address = ''

/** This machine as another sees it, where it has such an address. */
const own = Object.values(networkInterfaces())
  .flatMap((each) => each ?? [])
  .find(({ internal, family }) => !internal && family === 'IPv4')?.address

beforeAll(() => {
  address = home.server.address.replace('0.0.0.0', own ?? '127.0.0.1')
})

const newCode = (): string => {
  const environment = { ...process.env, LADDERSIDE_DATA: folder }
  const { stdout } = spawnSync(process.execPath, ['dist/pair.js'], { env: environment, encoding: 'utf8' })
  return /[0-9A-Z]{4}-[0-9A-Z]{4}/.exec(stdout)?.[0] ?? ''
}

async function paired(phone: BrowserContext, name: string) {
  const page = await phone.newPage()
  await page.goto(`${address}/pair?code=${newCode()}`)
  await page.getByLabel('What to call this device').fill(name)
  await page.getByRole('button', { name: 'Pair' }).click()
  await page.waitForURL(`${address}/devices`)
  return page
}

describe.each([
  ['without script', false, false],
  ['with script', true, false],
  ['with script, by night', true, true],
])('pairing %s', (_, script, dark) => {
  it('leads from any page to the code and lets the device in; the list shuts it out again', async () => {
    const phone = await openPhone(home.browser, { script, dark })
    const page = await phone.newPage()
    await page.goto(`${address}/q/feed-gauge`)
    expect(page.url()).toBe(`${address}/pair`)
    const on = await paired(phone, 'Phone')
    expect(await on.getByRole('heading', { name: 'Phone (this one)' }).count()).toBe(1)
    await on.goto(`${address}/q/feed-gauge`)
    expect(await on.getByRole('heading', { level: 1 }).textContent()).toBeTruthy()
    expect(on.url()).toBe(`${address}/q/feed-gauge`)
    await on.goto(`${address}/devices`)
    await on.getByRole('button', { name: 'Shut out this device' }).click()
    await on.getByLabel('Pairing code').waitFor()
    await on.goto(`${address}/`)
    expect(on.url()).toBe(`${address}/pair`)
    await phone.close()
  })
})

describe('the pages of the doors', () => {
  it.each([
    ['by day', false],
    ['by night', true],
  ])('can be used by anybody %s', async (_, dark) => {
    const phone = await openPhone(home.browser, { dark })
    const page = await phone.newPage()
    await page.goto(`${address}/pair`)
    const check = async () => {
      expect(await accessibilityFaults(page)).toEqual([])
      expect(await smallTargets(page)).toEqual([])
      expect(await widest(page)).toBeLessThanOrEqual(360)
    }
    await check()
    await page.getByLabel('Pairing code').fill('AAAA')
    await page.getByRole('button', { name: 'Pair' }).click()
    await page.getByText('This code is not good').waitFor()
    await check()
    await page.goto(`${address}/pair?code=${newCode()}`)
    await page.getByLabel('What to call this device').fill('A name that is as long as a name may be')
    await page.getByRole('button', { name: 'Pair' }).click()
    await page.waitForURL(`${address}/devices`)
    await check()
    await phone.close()
  })

  it('keeps its cookie from the page’s own script, and no script but its own runs', async () => {
    const phone = await openPhone(home.browser)
    const page = await paired(phone, 'Phone')
    expect(await page.evaluate(() => document.cookie)).toBe('')
    const [cookie] = await phone.cookies()
    expect(cookie).toMatchObject({ httpOnly: true, sameSite: 'Lax', path: '/' })
    const refused = page.waitForEvent('console', (message) =>
      message.text().includes('Content Security Policy'),
    )
    await page.evaluate(() => {
      const script = document.createElement('script')
      script.textContent = 'document.title = "taken over"'
      document.body.append(script)
    })
    await refused
    expect(await page.title()).toBe('Devices')
    await phone.close()
  })
})
