import type { Page } from 'playwright-core'
import { describe, expect, it } from 'vitest'
import { accessibilityFaults, openPhone, smallTargets, widest } from '../browser'
import { browserAndServer } from '../browser-and-server'

const home = browserAndServer()

const turns = (page: Page): Promise<number> => page.locator('.thread > li').count()

const say = async (page: Page, line: string): Promise<void> => {
  const before = await turns(page)
  await page.fill('#text', line)
  await page.tap('.composer button')
  await page.waitForFunction((count) => document.querySelectorAll('.thread > li').length > count, before)
}

const newest = (page: Page, part = ''): Promise<string | null> => page.textContent(`#newest ${part}`)

describe.each([
  ['without script', false],
  ['with script', true],
])('a conversation of five turns, %s', (_, script) => {
  it('follows what was said, asks back, takes a quick reply and shows what changed', async () => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    await page.goto(home.server.address)

    await say(page, 'what gauge for forty feet at twenty four volts')
    expect(await newest(page, '.reply')).toMatch(/watts/i)
    expect(await newest(page, '.chips')).toMatch(/40' 0"/)

    const suggestion = page.locator('#newest .quick button').first()
    await suggestion.tap()
    await page.waitForSelector('#newest .headline')
    expect(await turns(page)).toBe(2)

    await say(page, 'make it 60 watts')
    expect(await newest(page, '.headline')).toMatch(/14 AWG/)

    await say(page, 'and at 12 volts?')
    expect(await newest(page, '.changed')).toBeTruthy()
    expect(await newest(page, '.chips')).toMatch(/12 V/)
    expect(await newest(page, '.headline')).not.toMatch(/14 AWG/)

    await say(page, 'my helper reckons 10')
    expect(await newest(page, '.headline')).toMatch(/10 AWG/)
    expect(await turns(page)).toBe(5)

    await page.tap('#newest .chips a:has-text("12 V")')
    await page.waitForSelector('[name=voltage]:visible')
    expect(await page.inputValue('[name=voltage]')).toBe('12 V')
    await context.close()
  })

  it('shows whatever is typed as text, never as markup', async () => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    await page.goto(home.server.address)
    const line = '<img src=x onerror=alert(1)> "40 ft" <b>24 V</b> </ol><script>alert(2)</script>'
    await say(page, line)
    expect(await newest(page, '.said')).toBe(line)
    expect(await page.locator('.said b, .said img, #main script').count()).toBe(0)
    await context.close()
  })

  it('refuses more than 8,000 characters kindly and loses nothing of it', async () => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    await page.goto(home.server.address)
    const line = `what gauge for 40 ft ${'x'.repeat(8000)}`
    await page.fill('#text', line)
    await page.tap('.composer button')
    await page.waitForSelector('#text-fault')
    expect(await page.inputValue('#text')).toBe(line)
    await context.close()
  })
})

describe('the thread on a phone', () => {
  it('keeps the newest in sight and the composer in reach', async () => {
    const context = await openPhone(home.browser)
    const page = await context.newPage()
    await page.goto(home.server.address)
    await say(page, 'what gauge for 40 ft at 24 V, 60 W')
    await say(page, 'and at 12 volts?')
    const composer = await page.locator('.composer').boundingBox()
    expect((composer?.y ?? 0) + (composer?.height ?? 0)).toBeGreaterThan(700)
    const said = await page.locator('#newest .said').boundingBox()
    expect(said?.y).toBeGreaterThanOrEqual(0)
    expect(said?.y).toBeLessThan(400)
    await context.close()
  })

  it('is still there when the page is opened again', async () => {
    const context = await openPhone(home.browser)
    const page = await context.newPage()
    await page.goto(home.server.address)
    await say(page, 'what gauge for 40 ft at 24 V, 60 W')
    await page.goto(`${home.server.address}/q/feed-gauge`)
    await page.goto(home.server.address)
    await page.waitForSelector('#newest .headline:has-text("14 AWG")')
    await context.close()
  })

  it.each([
    ['an answer', 'what gauge for 40 ft at 24 V, 60 W'],
    ['a question back', 'what gauge for 40 ft'],
    ['a choice', 'is 600 watts too much for it'],
    ['out of reach', 'can I splice this live'],
  ])('with %s has nothing that axe-core minds, and fits the screen', async (_, line) => {
    for (const dark of [false, true]) {
      const context = await openPhone(home.browser, { dark, movesIn: false })
      const page = await context.newPage()
      await page.goto(home.server.address)
      await say(page, line)
      expect(await accessibilityFaults(page)).toEqual([])
      expect(await widest(page)).toBeLessThanOrEqual(360)
      expect(await smallTargets(page)).toEqual([])
      await context.close()
    }
  })
})
