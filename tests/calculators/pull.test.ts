import fc from 'fast-check'
import { expect, test } from 'vitest'
import { pullPlan } from '../../src/calculators/pull'

const leg = fc.record({ lengthM: fc.double({ min: 0.1, max: 60, noNaN: true }) })
const legs = fc.array(leg, { minLength: 1, maxLength: 8 })
const plan = { rules: 'nec', endSlackM: 0.3048, slackPercent: 10, rodLengthM: 1.5, spoolM: 70 } as const

test('every leg is on one spool, and what is cut and what is left make up the spools', () => {
  fc.assert(
    fc.property(legs, (given) => {
      const { spools, cableM } = pullPlan({ ...plan, legs: given })
      expect(spools?.legs.flat().sort((one, other) => one - other)).toEqual([...given.keys()])
      const leftM = spools?.leftM.reduce((sum, left) => sum + left, 0) ?? Number.NaN
      expect(cableM + leftM).toBeCloseTo((spools?.count ?? Number.NaN) * plan.spoolM, 6)
    }),
    { numRuns: 1000 },
  )
})

test('one more leg never takes less cable, fewer spools or fewer rods', () => {
  fc.assert(
    fc.property(legs, leg, (given, more) => {
      const before = pullPlan({ ...plan, legs: given })
      const after = pullPlan({ ...plan, legs: [...given, more] })
      expect(after.cableM).toBeGreaterThan(before.cableM)
      expect(after.spools?.count).toBeGreaterThanOrEqual(before.spools?.count ?? Number.NaN)
      expect(after.rods).toBeGreaterThanOrEqual(before.rods ?? Number.NaN)
    }),
    { numRuns: 1000 },
  )
})
