import { type Measured, measured, sameDimension } from './units'

/** A bare number, or a quantity with its unit. */
export type Value = number | Measured

/** Why a text has no value. Thrown and caught within the reading of one text, never beyond. */
export class Refusal extends Error {
  constructor(
    readonly reason: 'ambiguous-comma' | 'no-number' | 'no-unit' | 'wrong-dimension' | 'not-understood',
  ) {
    super(reason)
  }
}

// mathjs multiplies units only with units; metres in metres have no dimension.
const withUnit = (value: Value) => (typeof value === 'number' ? measured(value, 'm/m') : value)

/** The sum of two of a kind; @throws Refusal where a bare number meets a quantity, or two kinds meet. */
export function sum(one: Value, other: Value): Value {
  if (typeof one === 'number' && typeof other === 'number') return one + other
  if (typeof one === 'number' || typeof other === 'number') throw new Refusal('no-unit')
  if (!sameDimension(one, other)) throw new Refusal('wrong-dimension')
  const total = one.clone()
  total.value = one.value + other.value
  return total
}

/** The product of two values, with the product of their units. */
export function product(one: Value, other: Value): Value {
  if (typeof one === 'number' && typeof other === 'number') return one * other
  return withUnit(one).multiply(withUnit(other))
}

/** One value divided by another, with the quotient of their units: a number where these are alike. */
export function quotient(one: Value, other: Value): Value {
  if (typeof one === 'number' && typeof other === 'number') return one / other
  return withUnit(one).divide(withUnit(other))
}
