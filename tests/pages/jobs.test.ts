import type { Page } from 'playwright-core'
import { describe, expect, it } from 'vitest'
import { accessibilityFaults, openPhone, smallTargets, startServer, widest } from '../browser'
import { browserAndServer } from '../browser-and-server'

const home = browserAndServer()

const begin = async (page: Page, name: string): Promise<string> => {
  await page.goto(`${home.server.address}/jobs`)
  await page.fill('#name', name)
  await page.fill('#place', 'First floor')
  await page.tap('main form button')
  await page.waitForSelector('.composer')
  return new URL(page.url()).pathname
}

const say = async (page: Page, line: string): Promise<void> => {
  const before = await page.locator('.thread > li').count()
  await page.fill('#text', line)
  await page.tap('.composer button')
  await page.waitForFunction((count) => document.querySelectorAll('.thread > li').length > count, before)
}

const newest = (page: Page, part = ''): Promise<string | null> => page.textContent(`#newest ${part}`)

const fitsAThumb = async (page: Page): Promise<void> => {
  expect(await accessibilityFaults(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  expect(await widest(page)).toBeLessThanOrEqual(360)
}

describe.each([
  ['without script', false],
  ['with script', true],
])('a job, %s', (_, script) => {
  it('remembers, asks which of two values holds, and lets what it knows be changed', async () => {
    const context = await openPhone(home.browser, { script })
    const page = await context.newPage()
    const path = await begin(page, 'Long hall')

    await say(page, 'what gauge for 40 feet at 24 volts, 60 watts')
    expect(await newest(page, '.headline')).toMatch(/14 AWG/)
    await say(page, 'how far will 4.4 watts a foot tape run on a 96 watt driver')
    expect(await newest(page, '.chips')).toMatch(/Voltage: 24 V \(from the job\)/)

    await say(page, 'and at 12 volts?')
    expect(await newest(page, '.settle')).toMatch(/24 V.*12 V.*which holds/i)
    await page.tap('#newest .settle button[value=known]')
    await page.waitForFunction(() => !document.querySelector('.settle'))

    await page.goto(`${home.server.address}${path}/facts`)
    const voltage = page.locator('.known > li', { hasText: 'Voltage' })
    expect(await voltage.textContent()).toMatch(/24 V/)
    await voltage.locator('summary').tap()
    await voltage.locator('textarea').fill('24')
    await voltage.locator('button', { hasText: 'Change' }).tap()
    await page.waitForSelector('.fault')
    expect(await page.textContent('.fault')).toMatch(/unit/)
    expect(await page.locator('.known textarea[aria-invalid]').inputValue()).toBe('24')
    await context.close()
  })

  it('keeps an answer of a form, with the job filling in what is not typed', async () => {
    const context = await openPhone(home.browser, { script })
    const page = await context.newPage()
    const path = await begin(page, 'Stairs')
    await say(page, 'what gauge for 40 feet at 24 volts, 60 watts')
    const job = path.split('/')[2]
    await page.goto(`${home.server.address}/q/along-the-tape?job=${job}`)
    expect(await page.textContent('.in-job')).toMatch(/Tape voltage: 24 V/)
    await page.fill('#tapePower', '4.4 W/ft')
    await page.fill('#tapeLength', '10 ft')
    await page.tap('.question > button[type=submit]')
    await page.waitForSelector('.keep button')
    await page.tap('.keep button')
    await page.waitForSelector('#newest .headline')
    expect(await page.locator('.thread > li').count()).toBe(2)
    await page.goto(`${home.server.address}${path}/facts`)
    expect(await page.textContent('.known')).toMatch(/Tape power/)
    await context.close()
  })
})

describe('a whole job, from the first question to the printed sheet', () => {
  it('is asked, checked, changed, and handed over', async () => {
    const context = await openPhone(home.browser)
    const page = await context.newPage()
    const path = await begin(page, 'Long hall')
    await say(page, 'how far does 24 V, 4.4 W/ft tape run on a 96 watt driver')
    await say(page, 'what gauge for 18 feet, 12 feet of tape')
    expect(await newest(page, '.chips')).toMatch(/Voltage: 24 V \(from the job\)/)
    await say(page, 'room on a 15 amp breaker for 96 W of drivers, 700 W on it now')
    await say(page, 'openings of 12 ft, tape cuts every 100 mm, 16.4 ft reels, 8 ft channel, ok to join tape')

    await page.tap('.tabs a:has-text("Board")')
    await page.waitForSelector('.board')
    const board = await page.textContent('main')
    expect(board).toMatch(/Does the driver carry all of its tape\?/)
    // 12 ft of 4.4 W/ft are 52.8 W, which ask for 66 W at 80 %.
    expect(board).toMatch(/52\.8 W of tape.* asks for a driver of 66 W; this one is 96 W/)
    expect(await page.locator('.counts .fails').count()).toBe(0)
    await fitsAThumb(page)

    await page.tap('.tabs a:has-text("Known")')
    const tape = page.locator('.known > li', { hasText: 'Tape power' })
    await tape.locator('summary').tap()
    await tape.locator('textarea').fill('8 W/ft')
    await tape.locator('button', { hasText: 'Change' }).tap()
    await page.waitForSelector('.just-told')
    // 12 ft of 8 W/ft are 96 W, which ask for 120 W at 80 %.
    expect(await page.textContent('.just-told')).toMatch(/Fails \(worse: was Holds\).*a driver of 120 W/s)
    await fitsAThumb(page)

    await page.tap('.tabs a:has-text("Sheet")')
    await page.waitForSelector('article.sheet')
    expect(await page.textContent('article.sheet')).toMatch(/Not ready to hand over/)
    const printed = await page.pdf({ format: 'Letter' })
    expect(printed.subarray(0, 5).toString()).toBe('%PDF-')
    for (const [file, type] of [
      ['sheet.pdf', 'application/pdf'],
      ['sheet.csv', 'text/csv'],
    ]) {
      const response = await page.request.get(`${home.server.address}${path}/${file}`)
      expect(response.status()).toBe(200)
      expect(response.headers()['content-type']).toContain(type)
    }
    const sheet = await page.request.get(`${home.server.address}/api${path}/sheet`)
    expect((await sheet.json()).name).toBe('Long hall')
    await context.close()
  })
})

describe('the pages of a job', () => {
  it.each([false, true])('have nothing that axe-core minds, and fit the screen (dark: %s)', async (dark) => {
    const context = await openPhone(home.browser, { dark, movesIn: false })
    const page = await context.newPage()
    await page.goto(`${home.server.address}/jobs`)
    await fitsAThumb(page)
    const path = await begin(page, 'A room with quite a long name, <b>and</b> odd signs')
    await say(page, 'what gauge for 40 feet at 24 volts, 60 watts')
    await say(page, 'and at 12 volts?')
    await fitsAThumb(page)
    await page.goto(`${home.server.address}${path}/facts`)
    for (const summary of await page.locator('.known summary').all()) await summary.tap()
    await fitsAThumb(page)
    expect(await page.locator('h1 b').count()).toBe(0)
    await context.close()
  })

  it('says kindly that a job is not there', async () => {
    const context = await openPhone(home.browser)
    const page = await context.newPage()
    const response = await page.goto(`${home.server.address}/jobs/nonsense`)
    expect(response?.status()).toBe(404)
    expect(await page.textContent('[role=alert]')).toBeTruthy()
    await context.close()
  })

  it('gives a job out as a file and takes it in again', async () => {
    const context = await openPhone(home.browser)
    const page = await context.newPage()
    const path = await begin(page, 'Kitchen')
    await say(page, 'what gauge for 40 feet at 24 volts, 60 watts')
    const response = await page.request.get(`${home.server.address}${path}/export`)
    const file = await response.body()
    const other = await startServer()
    try {
      await page.goto(`${other.address}/jobs`)
      await page.locator('details summary').tap()
      await page.setInputFiles('#file', { name: 'job.json', mimeType: 'application/json', buffer: file })
      await page.locator('form[enctype] button').tap()
      await page.waitForSelector('.thread .headline')
      expect(await page.textContent('h1')).toBe('Kitchen')
    } finally {
      await context.close()
      await other.stop()
    }
  })
})
