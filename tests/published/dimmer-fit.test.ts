import { expect, test } from 'vitest'
import { type DimmerFitInput, dimmerFit, driverInputsW } from '../../src/calculators/dimmer'

const given = (rest: Partial<DimmerFitInput>): DimmerFitInput => ({
  rating: { value: 150, unit: 'W' },
  driversW: [50, 50],
  powerFactor: 0.9,
  sidesRemoved: 0,
  ...rest,
})

// Common practice: 5/6 with one side section removed, 2/3 with both. Hand arithmetic: 300 W keeps 250 W and 200 W.
test.each([
  [0, 300],
  [1, 250],
  [2, 200],
] as const)('a 300 W dimmer with %i side sections removed keeps %i W', (sidesRemoved, keptW) => {
  const fit = dimmerFit(given({ rating: { value: 300, unit: 'W' }, sidesRemoved }))
  expect(fit.permitted).toBeCloseTo(keptW, 9)
  expect(fit.permittedBy).toBe(sidesRemoved === 0 ? 'rating' : 'common-practice')
})

test('five 40 W drivers on 300 W with one side removed take 80 % of what is left', () => {
  const fit = dimmerFit(
    given({ rating: { value: 300, unit: 'W' }, driversW: [40, 40, 40, 40, 40], sidesRemoved: 1 }),
  )
  expect(fit).toMatchObject({ allowed: true, load: 200, driversAtMost: 6 })
  expect(fit.loadPercent).toBeCloseTo(80, 9)
})

// Definition of power factor: 50 W at 0.9 is 55.56 VA, so a 150 VA dimmer takes two and not three.
test('a rating in VA counts apparent power', () => {
  const fit = dimmerFit(given({ rating: { value: 150, unit: 'VA' } }))
  expect(fit.load).toBeCloseTo(111.111, 3)
  expect(fit.driversAtMost).toBe(2)
})

// Common practice: dimmer and driver have to be made for one way of dimming.
test.each([
  ['forward-phase', 'forward-phase', true],
  ['forward-phase', 'either-phase', true],
  ['forward-phase', 'reverse-phase', false],
  ['reverse-phase', 'either-phase', true],
  ['reverse-phase', 'DALI', false],
  ['0-10V', '0-10V', true],
  ['0-10V', 'DALI', false],
  ['DALI', 'DALI', true],
  ['low-voltage-pwm', 'none', true],
  ['low-voltage-pwm', 'reverse-phase', false],
  ['switch', 'none', true],
  ['switch', '0-10V', true],
] as const)('%s on %s: %s', (dimmerKind, driverDimming, matches) => {
  expect(dimmerFit(given({ dimmerKind, driverDimming })).match?.matches).toBe(matches)
})

test('a driver held at full may sit ahead of a low-voltage dimmer, and amperes are compared', () => {
  const fit = dimmerFit(
    given({
      rating: { value: 5, unit: 'A' },
      driversW: [],
      dimmedCurrentA: 4,
      dimmerKind: 'low-voltage-pwm',
      driverDimming: 'either-phase',
      heldAtFull: true,
    }),
  )
  expect(fit).toMatchObject({ allowed: true, unit: 'A', load: 4, permitted: 5, driversAtMost: null })
})

test('12 W on a dimmer with a minimum of 25 W lacks 13 W', () => {
  const fit = dimmerFit(given({ driversW: [12], minimumW: 25 }))
  expect(fit).toMatchObject({
    allowed: false,
    reasons: ['below-minimum'],
    minimum: { met: false, missingW: 13 },
  })
})

// Definition of efficiency: 88 W out at 88 % is 100 W in.
test('outputs become inputs by the efficiency', () => {
  expect(driverInputsW([88, 44], 88)).toEqual([100, 50])
})
