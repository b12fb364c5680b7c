import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../browser'
import { type Drill, mishaps, openDrill } from './drill'

let browser: Browser
let drill: Drill

beforeAll(async () => {
  browser = await openBrowser()
  drill = await openDrill(browser)
})

afterAll(async () => {
  await drill?.close()
  await browser?.close()
})

// `npm run bench -- phone-drill` does the same a hundred times.
describe('a job made without a signal is on the server exactly once', () => {
  it.each(mishaps)('%s', async (mishap) => {
    await expect(drill.round(mishap)).resolves.toBeUndefined()
  })
})
