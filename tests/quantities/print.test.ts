import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as print from '../../src/quantities/print'
import { readQuantity } from '../../src/quantities/read'
import type { System } from '../../src/quantities/systems'

const INCH = 0.0254 // international inch, exact

function readBack(text: string, system: System): number {
  const reading = readQuantity(text, 'length', { system })
  if (!reading.ok) throw new Error(`${text}: ${reading.reason}`)
  return reading.value
}

describe('lengths', () => {
  it.each<[number, System, print.Rounding, string]>([
    [5.3, 'us', 'down', `17' 4-5/8"`], // 208.661 in = 17 ft 4 in and 10.58/16
    [5.3, 'us', 'up', `17' 4-11/16"`],
    [5.3, 'metric', 'down', '5.300 m'],
    [5.3 - 1e-4, 'metric', 'down', '5.299 m'],
    [5.3 + 1e-4, 'metric', 'up', '5.301 m'],
    [12.5 * 12 * INCH, 'us', 'down', `12' 6"`],
    [12.5 * 12 * INCH, 'us', 'up', `12' 6"`],
    [40 * 12 * INCH, 'us', 'down', `40' 0"`],
    [7.5 * INCH, 'us', 'nearest', `7-1/2"`],
    [0.5 * INCH, 'us', 'nearest', `1/2"`],
    [24.25 * INCH, 'us', 'nearest', `2' 0-1/4"`],
    [0, 'us', 'down', '0"'],
    [0, 'metric', 'down', '0 mm'],
    [0.2831, 'metric', 'down', '283 mm'],
    [0.9999, 'metric', 'up', '1.000 m'],
    [-7.5 * INCH, 'us', 'down', `-7-1/2"`],
    [-0.0104, 'metric', 'down', '-11 mm'],
    [-0.0004, 'metric', 'up', '0 mm'],
    [12 * INCH - 1e-5, 'us', 'up', `1' 0"`],
  ])('%s m in %s, %s', (lengthM, system, rounding, text) => {
    expect(print.printLength(lengthM, system, rounding)).toBe(text)
  })

  it('in both systems, each rounded by itself', () => {
    expect(print.printBothLengths(5.3, 'us', 'down')).toBe(`17' 4-5/8" (5.300 m)`)
    expect(print.printBothLengths(5.3, 'metric', 'up')).toBe(`5.300 m (17' 4-11/16")`)
  })

  it('sixteenths print and read back exactly', () => {
    fc.assert(
      fc.property(fc.integer({ min: -20_000, max: 20_000 }), (sixteenths) => {
        const lengthM = (sixteenths / 16) * INCH
        for (const rounding of ['down', 'up', 'nearest'] as const) {
          const text = print.printLength(lengthM, 'us', rounding)
          expect(readBack(text, 'us')).toBeCloseTo(lengthM, 9)
        }
      }),
      { numRuns: 2000 },
    )
  })

  it('any length reads back within a step, never on the unsafe side', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -100, max: 100, noNaN: true }),
        fc.constantFrom<System>('us', 'metric'),
        (lengthM, system) => {
          const stepM = system === 'us' ? INCH / 16 : 0.001
          const back = (rounding: print.Rounding) =>
            readBack(print.printLength(lengthM, system, rounding), system)
          const noise = 1e-6 * stepM + 1e-9 * Math.abs(lengthM)
          expect(back('down')).toBeLessThanOrEqual(lengthM + noise)
          expect(back('up')).toBeGreaterThanOrEqual(lengthM - noise)
          expect(back('up') - back('down')).toBeLessThanOrEqual(stepM + noise)
          expect(Math.abs(back('nearest') - lengthM)).toBeLessThanOrEqual(stepM / 2 + noise)
        },
      ),
      { numRuns: 2000 },
    )
  })
})

describe('other figures', () => {
  it.each([
    [print.printTemperature(25, 'metric'), '25 °C (77 °F)'],
    [print.printTemperature(25, 'us'), '77 °F (25 °C)'],
    [print.printIlluminance(538.2, 'metric'), '538 lx (50 fc)'],
    [print.printVolume(15.5 * 2.54 ** 3, 'us', 'down'), '15.50 in³ (253.9 cm³)'],
    [print.printVolume(15.5 * 2.54 ** 3, 'metric', 'up'), '254.0 cm³ (15.50 in³)'],
    [print.printPowerPerLength(14.4, 'metric'), '14.4 W/m (4.39 W/ft)'],
    [print.printPowerPerLength(14.4, 'us', 'up'), '4.39 W/ft (14.4 W/m)'],
    [print.printLumensPerLength(1000, 'us'), '305 lm/ft (1000 lm/m)'],
    [print.printResistancePerLength(0.12315, 'us'), '0.03754 Ω/ft (0.1232 Ω/m)'],
    [print.printQuantity(23.181, 'V'), '23.18 V'],
    [print.printQuantity(2.5, 'A'), '2.5 A'],
    [print.printQuantity(0.00423, 'A'), '0.00423 A'],
    [print.printQuantity(176, 'W', { rounding: 'up' }), '176 W'],
    [print.printQuantity(2.617, '%', { decimals: 2, rounding: 'up' }), '2.62 %'],
    [print.printQuantity(0.31, 'ohm'), '0.31 Ω'],
    [print.printQuantity(50, 'count'), '50'],
    [print.printQuantity(0, 'W'), '0 W'],
    [print.printQuantity(12345.6, 'kWh'), '12345.6 kWh'],
    [print.printQuantity(100, '%'), '100 %'],
    [print.printNumber(0.1 + 0.2, { decimals: 1, rounding: 'up' }), '0.3'],
    [print.printNumber(-2.55, { decimals: 1, rounding: 'down' }), '-2.6'],
    [print.printNumber(9.996, { significantDigits: 3 }), '10'],
    [print.printNumber(2, { decimals: 2, keepZeros: true }), '2.00'],
  ])('%s', (text, expected) => expect(text).toBe(expected))

  it('refuses to print what is no number', () => {
    expect(() => print.printQuantity(Number.NaN, 'V')).toThrow(RangeError)
    expect(() => print.printLength(Number.POSITIVE_INFINITY, 'us', 'down')).toThrow(RangeError)
  })

  it('rounds a number the way that was named', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.integer({ min: 0, max: 4 }),
        (value, decimals) => {
          const noise = 1e-6 * 10 ** -decimals + 1e-9 * Math.abs(value)
          const shown = (rounding: print.Rounding) => Number(print.printNumber(value, { decimals, rounding }))
          expect(shown('down')).toBeLessThanOrEqual(value + noise)
          expect(shown('up')).toBeGreaterThanOrEqual(value - noise)
        },
      ),
      { numRuns: 2000 },
    )
  })
})
