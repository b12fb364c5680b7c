import { abs, add, type Complex, complex, multiply } from 'mathjs'
import { expect, test } from 'vitest'
import { type Hot, hotCurrentA, type Leg, sharedNeutral, supplyKindOf } from '../../src/calculators/neutral'

const hot = (currentA: number, leg: Leg, circuit: string = leg): Hot => ({ currentA, leg, circuit })
const wye = (hots: Hot[], electronic = false) =>
  sharedNeutral({ rules: 'nec', supplyKind: 'three-phase-wye', hots, electronic })
const split = (hots: Hot[], electronic = false) =>
  sharedNeutral({ rules: 'nec', supplyKind: 'single-phase-three-wire', hots, electronic })

/** The neutral as a sum of phasors, worked by mathjs. */
function phasorSum(currents: readonly { currentA: number; degrees: number }[]): number {
  const phasors = currents.map(({ currentA, degrees }) =>
    multiply(currentA, complex({ r: 1, phi: (degrees * Math.PI) / 180 })),
  )
  return Number(abs(phasors.reduce((sum, phasor) => add(sum, phasor) as Complex, complex(0, 0)) as Complex))
}

// NEC 310.15(E) and any handbook on harmonics: 10/10/10 of electronic load puts √3 · 10 = 17.3 A in the neutral.
test('a balanced wye of electronic loads', () => {
  const neutral = wye([hot(10, 'A'), hot(10, 'B'), hot(10, 'C')], true)
  expect(neutral.neutralA).toBeCloseTo(0, 9)
  expect(neutral.atWorstA).toBeCloseTo(17.32, 2)
})

test.each([
  [5, 4, 3],
  [10, 0.5, 7],
  [12, 12, 0],
])('a wye of %f, %f and %f A is the phasor sum', (a, b, c) => {
  const expected = phasorSum([
    { currentA: a, degrees: 0 },
    { currentA: b, degrees: -120 },
    { currentA: c, degrees: 120 },
  ])
  expect(wye([hot(a, 'A'), hot(b, 'B'), hot(c, 'C')]).neutralA).toBeCloseTo(expected, 9)
})

test('opposite legs of 120/240 V are the phasor sum', () => {
  const expected = phasorSum([
    { currentA: 6, degrees: 0 },
    { currentA: 4.5, degrees: 180 },
  ])
  const neutral = split([hot(6, 'A', '1'), hot(4.5, 'B', '3')])
  expect(neutral).toMatchObject({ allowed: true, multiwire: true })
  expect(neutral.neutralA).toBeCloseTo(expected, 9)
})

// Two currents that never flow at once: √(3² + 4²) = 5.
test('electronic loads of opposite legs, dimmed differently', () => {
  expect(split([hot(3, 'A'), hot(4, 'B')], true).atWorstA).toBeCloseTo(5, 9)
})

// Two legs of a wye with electronic loads: √(a² + b²).
test('electronic loads of two legs of a wye', () => {
  expect(wye([hot(3, 'A'), hot(4, 'B')], true).atWorstA).toBeCloseTo(5, 9)
})

// With one leg switched off nothing cancels the other.
test('linear loads of opposite legs carry the greater one at worst', () => {
  expect(split([hot(6, 'A'), hot(4.5, 'B')])).toMatchObject({ neutralA: 1.5, atWorstA: 6 })
})

// NEC 210.4 and 200.4: two switched hots of one breaker are one circuit, and the neutral carries both.
test('two switched hots of one breaker', () => {
  const hots = [
    { currentA: 3, circuit: '7' },
    { currentA: 2, circuit: '7' },
  ]
  const neutral = sharedNeutral({
    rules: 'nec',
    supplyKind: 'one-circuit',
    hots,
    electronic: true,
    neutralLimitA: 15,
    breakerA: 20,
  })
  expect(neutral).toMatchObject({ allowed: true, neutralA: 5, atWorstA: 5, capacityA: 15, multiwire: false })
  expect(supplyKindOf(hots)).toBe('one-circuit')
})

test('several hots of one breaker add up on their leg', () => {
  expect(split([hot(3, 'A', '1'), hot(2, 'A', '1'), hot(4, 'B', '3')])).toMatchObject({
    allowed: true,
    neutralA: 1,
  })
})

// NEC 200.4 and 210.4(A).
test('two breakers on one leg may not share, and would add up', () => {
  const neutral = split([hot(9, 'A', '1'), hot(8, 'A', '5')])
  expect(neutral).toMatchObject({
    allowed: false,
    reasons: ['two-breakers-one-leg'],
    neutralA: 17,
    atWorstA: 17,
  })
})

test('hots of different panels may not share', () => {
  const hots = [
    { ...hot(5, 'A', '1'), panel: 'house' },
    { ...hot(4, 'B', '3'), panel: 'barn' },
  ]
  expect(split(hots)).toMatchObject({ allowed: false, reasons: ['different-panels'], atWorstA: 9 })
})

// BS 7671 314.4, from memory.
test('under iec two circuits never share', () => {
  const hots = [hot(5, 'A'), hot(4, 'B')]
  const neutral = sharedNeutral({ rules: 'iec', supplyKind: 'three-phase-wye', hots, electronic: true })
  expect(neutral).toMatchObject({ allowed: false, reasons: ['circuits-never-share'] })
})

test('a single phase has no leg C', () => {
  expect(split([hot(5, 'A'), hot(4, 'C')]).reasons).toEqual(['no-such-leg'])
})

// I = P / (V · pf): 108 W at 120 V and 0.9 is 1 A.
test('watts become amperes', () => {
  expect(hotCurrentA(108, 120, 0.9)).toBeCloseTo(1, 12)
})
