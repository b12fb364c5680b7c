import { combined, isPure, type Measured, pure, sameDimension } from './units'

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

/** The sum of two of a kind; @throws Refusal where a bare number meets a quantity, or two kinds meet. */
export function sum(one: Value, other: Value): Value {
  if (typeof one === 'number' && typeof other === 'number') return one + other
  if (typeof one === 'number' || typeof other === 'number') throw new Refusal('no-unit')
  if (!sameDimension(one, other)) throw new Refusal('wrong-dimension')
  return { ...one, value: one.value + other.value }
}

/** The product of two values, with the product of their units. */
export const product = (one: Value, other: Value): Value => joined(one, other, 1)

/** One value divided by another, with the quotient of their units: a number where these are alike. */
export const quotient = (one: Value, other: Value): Value => joined(one, other, -1)

function joined(one: Value, other: Value, power: 1 | -1): Value {
  if (typeof other === 'number') {
    const times = (value: number) => (power > 0 ? value * other : value / other)
    return typeof one === 'number' ? times(one) : { ...one, value: times(one.value) }
  }
  const result = combined(typeof one === 'number' ? pure(one) : one, other, power)
  return isPure(result) ? result.value : result
}
