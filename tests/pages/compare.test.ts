import { describe, expect, it } from 'vitest'
import { accessibilityFaults, openPhone, smallTargets, widest } from '../browser'
import { browserAndServer } from '../browser-and-server'

const home = browserAndServer()

const load = 'distance=40+ft&voltage=24+V&load=60+W'
const side = (name: string, query: string) => query.replace(/(^|&)/g, `$1${name}.`)
const oneEnd =
  'voltage=24+V&tapePower=14.4+W%2Fm&tapeLength=10+m&feeds.0.at=0+m&feeds.0.distance=5+m&feeds.0.gauge=16+AWG'
const bothEnds = `${oneEnd}&feeds.1.at=10+m&feeds.1.distance=5+m&feeds.1.gauge=16+AWG`

describe.each([
  ['without script', false],
  ['with script', true],
])('comparing, %s', (_, script) => {
  it('leads from an answer over one changed field to the two side by side', async () => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    await page.goto(`${home.server.address}/q/feed-gauge?${load}`)
    await page.tap('a:has-text("Compare with a variant")')
    await page.tap('a:has-text("Load")')
    expect(await page.inputValue('[name=load]')).toBe('60 W')
    await page.fill('[name=load]', '30 W')
    await page.tap('button:has-text("Compare")')
    await page.waitForSelector('#part-figures')
    expect(await page.textContent('#side-a')).toContain('60 W')
    expect(await page.textContent('#side-b')).toContain('30 W')
    const drop = page.locator('.compared tr', { hasText: 'Current' }).first()
    expect(await drop.textContent()).toMatch(/2\.5 A.*1\.25 A.*better.*−1\.25 A/)
    await page.reload()
    expect(await page.textContent('#side-b')).toContain('30 W')
    await context.close()
  })

  it('adds a feed to one side in its form', async () => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    await page.goto(`${home.server.address}/compare/along-the-tape?${side('a', oneEnd)}&vary=feeds`)
    await page.tap('button[name=add]')
    await page.waitForSelector('[name="feeds.1.at"]')
    await page.fill('[name="feeds.1.at"]', '10 m')
    await page.tap('button:has-text("Compare"):not([name])')
    await page.waitForSelector('#part-figures')
    expect(await page.locator('svg.drawing').count()).toBe(2)
    await context.close()
  })

  it('mends a faulty side where it stands', async () => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    const faulty = load.replace('40+ft', '40')
    await page.goto(`${home.server.address}/compare/feed-gauge?${side('a', load)}&${side('b', faulty)}`)
    expect(await page.textContent('.headline')).toContain('14 AWG')
    expect(await page.getAttribute('#distance', 'aria-invalid')).toBe('true')
    await page.fill('[name=distance]', '50 ft')
    await page.tap('button:has-text("Compare")')
    await page.waitForSelector('#part-figures')
    await context.close()
  })

  it('is reached from the conversation too', async () => {
    const context = await openPhone(home.browser, { script, movesIn: false })
    const page = await context.newPage()
    await page.goto(home.server.address)
    await page.fill('#text', 'what gauge for 40 feet at 24 volts, 60 watts')
    await page.tap('.composer button')
    await page.waitForSelector('#headline')
    expect(await page.locator('a:has-text("Compare with a variant")').count()).toBe(1)
    await context.close()
  })
})

const addresses = [
  `feed-gauge?${side('a', load)}`,
  `feed-gauge?${side('a', load)}&vary=claim`,
  `feed-gauge?${side('a', load)}&${side('b', `${load}&claim.value=16+AWG`)}`,
  `feed-gauge?${side('a', load.replace('24+V', '40'))}&${side('b', 'distance=40&load=x')}`,
  `along-the-tape?${side('a', oneEnd)}&${side('b', bothEnds)}`,
  `along-the-tape?${side('a', bothEnds)}&vary=feeds&side=b`,
]

describe.each([
  ['by day', false],
  ['by night', true],
])('the pages, %s', (_, dark) => {
  it.each(addresses)('/compare/%s: readable, reachable, no wider than the screen', async (path) => {
    const context = await openPhone(home.browser, { dark, movesIn: false })
    const page = await context.newPage()
    await page.goto(`${home.server.address}/compare/${path}`)
    expect(await accessibilityFaults(page)).toEqual([])
    expect(await widest(page)).toBeLessThanOrEqual(360)
    expect(await smallTargets(page)).toEqual([])
    await page.setViewportSize({ width: 1024, height: 800 })
    expect(await accessibilityFaults(page)).toEqual([])
    expect(await widest(page)).toBeLessThanOrEqual(1024)
    await context.close()
  })

  it('a phone shows a figure in a pair, a wide screen in a row', async () => {
    const context = await openPhone(home.browser, { dark, movesIn: false })
    const page = await context.newPage()
    await page.goto(`${home.server.address}/compare/${addresses[2]}`)
    const placed = () =>
      page.evaluate(() => {
        const row = document.querySelector('#part-figures ~ table tbody tr')
        return [...(row?.children ?? [])].map((cell) => {
          const { left, top } = cell.getBoundingClientRect()
          return { left: Math.round(left), top: Math.round(top) }
        })
      })
    const [, a, b] = await placed()
    expect(a?.top).toBe(b?.top)
    expect(b?.left).toBeGreaterThan((a?.left ?? 0) + 100)
    await page.setViewportSize({ width: 1024, height: 800 })
    expect(new Set((await placed()).map(({ top }) => top)).size).toBe(1)
    await context.close()
  })
})
