import { createUnitClass, type Unit } from 'mathjs'

declare module 'mathjs' {
  // What mathjs has at run time, but not in its type declarations.
  export function createUnitClass(dependencies: object): UnitCtor
  interface UnitCtor {
    new (value: number | null, unit: string | Unit): Unit
  }
  interface Unit {
    toNumber(unit: Unit): number
  }
}

/** mathjs gives a few of its factors (degree Fahrenheit: 5/9) as fractions; as numbers they do. */
class Ratio extends Number {
  constructor(numerator: number, denominator: number) {
    super(numerator / denominator)
  }
}

/**
 * The mathjs unit class over plain JavaScript numbers.
 *
 * Built from its factory alone: the usual way of assembling it brings complex, big and fractional
 * numbers and with them most of mathjs, five times the size, into a bundle that a phone loads. It also
 * leaves nothing of mathjs's expression parser, `import` or `evaluate` within reach.
 */
const UnitClass = createUnitClass({
  config: { number: 'number', predictable: false },
  addScalar: (a: number, b: number) => Number(a) + Number(b),
  subtractScalar: (a: number, b: number) => Number(a) - Number(b),
  multiplyScalar: (a: number, b: number) => Number(a) * Number(b),
  divideScalar: (a: number, b: number) => Number(a) / Number(b),
  pow: Math.pow,
  abs: Math.abs,
  fix: Math.trunc,
  round: Math.round,
  equal: (a: number, b: number) => a === b,
  isNumeric: (value: unknown) => typeof value === 'number',
  format: String,
  number: Number,
  Complex: {},
  BigNumber: {},
  Fraction: Ratio,
})

// Units that mathjs lacks, or would take for another: lumens and per cent have no dimension there,
// and volt-amperes would be watts.
for (const name of ['lumen', 'voltampere', 'percentage'])
  UnitClass.createUnitSingle(name, { prefixes: 'short' })

/** A number with a mathjs unit. */
export type Measured = Unit

/** Every unit expression that was asked for, read once: mathjs would read it anew for each number. */
const units = new Map<string, Unit>()

function unitOf(expression: string): Unit {
  const known = units.get(expression)
  if (known) return known
  const unit = new UnitClass(null, expression)
  units.set(expression, unit)
  return unit
}

/**
 * A quantity in a unit that mathjs (or the three units added here) knows.
 *
 * @param value any number
 * @param unit a unit expression of our own, such as `W/m` or `lumen/ft^2`, never what a person typed
 * @throws if the expression is not a unit
 */
export function measured(value: number, unit: string): Measured {
  return new UnitClass(value, unitOf(unit))
}

/**
 * The number of a quantity in a unit of its dimension.
 *
 * @param unit as for `measured`
 * @throws if the dimensions differ
 */
export function numberIn(quantity: Measured, unit: string): number {
  return quantity.toNumber(unitOf(unit))
}

/** Whether two quantities have the same dimension, so that they can be added. */
export function sameDimension(one: Measured, other: Measured): boolean {
  return one.equalBase(other)
}
