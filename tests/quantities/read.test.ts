import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { DIMENSIONS, type Dimension } from '../../src/quantities/dimensions'
import { readQuantity } from '../../src/quantities/read'
import type { System } from '../../src/quantities/systems'

const INCH = 0.0254 // international inch, exact
const FOOT = 0.3048 // international foot, exact
const ALL = Object.keys(DIMENSIONS) as Dimension[]

function value(text: string, dimension: Dimension, system: System = 'us') {
  const reading = readQuantity(text, dimension, { system })
  if (!reading.ok) throw new Error(`${text}: ${reading.reason}`)
  return reading.value
}

function reason(text: string, dimension: Dimension = 'length', system: System = 'us') {
  const reading = readQuantity(text, dimension, { system })
  return reading.ok ? reading.value : reading.reason
}

describe('lengths', () => {
  it.each([
    [`12' 6"`, 150 * INCH],
    [`12'6"`, 150 * INCH],
    [`12' 6 1/2"`, 150.5 * INCH],
    [`12' 6-1/2"`, 150.5 * INCH],
    [`12'-6"`, 150 * INCH],
    [`12'-6 1/2"`, 150.5 * INCH],
    [`12' - 6"`, 138 * INCH],
    ['12’ 6”', 150 * INCH],
    ['12′ 6″', 150 * INCH],
    [`12' 6''`, 150 * INCH],
    ['12 ft 6 in', 150 * INCH],
    ['12 ft. 6 in.', 150 * INCH],
    ['12 Feet and 6 Inches', 150 * INCH],
    ['12ft6in', 150 * INCH],
    ['12ft2in', 146 * INCH],
    [`12ft2"`, 146 * INCH],
    ['12ft2 1/2in', 146.5 * INCH],
    ['12-1/2 in', 12.5 * INCH],
    ['12 1/2 in', 12.5 * INCH],
    ['12½ in', 12.5 * INCH],
    ['1/2 in', 0.5 * INCH],
    ['1 / 2 in', 0.5 * INCH],
    ['½ in', 0.5 * INCH],
    ['3⁄8"', 0.375 * INCH],
    ['-7 1/2 in', -7.5 * INCH],
    [`-12' 6"`, -150 * INCH],
    ['−3 m', -3],
    ['3.8m', 3.8],
    ['.5 m', 0.5],
    ['1e3 m', 1000],
    ['3 m 40 cm', 3.4],
    ['  3.8\u00a0m ', 3.8],
    ['5 MM', 0.005],
    ['1,200 mm', 1.2],
    ['1,200.5 m', 1200.5],
    ['16.4 ft * 2 + 3 ft', 35.8 * FOOT],
    ['2 x 16.4 ft', 32.8 * FOOT],
    ['2x16.4ft', 32.8 * FOOT],
    ['16.4 ft × 2', 32.8 * FOOT],
    ['(3 m + 40 cm) * 2', 6.8],
    ['(16 + 8) ft', 24 * FOOT],
    [`12' 6" / 2`, 75 * INCH],
    ['60 W / 4.4 W/ft', (60 / 4.4) * FOOT],
    ['5 m - 40 cm', 4.6],
    ['5m-40cm', 4.6],
    ['0 ft', 0],
  ])('%s', (text, lengthM) => expect(value(text, 'length')).toBeCloseTo(lengthM, 12))
})

describe('commas', () => {
  it.each<[string, System, number | string]>([
    ['3,8 m', 'metric', 3.8],
    ['0,125 m', 'metric', 0.125],
    ['1.200,5 m', 'metric', 1200.5],
    ['1,200.5 m', 'metric', 1200.5],
    ['1,200,000 mm', 'metric', 1200],
    ['5.283 m', 'metric', 5.283],
    ['1,200 mm', 'metric', 'ambiguous-comma'],
    ['3,8 m', 'us', 'ambiguous-comma'],
    ['0,125 m', 'us', 'ambiguous-comma'],
    ['1.200,5 m', 'us', 'ambiguous-comma'],
    ['12,34,56 m', 'metric', 'ambiguous-comma'],
    ['3, 8 m', 'metric', 'not-understood'],
  ])('%s in %s', (text, system, expected) => expect(reason(text, 'length', system)).toBe(expected))
})

describe('other kinds', () => {
  it.each<[string, Dimension, number]>([
    ['14.4 W/m', 'powerPerLength', 14.4],
    ['4.4 watts per foot', 'powerPerLength', 4.4 / FOOT],
    ['4.4 W per ft', 'powerPerLength', 4.4 / FOOT],
    ['4.4w/ft', 'powerPerLength', 4.4 / FOOT],
    ['85%', 'percent', 85],
    ['85 per cent', 'percent', 85],
    ['77F', 'temperature', 25],
    ['77 degrees fahrenheit', 'temperature', 25],
    ['25 °C', 'temperature', 25],
    ['-5 C', 'temperature', -5],
    ['50 foot-candles', 'illuminance', 50 / FOOT ** 2],
    ['500 lux', 'illuminance', 500],
    ['24VDC', 'voltage', 24],
    ['24 V dc', 'voltage', 24],
    ['12 volts ac', 'voltage', 12],
    ['300 mV', 'voltage', 0.3],
    ['2.5 amps', 'current', 2.5],
    ['350ma', 'current', 0.35],
    ['0.5 Ω', 'resistance', 0.5],
    ['0.5 \u2126', 'resistance', 0.5],
    ['150 VA', 'apparentPower', 150],
    ['1.5 kVA', 'apparentPower', 1500],
    ['100 lm/W', 'efficacy', 100],
    ['100 lumens per watt', 'efficacy', 100],
    ['15.5 in³', 'volume', 15.5 * 2.54 ** 3],
    ['15.5 cu in', 'volume', 15.5 * 2.54 ** 3],
    ['254 ml', 'volume', 254],
    ['1.5mm^2', 'area', 1.5],
    ['1 h 30 min', 'time', 1.5],
    ['2 oz', 'copperWeight', 2],
    ['2 oz/ft²', 'copperWeight', 2],
    ['2 oz per sq ft', 'copperWeight', 2],
  ])('%s', (text, dimension, expected) => expect(value(text, dimension)).toBeCloseTo(expected, 9))

  it('names the dimension it found among several', () => {
    expect(readQuantity('150 VA', ['power', 'apparentPower'])).toEqual({
      ok: true,
      value: 150,
      unit: 'VA',
      dimension: 'apparentPower',
    })
  })

  it.each(ALL)('reads its own examples and its own JSON unit: %s', (dimension) => {
    for (const system of ['us', 'metric'] as const) {
      expect(readQuantity(DIMENSIONS[dimension].example[system], ALL, { system })).toMatchObject({
        ok: true,
        dimension,
      })
    }
    expect(value(`3 ${DIMENSIONS[dimension].unit}`, dimension)).toBeCloseTo(3, 12)
  })
})

describe('refusals', () => {
  it.each<[string, Dimension, string]>([
    ['', 'length', 'empty'],
    [' \n', 'length', 'empty'],
    ['9'.repeat(201), 'length', 'too-long'],
    ['85', 'percent', 'no-unit'],
    ['0', 'length', 'no-unit'],
    ['16 + 8 ft', 'length', 'no-unit'],
    ['12 - 1/2 in', 'length', 'no-unit'],
    ['10 m / 2 m', 'length', 'no-unit'],
    [`12' 6`, 'length', 'not-understood'],
    [`12' -6"`, 'length', 'not-understood'],
    [`12.5' 6"`, 'length', 'not-understood'],
    ['40 ft, 20 ft', 'length', 'not-understood'],
    ['40 ft 20 ft', 'length', 'not-understood'],
    ['1 200 mm', 'length', 'not-understood'],
    ['10 ft / 1/2', 'length', 'not-understood'],
    ['12 3/2 in', 'length', 'not-understood'],
    ['ft', 'length', 'no-number'],
    ['%', 'percent', 'no-number'],
    ['°F', 'temperature', 'no-number'],
    ['2 m * 3 m', 'length', 'wrong-dimension'],
    ['3 m + 2 W', 'length', 'wrong-dimension'],
    ['96 W', 'apparentPower', 'wrong-dimension'],
    ['25 °C + 5 °C', 'temperature', 'not-understood'],
    ['5 MW', 'power', 'not-understood'],
    ['5 Mw', 'power', 'not-understood'],
    ['5 MΩ', 'resistance', 'not-understood'],
    ['5² m', 'length', 'not-understood'],
    ['0x10 ft', 'length', 'not-understood'],
    ['1e999 m', 'length', 'not-finite'],
    ['1/0 m', 'length', 'not-finite'],
    ['0/0 m', 'length', 'not-finite'],
    ['1e308 km', 'length', 'not-finite'],
    ['__proto__', 'length', 'not-understood'],
    ['5 constructor', 'length', 'not-understood'],
    ['import("m")', 'length', 'not-understood'],
    ['createUnit("x")', 'length', 'not-understood'],
    ['1/(2 m) + 1/(3 m)', 'length', 'wrong-dimension'],
    ['('.repeat(199), 'length', 'not-understood'],
    ['5 m\0', 'length', 'not-understood'],
  ])('%j as %s: %s', (text, dimension, expected) => expect(reason(text, dimension)).toBe(expected))

  it('says what was found, what was said, and an example of the system', () => {
    expect(readQuantity(' 96 W ', 'length', { system: 'metric' })).toEqual({
      ok: false,
      reason: 'wrong-dimension',
      said: '96 W',
      example: '3.8 m',
      found: 'power',
    })
    expect(readQuantity('77 °F', 'length')).toMatchObject({ reason: 'wrong-dimension', found: 'temperature' })
  })
})

describe('any text at all', () => {
  const systems = fc.constantFrom<System>('us', 'metric')
  const finite = (text: string, system: System) => {
    const reading = readQuantity(text, ALL, { system })
    return !reading.ok || Number.isFinite(reading.value)
  }
  const VALID = [
    `12' 6-1/2"`,
    '16.4 ft * 2 + 3 ft',
    '(3 m + 40 cm) / 2',
    '7.77 ohm per 1000 ft',
    '77 °F',
    '1,200 mm',
  ]

  it('never throws on unicode', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 210 }), systems, finite), { numRuns: 4000 })
  })

  it('never throws on a valid text that was cut up and put together wrongly', () => {
    const pieces = VALID.flatMap((text) => text.split(/(?=[ \W])|\b/)).concat(
      '½',
      '^',
      '1e9',
      'e',
      '²',
      'x',
      '−',
    )
    const mutated = fc.array(fc.constantFrom(...pieces), { maxLength: 14 }).map((said) => said.join(''))
    fc.assert(fc.property(mutated, systems, finite), { numRuns: 4000 })
  })

  it('reads a sum of terms as the sum of its terms', () => {
    const term = fc.tuple(fc.integer({ min: 0, max: 999 }), fc.constantFrom('ft', 'in', 'm', 'mm', 'yd'))
    fc.assert(
      fc.property(fc.array(term, { minLength: 1, maxLength: 8 }), (terms) => {
        const texts = terms.map(([count, unit]) => `${count} ${unit}`)
        const apart = texts.reduce((total, text) => total + value(text, 'length'), 0)
        expect(value(texts.join(' + '), 'length')).toBeCloseTo(apart, 9)
      }),
      { numRuns: 1000 },
    )
  })
})
