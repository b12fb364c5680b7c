import jsQR from 'jsqr'
import type { Page } from 'playwright-core'
import { describe, expect, it } from 'vitest'
import { accessibilityFaults, openPhone, smallTargets, widest } from '../browser'
import { browserAndServer } from '../browser-and-server'

const home = browserAndServer()

const begin = async (page: Page): Promise<string> => {
  await page.goto(`${home.server.address}/jobs`)
  await page.fill('#name', 'Long hall')
  await page.tap('main form button')
  await page.waitForSelector('.composer')
  return new URL(page.url()).pathname
}

const makeLink = async (page: Page, job: string): Promise<string> => {
  await page.goto(`${home.server.address}${job}/share`)
  await page.tap('button:has-text("Make a link")')
  await page.waitForSelector('.qr')
  await page.waitForLoadState()
  return (await page.textContent('.fresh a'))?.trim() ?? ''
}

/** Accessibility is looked at by a script, where the page may run one. */
const fitsAThumb = async (page: Page, script: boolean): Promise<void> => {
  if (script) expect(await accessibilityFaults(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  expect(await widest(page)).toBeLessThanOrEqual(360)
}

/** What another program reads out of a picture of the screen; a browser makes pixels of it. */
async function scanned(picture: Buffer): Promise<string | undefined> {
  const blank = await home.browser.newPage()
  const { pixels, width, height } = await blank.evaluate(async (base64) => {
    const image = new Image()
    image.src = `data:image/png;base64,${base64}`
    await image.decode()
    const { width, height } = image
    const context = Object.assign(document.createElement('canvas'), { width, height }).getContext('2d')
    context?.drawImage(image, 0, 0)
    let bytes = ''
    for (const byte of context?.getImageData(0, 0, width, height).data ?? [])
      bytes += String.fromCharCode(byte)
    return { pixels: btoa(bytes), width, height }
  }, picture.toString('base64'))
  await blank.close()
  const data = new Uint8ClampedArray(Buffer.from(pixels, 'base64'))
  return jsQR(data, width, height, { inversionAttempts: 'dontInvert' })?.data
}

describe.each([
  ['without script, by day', false, false],
  ['with script, by day', true, false],
  ['with script, by night', true, true],
])('sharing a job, %s', (_, script, dark) => {
  it('makes a link that is scanned from the screen and opened on another phone, until it is taken back', async () => {
    const context = await openPhone(home.browser, { script, dark })
    const page = await context.newPage()
    const faults: string[] = []
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()))
    const job = await begin(page)
    const address = await makeLink(page, job)
    expect(address).toMatch(new RegExp(`^${home.server.address}/s/[\\w-]{27}$`))
    await fitsAThumb(page, script)

    const { width = 0, height = 0 } = (await page.locator('.qr').boundingBox()) ?? {}
    expect(Math.min(width, height)).toBeGreaterThanOrEqual(240)
    expect(await page.getAttribute('.qr', 'role')).toBe('img')
    expect(await page.getAttribute('.qr', 'aria-label')).toContain('Long hall')
    expect(await scanned(await page.locator('.qr').screenshot())).toBe(address)
    expect(await scanned(await page.screenshot({ fullPage: true }))).toBe(address)

    const other = await openPhone(home.browser, { script, dark })
    const sheet = await other.newPage()
    await sheet.goto(address)
    expect(await sheet.textContent('h1')).toContain('Long hall')
    expect(await sheet.locator('form').count()).toBe(0)
    await fitsAThumb(sheet, script)

    await page.goto(`${home.server.address}${job}/share`)
    expect(await page.locator('.qr').count()).toBe(0)
    await page.tap('button:has-text("Take it back")')
    await page.waitForSelector('li:has-text("Taken back")')
    await page.waitForLoadState()
    await fitsAThumb(page, script)
    await sheet.reload()
    expect(await sheet.textContent('h1')).toContain('opens nothing')
    await fitsAThumb(sheet, script)
    await other.close()
    expect(faults).toEqual([])
    await context.close()
  })
})
