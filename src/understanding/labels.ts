import { numeralAt } from './numbers'
import { emptyPiece, type Piece } from './pieces'
import { daysAt } from './quantities'
import { Sayings } from './sayings'
import { gaugeNumbers } from './sizes'
import type { Token } from './tokens'
import { rateAt, unitAt } from './units'
import { listed, vocabulary } from './vocabulary'

type Tokens = readonly Token[]

const { labels } = vocabulary
const before = new Sayings(labels.before.map((saying) => [saying, true] as const))
const after = new Sayings(labels.after.map((saying) => [saying, true] as const))
const months = new Set(labels.months)
const dated = new Sayings(labels.dated.map((saying) => [saying, true] as const))
const streets = new Set(labels.streets)
const money = new Set(labels.money)
const coins = listed('coins')

const label = (from: number, to: number): Piece => ({ ...emptyPiece('label', from, to), plain: true })
/** A sum of money, as somebody may claim that a year costs. */
const sum = (from: number, number: { value: number; to: number } | undefined): Piece => ({
  ...emptyPiece('quantity', from, number?.to ?? from + 1),
  readings: number
    ? [{ dimension: 'money', value: number.value, unit: '', typed: String(number.value) }]
    : [],
  plain: true,
})
const isNumeral = (token: Token | undefined): boolean => token?.kind === 'numeral'
const isWhole = (token: Token | undefined): boolean => isNumeral(token) && /^\d+$/.test(token?.text ?? '')

/** "555-0142", "087 555 0199". */
function phoneAt(tokens: Tokens, from: number): Piece | undefined {
  let digits = ''
  let chunks = 0
  let to = from
  for (let at = from; isWhole(tokens[at]) && chunks < 6; ) {
    const chunk = tokens[at]?.text ?? ''
    if (chunk.length < 2 && chunks > 0) break
    digits += chunk
    chunks += 1
    to = at + 1
    at = tokens[at + 1]?.text === '-' ? at + 2 : at + 1
  }
  const phone = digits.length >= 7 && (chunks > 1 || digits.length >= 9)
  return phone && !unitAt(tokens, to) ? label(from, to) : undefined
}

/** "2 pm", "8:30", "9:15 am". */
function clockAt(tokens: Tokens, from: number): Piece | undefined {
  if (!isWhole(tokens[from]) || tokens[from + 1]?.text !== ':' || !tokens[from + 2]?.glued) return undefined
  if (!isWhole(tokens[from + 2]) || tokens[from + 2]?.text.length !== 2) return undefined
  const half = ['am', 'pm'].includes(tokens[from + 3]?.text ?? '') ? 4 : 3
  return label(from, from + half)
}

const monthAt = (tokens: Tokens, at: number): number | undefined => {
  const of = tokens[at]?.text === 'of' ? at + 1 : at
  return months.has(tokens[of]?.text ?? '') ? of + 1 : undefined
}

const yearAfter = (tokens: Tokens, at: number): number =>
  /^(?:19|20)\d\d$/.test(tokens[at]?.text ?? '') ? at + 1 : at

/** "the 22nd", "3rd of June", "June 3", "6/14", "12/05/2026". */
function dateAt(tokens: Tokens, from: number): Piece | undefined {
  if (tokens[from]?.kind === 'ordinal') {
    const month = monthAt(tokens, from + 1)
    return label(from, month === undefined ? from + 1 : yearAfter(tokens, month))
  }
  if (months.has(tokens[from]?.text ?? '') && tokens[from]?.kind === 'word') {
    const day = tokens[from + 1]
    const number = isWhole(day) && Number(day?.text) <= 31 && !unitAt(tokens, from + 2)
    return number || day?.kind === 'ordinal' ? label(from, yearAfter(tokens, from + 2)) : undefined
  }
  if (!isWhole(tokens[from])) return undefined
  const month = monthAt(tokens, from + 1)
  if (month !== undefined && Number(tokens[from]?.text) <= 31) return label(from, yearAfter(tokens, month))
  return slashedDateAt(tokens, from)
}

/** "6/14", or any a/b that follows a word such as "due"; "12/05/2026" and "2026-06-14". */
function slashedDateAt(tokens: Tokens, from: number): Piece | undefined {
  const bar = tokens[from + 1]
  const second = tokens[from + 2]
  if (!['/', '-', '.'].includes(bar?.text ?? '') || !bar?.glued || !isWhole(second) || !second?.glued)
    return undefined
  const third =
    tokens[from + 3]?.text === bar.text && isWhole(tokens[from + 4]) ? tokens[from + 4] : undefined
  const [one, two] = [Number(tokens[from]?.text), Number(second.text)]
  const whole = third !== undefined && (third.text.length === 4 || (tokens[from]?.text.length ?? 0) === 4)
  if (whole) return label(from, from + 5)
  if (bar.text !== '/' || third !== undefined) return undefined
  const calendar = (one <= 12 && two <= 31) || (one <= 31 && two <= 12)
  const said = [1, 2].some((back) => dated.at(tokens, from - back)?.to === from)
  const numberless = !unitAt(tokens, from + 3)
  const strongly = said && !['on', 'from', 'by', 'before', 'after'].includes(tokens[from - 1]?.text ?? '')
  const noFraction = two > 5 && ![8, 16, 32, 64].includes(two)
  return calendar && numberless && (strongly || noFraction) ? label(from, from + 3) : undefined
}

/** "41 Mill Lane". */
function addressAt(tokens: Tokens, from: number): Piece | undefined {
  if (!isWhole(tokens[from])) return undefined
  for (let at = from + 2; at <= from + 3; at++) {
    const street = tokens[at]
    const between = tokens.slice(from + 1, at)
    if (!street || !between.every((token) => token.kind === 'word')) return undefined
    const named = between.every((token) => token.capital) && street.capital && streets.has(street.text)
    const plain = ['lane', 'road', 'street', 'avenue'].includes(street.text) && between.length === 1
    if (named || plain) return label(from, at + 1)
  }
  return undefined
}

/** "room 104", "gate code 3390", "job no. 4471", "since 2019". */
function namedAt(tokens: Tokens, from: number): Piece | undefined {
  const found = before.at(tokens, from)
  if (found === undefined) return undefined
  let at = found.to
  while (
    ['number', 'no', '.', ':', '#', 'is', 'code', 'on'].includes(tokens[at]?.text ?? '') &&
    at < found.to + 2
  )
    at++
  const number = isNumeral(tokens[at]) ? numeralAt(tokens, at) : undefined
  if (number === undefined || !Number.isInteger(number.value)) return undefined
  const mere = ['number', 'no'].includes(tokens[from]?.text ?? '')
  if (mere && gaugeNumbers.has(number.value)) return undefined
  const phone = phoneAt(tokens, at)
  if (phone) return label(from, phone.to)
  const next = tokens[number.to]?.text ?? ''
  const measured =
    unitAt(tokens, number.to) || rateAt(tokens, number.to) || ['x', '/', '%', 'by'].includes(next)
  if (measured) return undefined
  const digits = tokens[at]?.text ?? ''
  const letter = tokens[number.to]
  const suffix = letter?.kind === 'word' && letter.glued && letter.text.length === 1 ? 1 : 0
  const counts = followedByThing(tokens, number.to + suffix)
  return counts && digits.length < 3 ? undefined : label(from, number.to + suffix)
}

/** "unit 6 drivers" counts drivers; "unit 6, ..." does not. */
const followedByThing = (tokens: Tokens, at: number): boolean =>
  [
    'driver',
    'dimmer',
    'tape',
    'cable',
    'receptacle',
    'switch',
    'breaker',
    'amp',
    'volt',
    'watt',
    'gang',
    'hole',
  ].includes((tokens[at]?.text ?? '').replace(/s$/, ''))

/** "$45", "3 weeks", "2 pm", "a 1970s house", "#4471". */
function countedAt(tokens: Tokens, from: number): Piece | undefined {
  const paid = money.has(tokens[from]?.text ?? '') || tokens[from]?.text === '#'
  const size = tokens[from]?.text === '#' && gaugeNumbers.has(Number(tokens[from + 1]?.text))
  const priced = rateAt(tokens, from + 2)?.by === 'kWh'
  if (paid) {
    if (!isNumeral(tokens[from + 1]) || size || priced) return undefined
    return tokens[from]?.text === '#' ? label(from, from + 2) : sum(from, numeralAt(tokens, from + 1))
  }
  const number = numeralAt(tokens, from)
  if (number === undefined) return undefined
  if (daysAt(tokens, number.to, number.value) !== undefined) return undefined
  const found = after.at(tokens, number.to)
  if (found === undefined) return undefined
  const rate = rateAt(tokens, found.to)
  const paidIn = coins.has(tokens[number.to]?.text ?? '')
  if (rate && !(paidIn && rate.by === 'year')) return undefined
  return paidIn ? { ...sum(from, number), to: found.to } : label(from, found.to)
}

/** "in 2019", bare. */
const yearAt = (tokens: Tokens, from: number): Piece | undefined =>
  /^(?:19|20)\d\d$/.test(tokens[from]?.text ?? '') &&
  ['in', 'since', 'from', 'of', 'built', 'circa'].includes(tokens[from - 1]?.text ?? '') &&
  !unitAt(tokens, from + 1)
    ? label(from, from + 1)
    : undefined

/** The number that is no quantity and begins at a token: a room, a date, a telephone, an address, a sum of money. */
export function labelAt(tokens: Tokens, from: number): Piece | undefined {
  return (
    clockAt(tokens, from) ??
    dateAt(tokens, from) ??
    addressAt(tokens, from) ??
    phoneAt(tokens, from) ??
    namedAt(tokens, from) ??
    yearAt(tokens, from) ??
    countedAt(tokens, from)
  )
}
