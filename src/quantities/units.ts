import { METRES_PER_FOOT, METRES_PER_INCH } from './convert'

/** The units that all others are made of. Lumens, volt-amperes and per cent are each of a kind of their own. */
const BASE: readonly string[] = ['m', 'second', 'V', 'A', 'lumen', 'voltampere', 'percentage', 'oz', 'degC']

/** Every other unit: how many of what it is. All are exact (NIST SP 811:2008, appendix B; SI brochure, table 7). */
const DERIVED: Readonly<Record<string, readonly [times: number, of: string]>> = {
  km: [1000, 'm'],
  cm: [0.01, 'm'],
  mm: [0.001, 'm'],
  um: [1e-6, 'm'],
  ft: [METRES_PER_FOOT, 'm'],
  in: [METRES_PER_INCH, 'm'],
  yd: [3 * METRES_PER_FOOT, 'm'],
  minute: [60, 'second'],
  hour: [3600, 'second'],
  kV: [1000, 'V'],
  mV: [0.001, 'V'],
  mA: [0.001, 'A'],
  W: [1, 'V*A'],
  kW: [1000, 'V*A'],
  mW: [0.001, 'V*A'],
  Wh: [3600, 'V*A*second'],
  kWh: [3_600_000, 'V*A*second'],
  kvoltampere: [1000, 'voltampere'],
  ohm: [1, 'V/A'],
  kohm: [1000, 'V/A'],
  mohm: [0.001, 'V/A'],
  Hz: [1, 'second^-1'],
  kHz: [1000, 'second^-1'],
}

/** A number of base units, and the power of each of these in it. */
export type Measured = { readonly value: number; readonly powers: readonly number[] }

const FACTOR = /([*/]?)([a-zA-Z]+)(?:\^(-?\d))?/g

/** A number without a unit. */
export const pure = (value: number): Measured => ({ value, powers: BASE.map(() => 0) })

/** One of a unit, in base units. */
function one(expression: string): Measured {
  let result = pure(1)
  for (const [, sign, name = '', power = '1'] of expression.matchAll(FACTOR)) {
    result = combined(result, unitNamed(name), Number(power) * (sign === '/' ? -1 : 1))
  }
  return result
}

function unitNamed(name: string): Measured {
  const at = BASE.indexOf(name)
  if (at >= 0) return { value: 1, powers: BASE.map((_, each) => (each === at ? 1 : 0)) }
  const derived = DERIVED[name]
  if (!derived) throw new Error(`there is no unit ${name}`)
  const [times, of] = derived
  const { value, powers } = one(of)
  return { value: times * value, powers }
}

const known = new Map<string, Measured>()

/** As `one`, worked out once for each expression. */
function oneOf(expression: string): Measured {
  const found = known.get(expression) ?? one(expression)
  known.set(expression, found)
  return found
}

/**
 * A quantity in a unit.
 *
 * @param value any number
 * @param unit an expression of our own, such as `W/m` or `lumen/ft^2`, never what a person typed
 * @throws if the expression is not of units
 */
export function measured(value: number, unit: string): Measured {
  // A point on a scale with another zero (NIST SP 811:2008, section B.6).
  if (unit === 'degF') return measured((value - 32) / 1.8, 'degC')
  const { value: times, powers } = oneOf(unit)
  return { value: value * times, powers }
}

/** How many of a unit a quantity of its dimension is. @throws if the expression is not of units */
export const numberIn = ({ value }: Measured, unit: string): number => value / oneOf(unit).value

/** One quantity times another to a power of 1, -1 or any other whole number. */
export function combined(one: Measured, other: Measured, power: number): Measured {
  return {
    value: power < 0 ? one.value / other.value ** -power : one.value * other.value ** power,
    powers: one.powers.map((each, at) => each + power * (other.powers[at] ?? 0)),
  }
}

/** Whether two quantities have the same dimension, so that they can be added. */
export const sameDimension = (one: Measured, other: Measured): boolean =>
  one.powers.every((power, at) => power === other.powers[at])

/** Whether it is a number that no unit is left of. */
export const isPure = ({ powers }: Measured): boolean => powers.every((power) => power === 0)
