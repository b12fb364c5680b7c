import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { accessibilityFaults, openPhone, smallTargets, widest } from '../browser'
import { browserAndServer } from '../browser-and-server'

/** What a person types into each form, and what the headline must then say. */
const asked: { id: string; typed: Record<string, string>; says: RegExp }[] = [
  { id: 'feed-gauge', typed: { distance: '40 ft', voltage: '24 V', load: '60 W' }, says: /14 AWG/ },
  {
    id: 'tape-reach',
    typed: { voltage: '24 V', tapePower: '14.4 W/m', driverPower: '96 W' },
    says: /17' 4/,
  },
  {
    id: 'driver-size',
    typed: { voltage: '24 V', tapePower: '4.4 W/ft', 'tapeLength.0': '32 ft' },
    says: /2 .*Class 2/,
  },
  {
    id: 'along-the-tape',
    typed: { voltage: '24 V', tapePower: '14.4 W/m', tapeLength: '5 m' },
    says: /88\.6/,
  },
  // 1001 lm/m is what 500 lx takes here (CALCULATIONS check value), so 1000 lm/m gives just short of it.
  {
    id: 'task-light',
    typed: { height: '0.6 m', tapeLumens: '1000 lm/m', tapeLength: '2 m' },
    says: /6\d\d lx/,
  },
  { id: 'steady-light', typed: { frequency: '120 Hz', modulation: '9 %' }, says: /120 Hz/ },
  { id: 'dimmer-fit', typed: { dimmerRating: '150 W', 'drivers.0': '75 W' }, says: /2 of these/ },
  { id: 'circuit-room', typed: { breaker: '15 A' }, says: /1440 VA/ },
  {
    id: 'shared-neutral',
    typed: {
      'hots.0.current': '3 A',
      'hots.0.circuit': '4',
      'hots.1.current': '2 A',
      'hots.1.circuit': '4',
    },
    says: /5 A/,
  },
  {
    id: 'box-fill',
    typed: { box: 'octagon 4 x 1-1/2', 'cables.0': '14/3' },
    says: /fits/,
  },
  { id: 'hole-fit', typed: { 'cables.0.count': '3', 'cables.0.diameter': '8 mm' }, says: /bit/ },
  { id: 'framing-hole', typed: { use: 'joist', member: '2x10', holeDiameter: '1 in' }, says: /Allowed/ },
  { id: 'pull-plan', typed: { 'legs.0.length': '60 ft' }, says: /68' 0"|67/ },
  { id: 'cut-plan', typed: { 'openings.0': '1.2 m', cutLength: '100 mm' }, says: /1 reel/ },
  {
    id: 'meter-check',
    typed: { voltage: '24 V', tapePower: '15 W/m', tapeLength: '4 m', tapeEnd: '17.9 V' },
    says: /too much in the feed/,
  },
  { id: 'running-cost', typed: { load: '60 W' }, says: /103\.2 kWh/ },
]

const home = browserAndServer()

/** Opens what folds an input away, and adds the row that it stands in. */
const openedTo = async (page: Page, name: string): Promise<void> => {
  const input = page.locator(`[name="${name}"]`)
  if ((await input.count()) === 0) {
    await page.tap(`button[name=add][value="${name.split('.')[0]}"]`)
    await input.waitFor({ state: 'attached' })
  }
  if (!(await input.isVisible())) await page.tap('form.question > details > summary')
}

const fillIn = async (page: Page, id: string, typed: Record<string, string>): Promise<void> => {
  await page.goto(`${home.server.address}/q/${id}`)
  for (const [name, text] of Object.entries(typed)) {
    await openedTo(page, name)
    const input = page.locator(`[name="${name}"]`)
    if ((await input.evaluate((element) => element.tagName)) === 'SELECT') await input.selectOption(text)
    else await input.fill(text)
  }
  await page.tap('button[type=submit]:not([name])')
  await page.waitForSelector('#headline, #errors')
}

describe.each([
  ['without script', false],
  ['with script', true],
])('the forms, %s', (_, script) => {
  it.each(asked)('$id is filled in and answered on a phone', async ({ id, typed, says }) => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    const faults: string[] = []
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()))
    await fillIn(page, id, typed)
    expect(await page.textContent('#headline')).toMatch(says)
    for (const value of Object.values(typed))
      expect(new URL(page.url()).search).toContain(
        encodeURIComponent(value).replace(/%20/g, '+').replace(/'/g, '%27'),
      )
    const always = ['figures', 'cautions', 'working', 'sources']
    // What the meter reads leaves no room to move, and flicker assumes nothing.
    const usual = [
      ...(id === 'meter-check' ? [] : ['room']),
      ...(id === 'steady-light' ? [] : ['assumptions']),
    ]
    for (const part of [...always, ...usual]) {
      expect(await page.locator(`#part-${part}`).count(), part).toBe(1)
    }
    expect(faults).toEqual([])
    await context.close()
  })

  it('keeps what was typed beside what is wrong with it', async () => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    await fillIn(page, 'feed-gauge', { distance: '-40 ft', voltage: '40', load: '40 V' })
    expect(await page.inputValue('[name=distance]')).toBe('-40 ft')
    for (const id of ['distance', 'voltage', 'load']) {
      expect(await page.textContent(`#${id}-fault`)).toMatch(/like/)
      expect(await page.getAttribute(`#${id}`, 'aria-invalid')).toBe('true')
    }
    await context.close()
  })

  it('opens an assumed input, filled, and changes the answer', async () => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    await page.goto(`${home.server.address}/q/feed-gauge?distance=40+ft&voltage=24+V&load=60+W`)
    await page.tap('.assumed a:has-text("Allowed drop")')
    await page.waitForSelector('[name=allowedDrop]:visible')
    expect(await page.inputValue('[name=allowedDrop]')).toBe('3 %')
    await page.fill('[name=allowedDrop]', '5 %')
    await page.tap('button[type=submit]:not([name])')
    await page.waitForSelector('#headline:has-text("16 AWG")')
    await context.close()
  })

  it('adds and removes rows of a list, keeping what was typed', async () => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    await page.goto(`${home.server.address}/q/along-the-tape?voltage=24+V&open=feeds`)
    await page.fill('[name="feeds.0.at"]', '0 ft')
    await page.tap('button[name=add][value=feeds]')
    await page.fill('[name="feeds.1.at"]', '16 ft')
    await page.tap('button[name=remove][value="feeds.0"]')
    await page.waitForFunction(() => document.querySelectorAll('[name$=".at"]').length === 1)
    expect(await page.inputValue('[name="feeds.0.at"]')).toBe('16 ft')
    expect(await page.inputValue('[name=voltage]')).toBe('24 V')
    await context.close()
  })
})

const addresses = [
  '/',
  ...asked.flatMap(({ id, typed }) => [
    `/q/${id}`,
    `/q/${id}?${new URLSearchParams(typed)}`,
    `/q/${id}?voltage=40`,
  ]),
  '/q/feed-gauge?distance=40+ft&voltage=24+V&load=60+W&claim.figure=gauge&claim.value=16+AWG',
  '/q/feed-gauge?distance=200+m&voltage=12+V&load=500+W&units=metric&rules=iec',
]

describe.each([
  ['by day', false],
  ['by night', true],
])('the pages at 360 by 740, %s', (_, dark) => {
  let context: BrowserContext
  let page: Page
  beforeAll(async () => {
    context = await openPhone(home.browser, { dark, movesIn: false })
    page = await context.newPage()
  })
  afterAll(() => context.close())

  it.each(addresses)('%s: readable, reachable, no wider than the screen', async (path) => {
    await page.goto(home.server.address + path)
    expect(await accessibilityFaults(page)).toEqual([])
    expect(await widest(page)).toBeLessThanOrEqual(360)
    expect(await smallTargets(page)).toEqual([])
  })
})
