import { expect, it } from 'vitest'
import { openPhone } from '../browser'
import { browserAndServer } from '../browser-and-server'
import { openLine } from './line'
import { askFromPage, fillUp, form, limitRoom, signalIsBack, visit, waitUntilSent } from './phone'

const home = browserAndServer()

/** The browser's own count and its own refusal; `home.test.ts` tries what an imitated one does in between. */
it('a browser that is full says so, loses nothing that it has kept, sends it all the same, and goes on with room', async () => {
  const line = await openLine(home.server.address)
  const context = await openPhone(home.browser)
  try {
    const page = await visit(context, line.address)
    const liftLimit = await limitRoom(page, line.address, 60_000)
    line.state = 'cut'
    await askFromPage(page, '/jobs', form({ name: 'Back stairs' }))
    const { text } = await askFromPage(page, '/api/jobs')
    const [{ id = '' } = {}] = (JSON.parse(text) as { jobs: { id?: string }[] }).jobs
    const path = `/jobs/${id}`
    const { kept, refusal } = await fillUp(page, path)
    expect(kept).toBeGreaterThan(0)
    expect([refusal.status, refusal.text]).toEqual([
      507,
      expect.stringContaining('The disk is full, so this was not kept. What was there is kept.'),
    ])
    await page.goto(line.address + path)
    expect(await page.locator('.thread > li').count()).toBe(kept)
    await page.locator('.foot', { hasText: `${kept + 1} entries wait for a signal.` }).waitFor()

    line.state = 'open'
    await signalIsBack(page)
    await waitUntilSent(page)
    const onServer = async () => {
      const file = await (await fetch(`${home.server.address}/api/jobs/${id}/export`)).json()
      return (file as { entries: unknown[] }).entries.length
    }
    expect(await onServer()).toBe(kept)

    await liftLimit()
    line.state = 'cut'
    await expect
      .poll(async () => (await askFromPage(page, `${path}/ask`, form({ text: 'and at 12 volts?' }))).status, {
        timeout: 40_000,
      })
      .toBe(200)
    line.state = 'open'
    await signalIsBack(page)
    await page.waitForSelector('#attention:has-text("1 entry waits")', { state: 'detached' })
    await expect.poll(onServer, { timeout: 10_000 }).toBe(kept + 1)
  } finally {
    await context.close()
    line.close()
  }
})
