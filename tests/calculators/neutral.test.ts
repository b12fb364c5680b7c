import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Hot, type NeutralInput, sharedNeutral, supplyKindOf } from '../../src/calculators/neutral'

const hot: fc.Arbitrary<Hot> = fc.record({
  currentA: fc.double({ min: 0, max: 60, noNaN: true }),
  circuit: fc.constantFrom('1', '2', '3'),
  leg: fc.constantFrom('A' as const, 'B' as const, 'C' as const, undefined),
  panel: fc.constantFrom(undefined, undefined, undefined, 'one', 'two'),
})
const input: fc.Arbitrary<NeutralInput> = fc.record({
  rules: fc.constantFrom('nec' as const, 'iec' as const),
  supplyKind: fc.constantFrom(
    'one-circuit' as const,
    'single-phase-three-wire' as const,
    'three-phase-wye' as const,
  ),
  hots: fc.array(hot, { minLength: 2, maxLength: 6 }),
  electronic: fc.boolean(),
})

test('a neutral never carries more than its hots together, nor less at worst than it ordinarily does', () => {
  fc.assert(
    fc.property(input, (given) => {
      const { neutralA, atWorstA } = sharedNeutral(given)
      const sum = given.hots.reduce((total, each) => total + each.currentA, 0)
      expect(atWorstA).toBeLessThanOrEqual(sum * (1 + 1e-12))
      expect(neutralA).toBeLessThanOrEqual(atWorstA * (1 + 1e-12))
    }),
    { numRuns: 2000 },
  )
})

test('one more hot never lowers the worst', () => {
  fc.assert(
    fc.property(input, hot, (given, more) => {
      const after = sharedNeutral({ ...given, hots: [...given.hots, more] })
      expect(after.atWorstA).toBeGreaterThanOrEqual(sharedNeutral(given).atWorstA * (1 - 1e-12))
    }),
    { numRuns: 2000 },
  )
})

const two = (
  rest: Partial<NeutralInput>,
  one: Partial<Hot> = {},
  other: Partial<Hot> = {},
): NeutralInput => ({
  rules: 'nec',
  supplyKind: 'single-phase-three-wire',
  electronic: true,
  hots: [
    { currentA: 8, circuit: '1', ...one },
    { currentA: 6, circuit: '2', ...other },
  ],
  ...rest,
})

test('what is not known is taken for the worst', () => {
  expect(sharedNeutral(two({}))).toMatchObject({ reasons: ['leg-not-told'], atWorstA: 14 })
  expect(sharedNeutral(two({ supplyKind: 'one-circuit' }))).toMatchObject({
    reasons: ['more-than-one-breaker'],
    atWorstA: 14,
  })
  expect(sharedNeutral(two({}, {}, { circuit: '1' }))).toMatchObject({ allowed: true, atWorstA: 14 })
})

test('the worst is held against the smaller of neutral and breaker', () => {
  const legs = [{ leg: 'A' as const }, { leg: 'B' as const }] as const
  expect(sharedNeutral(two({ breakerA: 15 }, ...legs))).toMatchObject({
    allowed: true,
    atWorstA: 10,
    capacityA: 15,
  })
  expect(sharedNeutral(two({ breakerA: 15, neutralLimitA: 9 }, ...legs))).toMatchObject({
    allowed: false,
    reasons: ['over-capacity'],
    capacityA: 9,
  })
})

test('the supply follows only where there is no choice', () => {
  expect(supplyKindOf([{ circuit: '1' }, { circuit: '1' }])).toBe('one-circuit')
  expect(
    supplyKindOf([
      { circuit: '1', leg: 'A' },
      { circuit: '2', leg: 'C' },
    ]),
  ).toBe('three-phase-wye')
  expect(
    supplyKindOf([
      { circuit: '1', leg: 'A' },
      { circuit: '2', leg: 'B' },
    ]),
  ).toBeUndefined()
})
