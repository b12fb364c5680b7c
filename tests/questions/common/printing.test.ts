import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { createApp } from '../../../src/app/app'
import { DIMENSIONS } from '../../../src/quantities/dimensions'
import { printValue } from '../../../src/questions/common/printing'

describe('a value in a fixed unit', () => {
  const units = [...Object.values(DIMENSIONS).map(({ unit }) => unit), 'per kWh', 'AWG', 'count', '%']

  it('is printed whatever it is, as long as it is a number', () => {
    const value = fc.double({ noNaN: true, noDefaultInfinity: true })
    fc.assert(
      fc.property(
        value,
        fc.constantFrom(...units),
        fc.constantFrom('us', 'metric'),
        (number, unit, system) => {
          expect(printValue(number, unit, system).length).toBeGreaterThan(0)
        },
      ),
      { numRuns: 2000 },
    )
  })

  it('stands on the page of a follow-up that asks back about a price', async () => {
    const thread = JSON.stringify(['60 W, 4 hours a day, 0.31 a kWh, what will I pay in a year'])
    const asked = await createApp().request('/ask', {
      method: 'POST',
      headers: { origin: 'http://localhost' },
      body: new URLSearchParams({ thread, text: 'and at 12 volts?' }),
    })
    expect(asked.status).toBe(200)
  })
})
