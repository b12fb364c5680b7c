import { clean } from './clean'
import { numeralAt } from './numbers'
import { emptyPiece, type Piece, type Reading } from './pieces'
import type { Token } from './tokens'
import { rateAt } from './units'

/** A sum of money by the kilowatt-hour; cents and pence are hundredths. */
export const priceReading = (value: number, sign = ''): Reading => ({
  dimension: 'price',
  value: clean(value),
  unit: 'per kWh',
  typed: `${sign}${clean(value)} per kWh`,
})

const MONEY: Readonly<Record<string, number>> = {
  cents: 0.01,
  cent: 0.01,
  c: 0.01,
  p: 0.01,
  pence: 0.01,
  penny: 0.01,
  dollars: 1,
  dollar: 1,
  euro: 1,
  euros: 1,
  pounds: 1,
  $: 1,
  '€': 1,
  '£': 1,
  '¢': 0.01,
}

/** "31 cents a kWh", "€0.31 per unit", "0.31/kWh". */
export function priceAt(tokens: readonly Token[], from: number): Piece | undefined {
  const sign =
    MONEY[tokens[from]?.text ?? ''] === 1 && tokens[from]?.kind === 'mark' ? tokens[from]?.text : undefined
  const number = numeralAt(tokens, from + (sign ? 1 : 0))
  if (number === undefined) return undefined
  const word = tokens[number.to]?.text ?? ''
  const share = sign ? 1 : (MONEY[word] ?? 1)
  const named = !sign && MONEY[word] !== undefined
  const rate = rateAt(tokens, number.to + (named ? 1 : 0))
  const glued = word === 'p' && tokens[number.to]?.glued === true && number.value < 100
  const coins = glued || ['cents', 'cent', 'pence', '¢'].includes(word)
  if (rate === undefined && coins) {
    return {
      ...emptyPiece('quantity', from, number.to + 1),
      readings: [priceReading(number.value * share)],
      plain: true,
    }
  }
  if (rate?.by !== 'kWh') return undefined
  return {
    ...emptyPiece('quantity', from, rate.to),
    readings: [priceReading(number.value * share, sign)],
    plain: true,
  }
}
