import { expect, test } from 'vitest'
import { type CircuitInput, circuitRoom } from '../../src/calculators/circuit'
import { breakers } from '../../src/tables/breakers'

const given = (rest: Partial<CircuitInput>): CircuitInput => ({
  rules: 'nec',
  breakerA: 15,
  supplyV: 120,
  existing: [],
  added: [],
  powerFactor: 0.9,
  continuous: true,
  ...rest,
})

// Example 1, by hand from NEC 210.20(A): 15 A · 120 V · 80 % = 1440 VA, 1296 W at 0.9.
test('an empty 15 A circuit has 1440 VA', () => {
  const room = circuitRoom(given({}))
  expect(room.spareVA).toBeCloseTo(1440, 9)
  expect(room.spareW).toBeCloseTo(1296, 9)
  expect(room.spareA).toBeCloseTo(12, 9)
})

// Example 2, by hand from NEC 210.20(A): 1400 W / 0.9 / 120 V = 12.96 A against 12 A.
test('1400 W of drivers is too much for 15 A', () => {
  const room = circuitRoom(given({ added: [{ value: 1400, unit: 'W' }] }))
  expect(room).toMatchObject({ allowed: false, reasons: ['over-allowed'] })
  expect(room.usedA).toBeCloseTo(12.96, 2)
  expect(room.spareVA).toBeLessThan(0)
})

// Example 3, by hand from NEC 210.19(A)(1), mixed load: 8 A · 125 % + 6 A = 16 A on a 20 A breaker, so 4 A are
// left, of which a continuous load may take 3.2 A.
test('a mixed load counts its continuous part at 125 %', () => {
  const room = circuitRoom(
    given({
      breakerA: 20,
      existing: [
        { value: 8, unit: 'A', continuous: true },
        { value: 6, unit: 'A', continuous: false },
      ],
    }),
  )
  expect(room.countedA).toBeCloseTo(16, 9)
  expect(room.usedPercent).toBeCloseTo(80, 9)
  expect(room.spareA).toBeCloseTo(3.2, 9)
})

// Example 4, by hand: IEC breakers carry their rating, 16 A · 230 V = 3680 VA; (1400 + 190) W / 0.9 = 1766.7 VA.
test('under iec a breaker carries its rating', () => {
  const room = circuitRoom(
    given({
      rules: 'iec',
      breakerA: 16,
      supplyV: 230,
      existing: [{ value: 1400, unit: 'W' }],
      added: [{ value: 190, unit: 'W' }],
      driversW: [190],
    }),
  )
  expect(room.permittedVA).toBeCloseTo(3680, 9)
  expect(room.spareVA).toBeCloseTo(1913.33, 2)
  // 1913.33 VA / 211.11 VA = 9.06
  expect(room.driversMore).toBe(9)
})

// A clamp shows amperes, which are volt-amperes by the voltage, whatever the power factor.
test('amperes count as volt-amperes', () => {
  expect(circuitRoom(given({ existing: [{ value: 5, unit: 'A' }] })).usedVA).toBe(600)
})

// NEC 240.6(A) and IEC 60898-1, from memory.
test('breakers up to 30 A and 32 A', () => {
  expect(breakers.nec.sizesA).toEqual([10, 15, 20, 25, 30])
  expect(breakers.iec.sizesA).toEqual([6, 10, 13, 16, 20, 25, 32])
})

// NEC 411.7, from memory.
test('low-voltage lighting on more than 20 A is a care under the NEC only', () => {
  expect(circuitRoom(given({ breakerA: 25 })).cares).toEqual(['breaker-over-20-for-low-voltage-lighting'])
  expect(circuitRoom(given({ breakerA: 20 })).cares).toEqual([])
  expect(circuitRoom(given({ rules: 'iec', breakerA: 25, supplyV: 230 })).cares).toEqual([])
})
