import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  illuminance,
  lightOnWork,
  lightOverBench,
  perceivedBrightness,
} from '../../src/calculators/line-light'

const metres = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const tapes = fc.record({
  lumensPerM: metres(20, 6000),
  lengthM: metres(0.01, 100),
  heightM: metres(0.05, 10),
})
const points = fc.record({ alongM: metres(-20, 20), acrossM: metres(-10, 10) })
const kept = { coverPassesPercent: 80, maintainedPercent: 80, dimPercent: 100 }

describe('light of a tape', () => {
  it('is never negative, alike to either side, and in proportion to the lumens', () => {
    fc.assert(
      fc.property(tapes, points, (tape, point) => {
        const lux = illuminance(tape, point)
        expect(lux).toBeGreaterThanOrEqual(0)
        expect(illuminance(tape, { alongM: -point.alongM, acrossM: -point.acrossM })).toBeCloseTo(lux, 9)
        expect(illuminance({ ...tape, lumensPerM: 2 * tape.lumensPerM }, point)).toBeCloseTo(2 * lux, 6)
      }),
      { numRuns: 1000 },
    )
  })

  it('never grows dimmer with a longer tape, nor brighter further from its middle', () => {
    fc.assert(
      fc.property(tapes, points, metres(1, 3), (tape, point, times) => {
        const lux = illuminance(tape, point)
        expect(illuminance({ ...tape, lengthM: tape.lengthM * times }, point)).toBeGreaterThanOrEqual(
          lux - 1e-9,
        )
        const further = { alongM: point.alongM * times, acrossM: point.acrossM * times }
        expect(illuminance(tape, further)).toBeLessThanOrEqual(lux + 1e-9)
      }),
      { numRuns: 1000 },
    )
  })

  it('meets the target with the lumens it asks for, and at the dim it asks for', () => {
    fc.assert(
      fc.property(tapes, points, metres(1, 5000), (tape, point, targetLux) => {
        const light = lightOnWork(tape, point, kept, targetLux)
        const richer = { ...tape, lumensPerM: light.neededLumensPerM }
        expect(lightOnWork(richer, point, kept, targetLux).lux / targetLux).toBeCloseTo(1, 9)
        const dimmed = { ...kept, dimPercent: light.dimToPercent }
        expect(lightOnWork(tape, point, dimmed, targetLux).lux / targetLux).toBeCloseTo(1, 9)
      }),
      { numRuns: 1000 },
    )
  })
})

describe('light over the bench', () => {
  it('samples evenly from end to end, and agrees with the light at the point', () => {
    const tape = { lumensPerM: 1000, lengthM: 2, heightM: 0.6 }
    const { along, across } = lightOverBench(
      tape,
      { alongM: 0, acrossM: 0 },
      kept,
      { alongM: 1, acrossM: 0.5 },
      5,
    )
    expect(along.map(({ atM }) => atM)).toEqual([-1, -0.5, 0, 0.5, 1])
    expect(across.map(({ atM }) => atM)).toEqual([-0.5, -0.25, 0, 0.25, 0.5])
    const { lux, luxAtEnd } = lightOnWork(tape, { alongM: 0, acrossM: 0 }, kept, 500)
    expect(along[2]?.lux).toBeCloseTo(lux, 9)
    expect(along[4]?.lux).toBeCloseTo(luxAtEnd, 9)
  })
})

it('a light dimmed to a quarter looks half as bright', () => {
  expect(perceivedBrightness(25)).toBe(50)
})
