import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type CircuitInput, type CircuitLoad, circuitRoom } from '../../src/calculators/circuit'

const load: fc.Arbitrary<CircuitLoad> = fc.record({
  value: fc.double({ min: 0, max: 2000, noNaN: true }),
  unit: fc.constantFrom('W' as const, 'VA' as const, 'A' as const),
  continuous: fc.option(fc.boolean(), { nil: undefined }),
})
const circuit: fc.Arbitrary<CircuitInput> = fc.record({
  rules: fc.constantFrom('nec' as const, 'iec' as const),
  breakerA: fc.constantFrom(10, 15, 20),
  supplyV: fc.constantFrom(120, 230),
  existing: fc.array(load, { maxLength: 3 }),
  added: fc.array(load, { maxLength: 3 }),
  powerFactor: fc.double({ min: 0.3, max: 1, noNaN: true }),
  continuous: fc.boolean(),
})

test('one more load never makes more room', () => {
  fc.assert(
    fc.property(circuit, load, (input, more) => {
      const before = circuitRoom(input)
      const after = circuitRoom({ ...input, added: [...input.added, more] })
      expect(after.spareVA).toBeLessThanOrEqual(before.spareVA + 1e-9)
      if (!before.allowed) expect(after.allowed).toBe(false)
    }),
    { numRuns: 1000 },
  )
})

test('filling up what is spare brings a circuit to 100 %', () => {
  fc.assert(
    fc.property(circuit, (input) => {
      const room = circuitRoom(input)
      fc.pre(room.spareVA > 0)
      const full = circuitRoom({ ...input, added: [...input.added, { value: room.spareVA, unit: 'VA' }] })
      expect(full.usedPercent).toBeCloseTo(100, 6)
      expect(full.allowed).toBe(true)
    }),
    { numRuns: 1000 },
  )
})

test('a given factor replaces the rule', () => {
  const room = circuitRoom({
    rules: 'iec',
    breakerA: 10,
    supplyV: 230,
    existing: [],
    added: [],
    powerFactor: 1,
    continuous: true,
    factorPercent: 50,
  })
  expect(room.permittedVA).toBe(1150)
})
