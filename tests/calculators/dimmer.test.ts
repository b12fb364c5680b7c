import fc from 'fast-check'
import { expect, test } from 'vitest'
import { dimmerFit, type SidesRemoved } from '../../src/calculators/dimmer'

const watts = fc.double({ min: 10, max: 2000, noNaN: true })

test('side sections broken off never raise what a dimmer may carry, whatever its instructions say', () => {
  fc.assert(
    fc.property(
      watts,
      fc.option(watts, { nil: undefined }),
      fc.option(watts, { nil: undefined }),
      fc.array(watts, { minLength: 1, maxLength: 5 }),
      (rating, ratingOneSide, ratingBothSides, driversW) => {
        const at = (sidesRemoved: SidesRemoved) =>
          dimmerFit({
            rating: { value: rating, unit: 'W' },
            driversW,
            powerFactor: 0.9,
            sidesRemoved,
            ratingOneSide,
            ratingBothSides,
          })
        expect(at(1).permitted).toBeLessThanOrEqual(at(0).permitted)
        expect(at(2).permitted).toBeLessThanOrEqual(at(1).permitted)
        if (at(2).allowed) expect(at(0).allowed).toBe(true)
      },
    ),
    { numRuns: 1000 },
  )
})

test('as many equal drivers as it says fit, and one more does not', () => {
  fc.assert(
    fc.property(watts, fc.double({ min: 0.5, max: 200, noNaN: true }), (rating, driverW) => {
      const withDrivers = (count: number) =>
        dimmerFit({
          rating: { value: rating, unit: 'W' },
          driversW: Array(count).fill(driverW),
          powerFactor: 0.9,
          sidesRemoved: 0,
        })
      const most = withDrivers(1).driversAtMost ?? Number.NaN
      if (most > 0) expect(withDrivers(most).allowed).toBe(true)
      expect(withDrivers(most + 1).allowed).toBe(false)
    }),
    { numRuns: 1000 },
  )
})

test('only equal drivers are counted', () => {
  const fit = dimmerFit({
    rating: { value: 300, unit: 'W' },
    driversW: [45, 70],
    powerFactor: 0.9,
    sidesRemoved: 0,
  })
  expect(fit.driversAtMost).toBeNull()
})

test('the figures of the instructions stand before the habit', () => {
  const at = (sidesRemoved: SidesRemoved) =>
    dimmerFit({
      rating: { value: 600, unit: 'W' },
      driversW: [100],
      powerFactor: 0.9,
      sidesRemoved,
      ratingOneSide: 450,
      ratingBothSides: 300,
    })
  expect(at(1)).toMatchObject({ permitted: 450, permittedBy: 'instructions' })
  expect(at(2)).toMatchObject({ permitted: 300, permittedBy: 'instructions' })
})

test('a driver that cannot be dimmed is told from one of another kind', () => {
  const fit = dimmerFit({
    rating: { value: 150, unit: 'W' },
    driversW: [50],
    powerFactor: 0.9,
    sidesRemoved: 0,
    dimmerKind: 'reverse-phase',
    driverDimming: 'none',
  })
  expect(fit.reasons).toEqual(['driver-not-dimmable'])
  expect(fit.match?.dimmersThatWould).toEqual(['low-voltage-pwm', 'switch'])
})
