import { expect, it } from 'vitest'
import { newId } from '../../src/jobs/log/identifier'
import { accessibilityFaults, openPhone, smallTargets, widest } from '../browser'
import { browserAndServer } from '../browser-and-server'
import { openLine } from './line'
import { askFromPage, isOnPhone, signalIsBack, visit } from './phone'

const home = browserAndServer()

const json = (body: object): RequestInit => ({
  method: 'POST',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(body),
})

it('what is another one on the server under the same id is shown, both of it, until somebody has seen it', async () => {
  const begun = await fetch(`${home.server.address}/api/jobs`, json({ name: 'Boot room' }))
  const { job } = (await begun.json()) as { job: { id: string } }
  const line = await openLine(home.server.address)
  const context = await openPhone(home.browser)
  try {
    const page = await visit(context, `${line.address}/jobs/${job.id}`)
    await expect.poll(() => page.evaluate(isOnPhone, job.id), { timeout: 10_000 }).toBe(true)
    line.state = 'cut'
    const id = newId()
    const told = (value: string) => json({ id, field: 'voltage', value })
    expect((await askFromPage(page, `/api/jobs/${job.id}/facts`, told('24 V'))).status).toBe(200)
    const beside = await fetch(`${home.server.address}/api/jobs/${job.id}/facts`, told('12 V'))
    expect(beside.status).toBe(200)
    line.state = 'open'
    await signalIsBack(page)
    await page.waitForSelector('#attention:has-text("1 entry was not taken by the server")')
    await page.goto(`${line.address}/jobs/${job.id}`)
    await page.waitForSelector(
      '#attention:has-text("1 record is not the same on the server; both are kept.")',
    )
    await page.tap('#attention a')
    const shown = page.locator('section', { hasText: 'Not the same on the server' })
    await shown.waitFor()
    expect(await shown.textContent()).toMatch(
      /On this phone: Voltage: 24 V, .*On the server: Voltage: 12 V, /s,
    )
    expect(await accessibilityFaults(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])
    expect(await widest(page)).toBeLessThanOrEqual(360)
    await page.tap('button:has-text("Seen")')
    await page.waitForFunction(
      () => !document.getElementById('attention')?.textContent?.includes('not the same'),
    )
    expect(await shown.textContent()).toContain('Voltage: 12 V')
  } finally {
    await context.close()
    line.close()
  }
})
