import fc from 'fast-check'
import { expect, it } from 'vitest'
import { sizeDriver } from '../../src/calculators/driver'
import { driverSizes } from '../../src/tables/driver-sizes'

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })

const circumstances = fc.record({
  voltageV: number(3, 60),
  loadLimitPercent: number(10, 100),
  ambientC: number(-40, 90),
  efficiencyPercent: number(50, 99),
  powerFactor: number(0.3, 1),
  supplyV: number(100, 277),
  classTwoNameplateW: number(15, 100),
})

it('the rating carries the load, and the next smaller one does not', () => {
  fc.assert(
    fc.property(circumstances, number(0.5, 5000), (around, loadW) => {
      const size = sizeDriver({ ...around, load: { kind: 'watts', loadW } })
      if ('tooHotAboveC' in size) throw new Error('no line, no heat limit')
      const share = size.loadPercentOfDerated ?? loadW / (6 * size.drivers)
      expect(share).toBeLessThanOrEqual(around.loadLimitPercent * (1 + 1e-9))
      const smallerW = driverSizes.ratingsW.filter((rating) => rating < (size.ratingW ?? 0)).at(-1) ?? 0
      expect(loadW).toBeGreaterThan((smallerW * around.loadLimitPercent) / 100)
      expect(size.inputW - size.heatW).toBeCloseTo(loadW, 6)
    }),
    { numRuns: 1000 },
  )
})

it('every unit of every run is fed once, from no output more than it carries', () => {
  fc.assert(
    fc.property(
      circumstances,
      fc.array(fc.integer({ min: 1, max: 120 }), { minLength: 1, maxLength: 8 }),
      (around, units) => {
        const load = {
          kind: 'runs' as const,
          runsM: units.map((n) => n * 0.1),
          ratedWPerM: 10,
          cutLengthM: 0.1,
        }
        const size = sizeDriver({ ...around, load })
        if ('tooHotAboveC' in size) throw new Error('no line, no heat limit')
        const { outputs, pieces = [], unitsPerOutput = 0, usableW } = size.classTwo
        if (unitsPerOutput === 0) return expect(outputs).toBeUndefined()
        // A unit of 0.1 m at 10 W/m is 1 W; the count of units allows 1e-6 of one.
        expect(unitsPerOutput).toBeLessThanOrEqual(usableW + 1.001e-6)
        units.forEach((count, run) => {
          const fed = pieces.flat().filter((piece) => piece.run === run)
          expect(fed.reduce((sum, piece) => sum + piece.units, 0)).toBe(count)
          if (count <= unitsPerOutput) expect(fed).toHaveLength(1)
        })
        for (const output of pieces) {
          expect(output.reduce((sum, piece) => sum + piece.units, 0)).toBeLessThanOrEqual(unitsPerOutput)
        }
        const all = units.reduce((sum, count) => sum + count, 0)
        expect(outputs).toBeGreaterThanOrEqual(Math.ceil(all / unitsPerOutput))
      },
    ),
    { numRuns: 1000 },
  )
})
