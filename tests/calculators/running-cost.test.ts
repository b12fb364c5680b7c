import fc from 'fast-check'
import { expect, it } from 'vitest'
import { runningCost } from '../../src/calculators/running-cost'

const inputs = fc.record({
  loadW: fc.double({ min: 0.1, max: 100_000, noNaN: true }),
  hoursPerDay: fc.double({ min: 0, max: 24, noNaN: true }),
  daysPerYear: fc.integer({ min: 0, max: 366 }),
  dimPercent: fc.double({ min: 0, max: 100, noNaN: true }),
  efficiencyPercent: fc.double({ min: 50, max: 100, noNaN: true }),
  standbyW: fc.double({ min: 0, max: 5, noNaN: true }),
  pricePerKwh: fc.double({ min: 0, max: 5, noNaN: true }),
})

it('is never negative, adds up, and never falls with a larger load', () => {
  fc.assert(
    fc.property(inputs, (given) => {
      const { onTimeKwh, standbyKwh, energyKwh, cost } = runningCost(given)
      expect(Math.min(onTimeKwh, standbyKwh)).toBeGreaterThanOrEqual(0)
      expect(energyKwh).toBe(onTimeKwh + standbyKwh)
      expect(cost).toBe(energyKwh * given.pricePerKwh)
      expect(runningCost({ ...given, loadW: given.loadW * 2 }).energyKwh).toBeGreaterThanOrEqual(energyKwh)
    }),
    { numRuns: 1000 },
  )
})
