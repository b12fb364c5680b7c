import { describe, expect, it } from 'vitest'
import { conductorOhmPerM } from '../../src/calculators/conductor'
import { lightOf } from '../../src/calculators/tape-network'
import {
  feedsFor,
  type ReachLimitId,
  type ReachQuestion,
  reachOfTape,
} from '../../src/calculators/tape-reach'
import { solveWithCircuitSimulator } from './circuit-simulator'

const size = { value: 18, unit: 'AWG' as const }
const cableOhmPerM = conductorOhmPerM({ size, strands: 'stranded', temperatureC: 75 }) as number

/** 24 V at 14.4 W/m on a driver so large that it does not bind. */
const question = (
  change: Partial<ReachQuestion> = {},
  tape: Partial<ReachQuestion['tape']> = {},
): ReachQuestion => ({
  tape: {
    cutLengthM: 0.1,
    ratedV: 24,
    ratedWPerM: 14.4,
    railOhmPerM: 0.12315,
    knee: 0.7,
    style: 'resistor',
    ...tape,
  },
  feed: 'one-end',
  cableOhmPerM,
  feedDistanceM: 0,
  driverW: 1000,
  driverLoadLimitPercent: 80,
  evennessPercent: 85,
  leastLightPercent: 80,
  ...change,
})

const reachBy = (asked: ReachQuestion, id: ReachLimitId) =>
  reachOfTape(asked).limits.find((limit) => limit.id === id)?.reachM

// Values of the design document, worked there independently.
describe('check values', () => {
  it('96 W at 24 V: the driver binds at 5.3 m', () => {
    const reach = reachOfTape(question({ driverW: 96 }))
    expect(reach.reachM).toBeCloseTo(5.3, 9)
    expect(reach.binding).toEqual(['driver'])
    expect(reach.loadW).toBeCloseTo(76.32, 9)
    expect(reach.driverLoadPercent).toBeCloseTo(79.5, 9)
    expect(reachBy(question({ driverW: 96 }), 'driver')).toBeCloseTo(5.3, 9)
    expect(reachBy(question({ driverW: 96 }), 'evenness')).toBeCloseTo(5.8, 9)
  })

  it.each([
    ['both ends without cable', question({ feed: 'both-ends', farFeedDistanceM: 0 }), 11.6],
    ['both ends, the far cable as long as the run', question({ feed: 'both-ends' }), 9.0],
    ['the middle', question({ feed: 'middle' }), 11.5],
    ['regulated, one end', question({}, { style: 'regulated' }), 9.6],
    ['12 V', question({}, { ratedV: 12, cutLengthM: 0.05 }), 2.9],
    ['12 V through 50 ft', question({ feedDistanceM: 15.24 }, { ratedV: 12, cutLengthM: 0.05 }), 2.9],
  ])('evenness alone: %s', (_, asked, expectedM) => {
    expect(reachBy(asked, 'evenness')).toBeCloseTo(expectedM, 9)
  })

  it('12 V through 50 ft: brightness binds, for at the reach by evenness the dimmest unit is near 50 %', () => {
    const asked = question({ feedDistanceM: 15.24 }, { ratedV: 12, cutLengthM: 0.05 })
    expect(reachOfTape(asked).binding).toEqual(['brightness'])
    const even = reachOfTape({ ...asked, leastLightPercent: 10 })
    expect(even.reachM).toBeCloseTo(2.9, 9)
    expect(Math.abs((even.atReach?.light.dimmestPercent ?? 0) - 50)).toBeLessThan(1)
  })
})

// Evenness of a tape fed at one end is that of the cable equation, 1/cosh(L'/λ), to the pitch.
it('a fine pitch reaches where the cable equation says', () => {
  const reach = reachOfTape(question({}, { cutLengthM: 0.01 }))
  const lambdaM = Math.sqrt((0.3 * 24) / (0.12315 * (14.4 / 24)))
  expect(Math.abs(reach.reachM - (lambdaM * Math.acosh(1 / 0.85) + 0.005))).toBeLessThanOrEqual(0.011)
})

describe('at the reach the limits hold, and one cut more breaks them: by the circuit simulator', () => {
  it.each([
    ['one end', question()],
    ['both ends', question({ feed: 'both-ends', feedDistanceM: 2 })],
    ['middle', question({ feed: 'middle', feedDistanceM: 3 })],
    ['regulated', question({ feedDistanceM: 4 }, { style: 'regulated' })],
  ])('%s', async (_, asked) => {
    const { units } = reachOfTape(asked)
    const holds = async (count: number): Promise<boolean> => {
      const design = { ...asked.tape, lengthM: count * asked.tape.cutLengthM }
      const volts = await solveWithCircuitSimulator(design, feedsFor(asked, design.lengthM), {
        sourceV: asked.tape.ratedV,
        trunkOhm: 0,
      })
      const { ratedV, knee, style } = asked.tape
      const fullV = style === 'resistor' ? ratedV : 0.9 * ratedV
      const light = volts.map((v) => {
        const percent = Math.max(0, (100 * (v - knee * ratedV)) / (fullV - knee * ratedV))
        return style === 'regulated' ? Math.min(100, percent) : percent
      })
      const dimmest = Math.min(...light)
      return dimmest >= 80 && (100 * dimmest) / Math.max(...light) >= 85
    }
    expect(await holds(units)).toBe(true)
    expect(await holds(units + 1)).toBe(false)
  })
})

describe('the other limits', () => {
  // The maker's printed run is for one feed; fed from two sides it counts double.
  it.each([
    ['one-end', 3],
    ['both-ends', 6],
    ['middle', 6],
  ] as const)('the maker’s run, fed at %s', (feed, expectedM) => {
    expect(reachBy(question({ feed, makerLimitM: 3 }), 'maker')).toBeCloseTo(expectedM, 9)
    expect(reachOfTape(question({ feed, makerLimitM: 3 })).binding).toEqual(['maker'])
  })

  it('the feed cable’s capacity is judged by the solved current, and not at all without a cable', () => {
    const cabled = question({ feedDistanceM: 3, feedCapacityA: 1 })
    const reach = reachOfTape(cabled)
    expect(reach.binding).toEqual(['feedCapacity'])
    expect(reach.atReach?.busiestFeedA).toBeLessThanOrEqual(1 + 1e-9)
    // By hand: 17 units are rated 1.02 A; the cable loses 0.16 V and the rails about 0.07 V of the 7.2 V above the
    // knee, so they take about 0.99 A. 18 units are rated 1.08 A and take about 1.04 A.
    expect(reach.reachM).toBeCloseTo(1.7, 9)
    expect(reachBy(question({ feedCapacityA: 1 }), 'feedCapacity')).toBeUndefined()
  })

  it('with both ends the busiest feed is the one with a cable', () => {
    const { atReach } = reachOfTape(question({ feed: 'both-ends', feedCapacityA: 5.6 }))
    expect(atReach?.busiestFeedA).toBe(atReach?.solution.feedA[1])
  })

  it('limits that stop at the same cut all bind', () => {
    const tied = reachOfTape(question({ driverW: 72, driverLoadLimitPercent: 100, makerLimitM: 5 }))
    expect(tied.reachM).toBeCloseTo(5, 9)
    expect(tied.binding).toEqual(['driver', 'maker'])
  })

  it('not even one cut', () => {
    const none = reachOfTape(question({ driverW: 1 }))
    expect(none).toMatchObject({ units: 0, reachM: 0, binding: ['driver'], atReach: undefined })
  })

  it('a limit that lies beyond the longest tape says so', () => {
    const faint = reachOfTape(question({}, { ratedWPerM: 0.5, railOhmPerM: 0.005, ratedV: 60 }))
    expect(faint.limits.find(({ id }) => id === 'evenness')).toMatchObject({ units: 1000, beyond: true })
    expect(faint.reachM).toBeCloseTo(100, 9)
    expect(faint.binding).toEqual([])
  })

  it('the light at the reach is the light of its solution', () => {
    const { atReach } = reachOfTape(question())
    expect(atReach && lightOf(atReach.solution)).toEqual(atReach?.light)
  })
})
