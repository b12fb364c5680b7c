import { numeralValue } from './numerals'
import { LONGEST_QUANTITY, type QuantityFault } from './read'
import type { System } from './systems'
import { type Token, tokensOf } from './tokens'

/** A conductor's size as the trade names it: an AWG number, or a nominal cross-section in mm². */
export type ConductorSize = { value: number; unit: 'AWG' | 'mm2' }

export type ConductorSizeReading =
  | { ok: true; value: ConductorSize }
  | { ok: false; reason: QuantityFault; said: string; example: string }

const GAUGE_BEFORE = /^(?:#|no\.?|number|awg|gauge|gage) ?(\d{1,2})(?: ?(?:awg|gauge|gage|ga\.?))?$/i
const GAUGE_AFTER = /^(\d{1,2})[ -]?(?:awg|gauge|gage|ga\.?)$/i
const ONLY_WORDS = /^(?:#|no\.?|number|awg|gauge|gage|ga\.?)$/i

function areaOf(tokens: readonly Token[]): ConductorSize | QuantityFault {
  const [numeral, unit, more] = tokens
  if (numeral?.kind === 'unit' && tokens.length === 1) return 'no-number'
  if (numeral?.kind !== 'numeral' || more !== undefined) return 'not-understood'
  const value = numeralValue(numeral.said, 'metric')
  if (typeof value !== 'number') return value
  if (unit === undefined) return 'no-unit'
  if (unit.kind !== 'unit') return 'not-understood'
  if (unit.expression !== 'mm^2') return 'wrong-dimension'
  return Number.isFinite(value) ? { value, unit: 'mm2' } : 'not-finite'
}

function sizeOf(text: string): ConductorSize | QuantityFault {
  if (text.length > LONGEST_QUANTITY) return 'too-long'
  const plain = text.trim().replace(/\s+/g, ' ')
  if (plain === '') return 'empty'
  const gauge = (GAUGE_BEFORE.exec(plain) ?? GAUGE_AFTER.exec(plain))?.[1]
  if (gauge !== undefined) return { value: Number(gauge), unit: 'AWG' }
  if (ONLY_WORDS.test(plain)) return 'no-number'
  const tokens = tokensOf(plain)
  return tokens === undefined ? 'not-understood' : areaOf(tokens)
}

/**
 * Reads a conductor's size: `14 AWG`, `#14`, `14 ga`, `no. 14`, `1.5 mm2`, `1,5 mm²`, `1.5 sq mm`.
 * A bare number is refused, since 4 may be either. Whether the trade makes the size is not checked.
 * Never throws.
 *
 * @param text any text; above 200 characters it is refused unread
 * @param options.system whose sizes the example shows; both are read
 * @returns the size, or the reason with an example
 */
export function readConductorSize(text: string, options: { system?: System } = {}): ConductorSizeReading {
  const size = sizeOf(text)
  if (typeof size === 'object') return { ok: true, value: size }
  const said = text.trim().slice(0, LONGEST_QUANTITY)
  return { ok: false, reason: size, said, example: options.system === 'metric' ? '1.5 mm2' : '14 AWG' }
}

/** A conductor's size as text: `14 AWG`, `1.5 mm²`. */
export function printConductorSize({ value, unit }: ConductorSize): string {
  return unit === 'AWG' ? `${value} AWG` : `${value} mm²`
}
