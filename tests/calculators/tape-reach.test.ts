import fc from 'fast-check'
import { expect, it } from 'vitest'
import { lightOf, solveTape } from '../../src/calculators/tape-network'
import { feedsFor, type ReachQuestion, reachOfTape, runsFor } from '../../src/calculators/tape-reach'

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })

const questions: fc.Arbitrary<ReachQuestion> = fc.record(
  {
    tape: fc.record({
      cutLengthM: number(0.02, 0.5),
      ratedV: number(3, 60),
      ratedWPerM: number(0.5, 40),
      railOhmPerM: number(0.005, 2),
      knee: number(0.5, 0.85),
      style: fc.constantFrom('resistor' as const, 'regulated' as const),
    }),
    feed: fc.constantFrom('one-end' as const, 'both-ends' as const, 'middle' as const),
    cableOhmPerM: number(0.001, 0.08),
    feedDistanceM: fc.oneof(fc.constant(0), number(0.1, 50)),
    farFeedDistanceM: number(0, 50),
    feedCapacityA: number(1, 50),
    driverW: number(1, 1000),
    driverLoadLimitPercent: number(10, 100),
    evennessPercent: number(50, 99),
    leastLightPercent: number(10, 99),
    makerLimitM: number(0.1, 50),
  },
  {
    requiredKeys: [
      'tape',
      'feed',
      'cableOhmPerM',
      'feedDistanceM',
      'driverW',
      'driverLoadLimitPercent',
      'evennessPercent',
      'leastLightPercent',
    ],
  },
)

/** The limits once more, each as its definition says, for a tape of so many units. */
function broken(question: ReachQuestion, units: number): string[] {
  const { tape, feed } = question
  const lengthM = units * tape.cutLengthM
  const feeds = feedsFor(question, lengthM)
  const solution = solveTape({ ...tape, lengthM }, feeds, { sourceV: tape.ratedV, trunkOhm: 0 })
  const light = lightOf(solution)
  const over = (value: number, limit: number) => value > limit * (1 + 1e-9)
  const cabledA = solution.feedA.filter((_, i) => (feeds[i]?.ohm ?? 0) > 0)
  // The count of units allows 1e-6 of one for the digits of a length.
  const slack = 1e-6 * tape.cutLengthM
  const driverM = (question.driverW * question.driverLoadLimitPercent) / 100 / tape.ratedWPerM
  const makerM = (question.makerLimitM ?? Number.POSITIVE_INFINITY) * (feed === 'one-end' ? 1 : 2)
  return [
    over(lengthM, driverM + slack) ? 'driver' : '',
    over(question.evennessPercent, light.evennessPercent) ? 'evenness' : '',
    over(question.leastLightPercent, light.dimmestPercent) ? 'brightness' : '',
    over(lengthM, makerM + slack) ? 'maker' : '',
    over(Math.max(0, ...cabledA), question.feedCapacityA ?? Number.POSITIVE_INFINITY) ? 'feedCapacity' : '',
  ].filter((id) => id !== '')
}

it('every limit holds at the reach, and one cut more breaks just the binding ones', () => {
  fc.assert(
    fc.property(questions, (question) => {
      const { units, reachM, binding, limits } = reachOfTape(question)
      expect(reachM).toBe(units * question.tape.cutLengthM)
      if (units > 0) expect(broken(question, units)).toEqual([])
      if (binding.length > 0) expect(broken(question, units + 1).sort()).toEqual([...binding].sort())
      else expect(Math.min(...limits.map((limit) => limit.units))).toBeGreaterThanOrEqual(units)
    }),
    { numRuns: 1000 },
  )
})

it('a tape runs for so many units just where no limit is broken', () => {
  fc.assert(
    fc.property(questions, fc.integer({ min: 1, max: 200 }), (question, units) => {
      const found = broken(question, units)
      expect(runsFor(question, units)).toBe(found.length === 0)
      for (const id of ['driver', 'evenness', 'brightness'] as const)
        expect(runsFor(question, units, id)).toBe(!found.includes(id))
    }),
    { numRuns: 500 },
  )
})

it('a limit of its own holds at its reach and not one cut further, and no other is nearer than the reach', () => {
  fc.assert(
    fc.property(questions, (question) => {
      const { units, limits } = reachOfTape(question)
      for (const limit of limits) {
        expect(limit.units).toBeGreaterThanOrEqual(units)
        if (limit.beyond) continue
        if (limit.units > 0) expect(broken(question, limit.units)).not.toContain(limit.id)
        expect(broken(question, limit.units + 1)).toContain(limit.id)
      }
    }),
    { numRuns: 300 },
  )
})
