import type { System } from './systems'

const GROUPED = /^[1-9]\d{0,2}(,\d{3})+$/
const GROUPED_WITH_POINT = /^[1-9]\d{0,2}(,\d{3})+\.\d+$/
const GROUPED_WITH_COMMA = /^[1-9]\d{0,2}(\.\d{3})+,\d+$/
const PLAIN = /^(\d+(\.\d+)?|\.\d+)$/
const DECIMAL_COMMA = /^\d*,\d+$/

/** Brings a numeral's digits to JavaScript's form, or says why they cannot be: nothing is guessed. */
function plainDigits(said: string, system: System): string | 'ambiguous-comma' | 'not-understood' {
  if (PLAIN.test(said)) return said
  if (!said.includes(',')) return 'not-understood'
  if (GROUPED_WITH_POINT.test(said)) return said.replaceAll(',', '')
  if (GROUPED.test(said)) {
    const groups = said.split(',').length
    return system === 'us' || groups > 2 ? said.replaceAll(',', '') : 'ambiguous-comma'
  }
  if (system === 'us') return 'ambiguous-comma'
  if (DECIMAL_COMMA.test(said)) return said.replace(',', '.')
  return GROUPED_WITH_COMMA.test(said) ? said.replaceAll('.', '').replace(',', '.') : 'ambiguous-comma'
}

/**
 * The value of one numeral: `1200`, `3.8`, `.5`, `1e3`, `1,200` (thousands, us), `3,8` (decimal comma,
 * metric). A comma that could be either is refused.
 *
 * @param said digits, points, commas and at most one exponent
 * @returns the number (Infinity where it is too large), or the reason
 */
export function numeralValue(said: string, system: System): number | 'ambiguous-comma' | 'not-understood' {
  const [mantissa = '', exponent = '0'] = said.toLowerCase().split('e')
  const digits = plainDigits(mantissa, system)
  if (digits === 'ambiguous-comma' || digits === 'not-understood') return digits
  return Number(`${digits}e${exponent}`)
}
