import { Refusal, type Value } from './arithmetic'
import { DIMENSIONS, type Dimension, dimensionOf } from './dimensions'
import { numeralValue } from './numerals'
import { evaluate } from './parser'
import { isTemperature } from './spellings'
import type { System } from './systems'
import { type Token, tokensOf } from './tokens'
import { measured, numberIn } from './units'

/** Why a text is no quantity of the kind that was asked for. */
export type QuantityFault =
  | 'empty'
  | 'too-long'
  | 'no-number'
  | 'no-unit'
  | 'wrong-dimension'
  | 'ambiguous-comma'
  | 'not-understood'
  | 'not-finite'

/** A quantity in the JSON unit of its dimension, or the reason why there is none, with an example to show. */
export type QuantityReading =
  | { ok: true; value: number; unit: string; dimension: Dimension }
  | { ok: false; reason: QuantityFault; said: string; example: string; found?: Dimension }

/** The greatest length of a text that is read as a quantity. */
export const LONGEST_QUANTITY = 200

/** A point on a temperature scale stands alone: a sign at most, a numeral, the scale. */
function temperatureOf(tokens: readonly Token[], system: System): Value | undefined {
  const [first] = tokens
  const signed = first?.kind === 'sign' && (first.sign === '-' || first.sign === '+')
  const [numeral, unit, more] = signed ? tokens.slice(1) : tokens
  if (numeral?.kind !== 'numeral' || unit?.kind !== 'unit' || more !== undefined) return undefined
  if (!isTemperature(unit.expression)) return undefined
  const value = numeralValue(numeral.said, system)
  if (typeof value !== 'number') throw new Refusal(value)
  return measured(signed && first.sign === '-' ? -value : value, unit.expression)
}

function evaluated(text: string, system: System): Value {
  const tokens = tokensOf(text)
  if (tokens === undefined) throw new Refusal('not-understood')
  return temperatureOf(tokens, system) ?? evaluate(tokens, system)
}

/** Takes off the noise of binary fractions that a conversion leaves: 77 °F is 25 °C. */
const withoutNoise = (value: number) => Number(value.toPrecision(15)) + 0

/**
 * Reads a quantity as a person types it, with its unit: `12' 6-1/2"`, `3.8m`, `2 x 16.4 ft + 3 ft`,
 * `4.4 W/ft`, `85 %`, `77 °F`. Nothing is guessed: a bare number, a comma that could be a decimal or a
 * thousands comma, or a unit of another kind is refused by name. Never throws. The range is not checked.
 *
 * @example readQuantity('12 ft 6 in', 'length') // { ok: true, value: 3.81, unit: 'm', dimension: 'length' }
 * @param text any text; above 200 characters it is refused unread
 * @param dimensions what was asked for; the example shown is of the first
 * @param options.system whose commas: thousands in `us` (the default), decimal in `metric`
 * @returns the value in the JSON unit of its dimension, or the reason
 */
export function readQuantity(
  text: string,
  dimensions: Dimension | readonly Dimension[],
  options: { system?: System } = {},
): QuantityReading {
  const system = options.system ?? 'us'
  const wanted = typeof dimensions === 'string' ? [dimensions] : dimensions
  const example = wanted[0] === undefined ? '' : DIMENSIONS[wanted[0]].example[system]
  const refused = (reason: QuantityFault, found?: Dimension): QuantityReading => ({
    ok: false,
    reason,
    said: text.trim().slice(0, LONGEST_QUANTITY),
    example,
    ...(found === undefined ? {} : { found }),
  })
  if (text.length > LONGEST_QUANTITY) return refused('too-long')
  if (text.trim() === '') return refused('empty')
  try {
    const value = evaluated(text, system)
    if (typeof value === 'number') return refused(Number.isFinite(value) ? 'no-unit' : 'not-finite')
    const dimension = dimensionOf(value)
    if (dimension === undefined || !wanted.includes(dimension)) return refused('wrong-dimension', dimension)
    const { unit, expression } = DIMENSIONS[dimension]
    const inUnit = withoutNoise(numberIn(value, expression))
    return Number.isFinite(inUnit) ? { ok: true, value: inUnit, unit, dimension } : refused('not-finite')
  } catch (fault) {
    if (fault instanceof Refusal) return refused(fault.reason)
    throw fault
  }
}
