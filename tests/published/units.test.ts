import { unit } from 'mathjs'
import { describe, expect, it } from 'vitest'
import {
  CM3_PER_CUBIC_INCH,
  fahrenheit,
  LUX_PER_FOOT_CANDLE,
  METRES_PER_FOOT,
  METRES_PER_INCH,
} from '../../src/quantities/convert'
import { DIMENSIONS, type Dimension } from '../../src/quantities/dimensions'
import { readQuantity } from '../../src/quantities/read'

function read(text: string, dimension: Dimension) {
  const reading = readQuantity(text, dimension)
  if (!reading.ok) throw new Error(`${text}: ${reading.reason}`)
  expect(reading.unit).toBe(DIMENSIONS[dimension].unit)
  return reading.value
}

function expectRelative(actual: number, expected: number, tolerance = 1e-12) {
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(tolerance * Math.abs(expected))
}

describe('constants against the full mathjs build', () => {
  it.each([
    [METRES_PER_FOOT, unit(1, 'ft').toNumber('m')],
    [METRES_PER_INCH, unit(1, 'in').toNumber('m')],
    [CM3_PER_CUBIC_INCH, unit(1, 'in^3').toNumber('cm^3')],
    [LUX_PER_FOOT_CANDLE, unit(1, 'm^2').toNumber('ft^2')],
    [fahrenheit(25), unit(25, 'degC').toNumber('degF')],
    [fahrenheit(-40), unit(-40, 'degC').toNumber('degF')],
  ])('%s is %s', (ours, theirs) => expectRelative(ours, theirs))
})

// NIST Special Publication 811 (2008 edition), appendix B: the digits printed there. Factors in bold
// there are exact; others are given to seven digits.
describe('factors of NIST SP 811:2008', () => {
  it.each<[string, Dimension, number, number]>([
    ['1 ft', 'length', 0.3048, 1e-12],
    ['1 in', 'length', 0.0254, 1e-12],
    ['1 yd', 'length', 0.9144, 1e-12],
    ['1 in3', 'volume', 16.387064, 1e-12],
    ['1 sq in', 'area', 645.16, 1e-12],
    ['1 sq ft', 'area', 92903.04, 1e-12],
    ['1 fc', 'illuminance', 10.76391, 1e-7],
    ['1 kWh', 'energy', 1, 1e-12],
    ['1 min', 'time', 1 / 60, 1e-12],
  ])('%s', (text, dimension, expected, tolerance) =>
    expectRelative(read(text, dimension), expected, tolerance),
  )

  it.each([
    ['77 °F', 25],
    ['32 °F', 0],
    ['212 °F', 100],
    ['-40 °F', -40],
  ])('%s by t/°C = (t/°F - 32)/1.8', (text, degC) => {
    expect(Math.abs(read(text, 'temperature') - degC)).toBeLessThanOrEqual(1e-12)
  })
})

// The full mathjs build reads the same unit by its own parser.
describe('conversions against the full mathjs build', () => {
  it.each<[string, Dimension, string, string]>([
    ['12.5 ft', 'length', '12.5 ft', 'm'],
    ['70 µm', 'length', '70 um', 'm'],
    ['4.4 W/ft', 'powerPerLength', '4.4 W/ft', 'W/m'],
    ['0.01 kW per yard', 'powerPerLength', '0.01 kW/yd', 'W/m'],
    ['7.77 ohm per 1000 ft', 'resistancePerLength', '7.77e-3 ohm/ft', 'ohm/m'],
    ['13.3 ohm/km', 'resistancePerLength', '13.3 ohm/km', 'ohm/m'],
    ['12.1 mohm/m', 'resistancePerLength', '12.1 mohm/m', 'ohm/m'],
    ['90 min', 'time', '90 minute', 'hour'],
    ['15.5 cubic inches', 'volume', '15.5 in^3', 'cm^3'],
    ['350 mA', 'current', '350 mA', 'A'],
    ['1.2 kHz', 'frequency', '1.2 kHz', 'Hz'],
    ['500 Wh', 'energy', '500 Wh', 'kWh'],
    ['120 V * 2 A', 'power', '240 W', 'W'],
    ['9.6 W/m * 16.4 ft', 'power', '47.98771200000001 W', 'W'],
  ])('%s', (text, dimension, theirs, theirUnit) =>
    expectRelative(read(text, dimension), unit(theirs).toNumber(theirUnit)),
  )

  it.each<[string, Dimension, string]>([
    ['km', 'length', 'm'],
    ['cm', 'length', 'm'],
    ['mm', 'length', 'm'],
    ['um', 'length', 'm'],
    ['ft', 'length', 'm'],
    ['in', 'length', 'm'],
    ['yd', 'length', 'm'],
    ['minute', 'time', 'hour'],
    ['second', 'time', 'hour'],
    ['kV', 'voltage', 'V'],
    ['mV', 'voltage', 'V'],
    ['mA', 'current', 'A'],
    ['kW', 'power', 'W'],
    ['mW', 'power', 'W'],
    ['Wh', 'energy', 'kWh'],
    ['kohm', 'resistance', 'ohm'],
    ['mohm', 'resistance', 'ohm'],
    ['kHz', 'frequency', 'Hz'],
  ])('3 %s', (name, dimension, theirUnit) =>
    expectRelative(read(`3 ${name}`, dimension), unit(3, name).toNumber(theirUnit)),
  )

  it('lumens per foot, which mathjs lacks, as the reciprocal of its foot', () => {
    expectRelative(read('300 lm/ft', 'lumensPerLength'), 300 / unit(1, 'ft').toNumber('m'))
  })
})

it('40 ft, 480 in and 12.192 m are one length', () => {
  expectRelative(read('40 ft', 'length'), 12.192)
  expectRelative(read('480 in', 'length'), 12.192)
  expectRelative(read('12.192 m', 'length'), 12.192)
})
