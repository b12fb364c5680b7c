import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type FramingInput, framing } from '../../src/calculators/framing'

const member: fc.Arbitrary<FramingInput> = fc.record({
  rules: fc.constantFrom('nec' as const, 'iec' as const),
  use: fc.constantFrom(
    'joist' as const,
    'stud-bearing' as const,
    'stud-bearing-doubled' as const,
    'stud-other' as const,
    'top-plate' as const,
  ),
  depthM: fc.double({ min: 0.038, max: 0.4, noNaN: true }),
  engineered: fc.boolean(),
  otherHoleDistanceM: fc.option(fc.double({ min: 0, max: 1, noNaN: true }), { nil: undefined }),
  spanM: fc.constant(4),
  fromSupportM: fc.double({ min: 0, max: 4, noNaN: true }),
})
const small = fc.double({ min: 0.003, max: 0.15, noNaN: true })
const edge = fc.option(fc.double({ min: 0, max: 0.2, noNaN: true }), { nil: undefined })

test('a bigger bit, centred or at the same edge, is never more allowed and never needs fewer plates', () => {
  fc.assert(
    fc.property(member, small, small, edge, (given, one, other, edgeDistanceM) => {
      // Off the centre line by more than a millimetre is refused under iec, whatever the bit, so there it is centred.
      const at = given.rules === 'iec' ? undefined : edgeDistanceM
      const bored = (diameterM: number) =>
        framing({ ...given, cut: { kind: 'hole', diameterM, edgeDistanceM: at } })
      const [smaller, bigger] = [bored(Math.min(one, other)), bored(Math.max(one, other))]
      if (smaller.allowed === false) expect(bigger.allowed).toBe(false)
      expect(bigger.platesNeeded ?? 0).toBeGreaterThanOrEqual(smaller.platesNeeded ?? 0)
    }),
    { numRuns: 2000 },
  )
})

test('a deeper or longer notch is never more allowed', () => {
  fc.assert(
    fc.property(
      member,
      small,
      small,
      fc.constantFrom('end', 'outer-third', 'middle-third', undefined),
      (given, one, other, place) => {
        const notched = (depthM: number, lengthM: number) =>
          framing({ ...given, cut: { kind: 'notch', depthM, lengthM, place: place as 'end' | undefined } })
        const least = Math.min(one, other)
        if (notched(least, least).allowed === false)
          expect(notched(Math.max(one, other), least).allowed).toBe(false)
        if (notched(least, least).allowed === false)
          expect(notched(least, Math.max(one, other)).allowed).toBe(false)
      },
    ),
    { numRuns: 2000 },
  )
})

test('the largest hole is allowed where it is centred, the largest without a plate needs none', () => {
  fc.assert(
    fc.property(member, (given) => {
      const nec: FramingInput = { ...given, rules: 'nec', engineered: false, otherHoleDistanceM: undefined }
      const { largestHoleM, largestHoleWithoutPlateM } = framing(nec)
      const bored = (diameterM: number) => framing({ ...nec, cut: { kind: 'hole', diameterM } })
      if (largestHoleM) expect(bored(largestHoleM).allowed).toBe(true)
      if (largestHoleWithoutPlateM) expect(bored(largestHoleWithoutPlateM).platesNeeded).toBe(0)
      expect(largestHoleWithoutPlateM).toBeLessThanOrEqual(largestHoleM ?? 0)
    }),
    { numRuns: 2000 },
  )
})

test('without a cut nothing is judged', () => {
  expect(framing({ rules: 'nec', use: 'joist', depthM: 0.2, engineered: false })).toMatchObject({
    allowed: null,
    reasons: [],
    platesNeeded: null,
    edgeLeftM: null,
  })
})
