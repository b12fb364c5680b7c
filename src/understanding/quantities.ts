import { clean } from './clean'
import { addedPart, numeralAt } from './numbers'
import { emptyPiece, type Piece, type Reading } from './pieces'
import { priceAt, priceReading } from './prices'
import { conductorAreas, gaugeNumbers } from './sizes'
import type { Token } from './tokens'
import { type FoundUnit, factorOf, rateAt, unitAt } from './units'
import { listed } from './vocabulary'

type Tokens = readonly Token[]
type Found = { readings: Reading[]; to: number }

const inUnit = (value: number, unit: string): Reading | undefined => {
  const factor = factorOf(unit)
  if (factor === undefined) return undefined
  return {
    dimension: factor.dimension,
    value: clean(value * factor.factor),
    unit: factor.unit,
    typed: `${clean(value)} ${unit}`,
  }
}

const temperature = (value: number, unit: string): Reading => ({
  dimension: 'temperature',
  value: clean(unit === 'degF' ? (value - 32) / 1.8 : value),
  unit: 'degC',
  typed: `${clean(value)} ${unit === 'degF' ? '°F' : '°C'}`,
})

/** A reading in degrees Celsius. */
export const inCelsius = (value: number): Reading => temperature(value, 'degC')

/** The highest place a conductor, a tape or a driver may get to; more degrees than that are Fahrenheit. */
const HOTTEST_C = 95

/** Degrees of no named scale: above what any input takes in Celsius they are Fahrenheit, below they stay open. */
const degrees = (value: number): Reading =>
  value > HOTTEST_C
    ? temperature(value, 'degF')
    : { dimension: 'degrees', value, unit: 'degrees', typed: `${value}` }

export const sizeReading = (value: number, unit: 'AWG' | 'mm2'): Reading => ({
  dimension: 'size',
  value,
  unit,
  typed: `${value} ${unit}`,
})

const LENGTHS = new Set(['ft', 'm', 'in', 'cm', 'yd', 'mm'])

/** A unit followed by "a foot", "per kWh": what the number then is. */
function rated(value: number, unit: string | undefined, by: string): Reading[] {
  const perLength = LENGTHS.has(by)
  if (unit === undefined && perLength) {
    return [inUnit(value, `W/${by}`), inUnit(value, `lm/${by}`)].filter((reading) => reading !== undefined)
  }
  if (unit === undefined) return by === 'kWh' ? [priceReading(value)] : []
  if (unit === 'h' && by === 'day') return [inUnit(value, 'h') as Reading]
  if (unit === 'min' && by === 'day') return [inUnit(value, 'min') as Reading]
  if (perLength || (by === 'W' && unit === 'lm')) {
    const reading = inUnit(value, `${unit}/${by}`)
    return reading ? [reading] : []
  }
  return []
}

/** The readings of a number with one unit. */
function simple(value: number, { unit, said }: FoundUnit): Reading[] {
  if (unit === 'degC' || unit === 'degF') return [temperature(value, unit)]
  if (unit === 'degrees') return [degrees(value)]
  if (unit === 'AWG') return [sizeReading(value, 'AWG')]
  if (unit === 'mm2') return [sizeReading(value, 'mm2')]
  const reading = inUnit(value, unit)
  if (reading === undefined) return []
  const areaToo = unit === 'mm' && conductorAreas.has(value) && said !== 'millis'
  return areaToo ? [reading, sizeReading(value, 'mm2')] : [reading]
}

/** Words that may follow "12 foot 6" without being counted by the 6. */
const AFTER_INCHES = listed('afterInches')

/** "6 inches", `6"`, or a bare 6, after feet; "40" after metres. */
function smaller(
  tokens: Tokens,
  at: number,
  larger: string,
): { typed: string; value: number; to: number } | undefined {
  if (larger === 'yd') return feetBehind(tokens, at)
  if (larger !== 'ft' && larger !== 'm') return undefined
  const joiner = ['and', '-', ','].includes(tokens[at]?.text ?? '') ? 1 : 0
  const number = numeralAt(tokens, at + joiner)
  if (number === undefined || number.negative) return undefined
  const unit = unitAt(tokens, number.to)
  // "the 11 ft one" points at something.
  if (unit === undefined && number.value === 1 && !number.digits) return undefined
  if (unit !== undefined) {
    const goesOn = larger === 'ft' ? unit.unit === 'in' : unit.unit === 'cm' || unit.unit === 'mm'
    if (larger === 'ft' && number.value >= 12) return undefined
    if (!goesOn || rateAt(tokens, unit.to) || tokens[at]?.text === ',') return undefined
    return {
      typed: `${clean(number.value)} ${unit.unit}`,
      value: number.value * scaleOf(unit.unit),
      to: unit.to,
    }
  }
  const next = tokens[number.to]
  const free = next === undefined || next.kind === 'mark' || AFTER_INCHES.has(next.text)
  const apart = next?.text === '/' || next?.text === '-' || next?.text === '%'
  if (joiner || !free || apart) return undefined
  if (larger === 'ft' && number.value < 12) {
    return { typed: `${clean(number.value)} in`, value: number.value * scaleOf('in'), to: number.to }
  }
  const hundredths =
    larger === 'm' && number.value >= 10 && number.value < 100 && Number.isInteger(number.value)
  return hundredths ? { typed: `${number.value} cm`, value: number.value / 100, to: number.to } : undefined
}

/** "13 yards and 1 foot": fewer than three feet behind yards. */
function feetBehind(tokens: Tokens, at: number): { typed: string; value: number; to: number } | undefined {
  const number = numeralAt(tokens, tokens[at]?.text === 'and' ? at + 1 : at)
  const unit = number && unitAt(tokens, number.to)
  if (!number || number.negative || number.value >= 3 || unit?.unit !== 'ft' || rateAt(tokens, unit.to))
    return undefined
  return { typed: `${clean(number.value)} ft`, value: number.value * scaleOf('ft'), to: unit.to }
}

const scaleOf = (unit: string): number => factorOf(unit)?.factor ?? 0

function withUnit(tokens: Tokens, value: number, unit: FoundUnit): Found {
  const part = addedPart(tokens, unit.to)
  const whole = part === undefined ? value : value + part.value
  const end = part === undefined ? unit.to : part.to
  const rate = rateAt(tokens, end)
  const readings = rate ? rated(whole, unit.unit, rate.by) : []
  if (rate && readings.length > 0) return { readings, to: rate.to }
  const daily = unit.unit === 'h' && ['daily', 'nightly'].includes(tokens[end]?.text ?? '')
  if (daily) return { readings: rated(whole, 'h', 'day'), to: end + 1 }
  const rest = part || !Number.isInteger(whole) ? undefined : smaller(tokens, end, unit.unit)
  if (rest === undefined) return { readings: simple(whole, unit), to: end }
  const value_ = clean(whole * scaleOf(unit.unit) + rest.value)
  const typed = `${whole} ${unit.unit} ${unit.unit === 'yd' ? '+ ' : ''}${rest.typed}`
  return {
    readings: [{ dimension: 'length', value: value_, unit: 'm', typed }],
    to: rest.to,
  }
}

const FEWEST_DAYS = 100

/** "days a year" after a number. */
export const daysAt = (tokens: Tokens, at: number, days: number): number | undefined => {
  const text = tokens[at]?.text ?? ''
  if (text !== 'days' && text !== 'nights') return undefined
  const loosely = ['in', 'of', 'out'].includes(tokens[at + 1]?.text ?? '')
  const start = loosely ? (tokens[at + 2]?.text === 'of' ? at + 3 : at + 2) : at + 1
  const rate = rateAt(tokens, start)
  if (rate?.by === 'year') return rate.to
  // More days than any month or notice has are those of a year.
  if (!loosely && days >= FEWEST_DAYS && days <= 366 && tokens[at + 1]?.text !== 'ago') return at + 1
  return loosely && ['the', 'a'].includes(tokens[start]?.text ?? '') && tokens[start + 1]?.text === 'year'
    ? start + 2
    : undefined
}

/** `#14`, "number 14", "gauge 14", "AWG 14". */
function sizeAt(tokens: Tokens, from: number): Piece | undefined {
  const first = tokens[from]?.text ?? ''
  if (!['#', 'gauge', 'awg', 'no', 'number', 'size'].includes(first)) return undefined
  const start = from + (tokens[from + 1]?.text === '.' || tokens[from + 1]?.text === '#' ? 2 : 1)
  const number = numeralAt(tokens, start)
  if (number === undefined || number.negative || !gaugeNumbers.has(number.value)) return undefined
  const unit = unitAt(tokens, number.to)
  if (unit !== undefined && unit.unit !== 'AWG') return undefined
  if (tokens[number.to]?.text === '/' || tokens[number.to]?.text === '-') return undefined
  return {
    ...emptyPiece('quantity', from, unit?.to ?? number.to),
    readings: [sizeReading(number.value, 'AWG')],
    plain: true,
  }
}

/** "an inch bore", "inch conduit". */
const AFTER_INCH = listed('holes')

/** "an inch and a quarter", "a foot": one of a unit, where no number stands before it. */
function oneOfUnit(tokens: Tokens, from: number): Piece | undefined {
  const article = tokens[from]?.text
  const bareInch =
    (article === 'inch' || article === 'metre' || article === 'meter') && addedPart(tokens, from + 1)
  const inchHole = article === 'inch' && AFTER_INCH.has(tokens[from + 1]?.text ?? '')
  const every =
    ['every', 'each'].includes(article ?? '') &&
    ['cut', 'cuts', 'at', 'marks'].includes(tokens[from - 1]?.text ?? '')
  if (article !== 'a' && article !== 'an' && !bareInch && !inchHole && !every) return undefined
  const unit = unitAt(tokens, bareInch || inchHole ? from : from + 1)
  // "under an amp, 0.9 A": the number behind says it better.
  const better = unit && ['under', 'over', 'below'].includes(tokens[from - 1]?.text ?? '')
  if (better && tokens[unit.to]?.text === ',' && tokens[unit.to + 1]?.kind === 'numeral') return undefined
  if (unit === undefined || !['ft', 'in', 'm', 'cm', 'mm', 'A', 'V', 'kW', 'yd'].includes(unit.unit))
    return undefined
  if (unit.said.length < 3) return undefined
  const { readings, to } = withUnit(tokens, 1, unit)
  return readings.length > 0 ? { ...emptyPiece('quantity', from, to), readings, plain: true } : undefined
}

/** "half an inch", "three quarters of an inch", "quarter of a metre". */
function partOfUnit(tokens: Tokens, at: number): number {
  const of = tokens[at]?.text === 'of' ? at + 1 : at
  return ['a', 'an'].includes(tokens[of]?.text ?? '') ? of + 1 : at
}

/** A number with what it measures, or a number alone. */
function numberAt(tokens: Tokens, from: number): Piece | undefined {
  const number = numeralAt(tokens, from)
  if (number === undefined) return undefined
  const start = number.broken && number.value < 1 ? partOfUnit(tokens, number.to) : number.to
  const piece = (to: number, readings: Reading[]): Piece => ({
    ...emptyPiece('quantity', number.from, to),
    readings,
    plain: true,
    ...(number.split ? { split: number.split } : {}),
  })
  const days = daysAt(tokens, number.to, number.value)
  if (days !== undefined) {
    return piece(days, [
      { dimension: 'daysPerYear', value: number.value, unit: 'count', typed: String(number.value) },
    ])
  }
  const unit = unitAt(tokens, start)
  if (unit !== undefined) {
    const found = withUnit(tokens, number.value, unit)
    if (found.readings.length > 0) return splitOr(tokens, piece(found.to, found.readings), number, unit)
  }
  const rate = rateAt(tokens, number.to)
  const readings = rate ? rated(number.value, undefined, rate.by) : []
  if (rate && readings.length > 0) return piece(rate.to, readings)
  return {
    ...piece(number.to, []),
    bare: number.value,
    plain: number.digits || number.broken || number.value > 12,
  }
}

const THINGS = listed('things')

/** "two fifty watt drivers" are two of 50; "three hundred watt drivers" may be either, and are left open. */
function splitOr(
  tokens: Tokens,
  piece: Piece,
  number: { split?: { count: number; value: number } | undefined },
  unit: FoundUnit,
): Piece {
  if (number.split && unit.unit === 'AWG' && gaugeNumbers.has(number.split.value)) {
    return { ...piece, readings: simple(number.split.value, unit), times: number.split.count, counted: true }
  }
  const thing = tokens[piece.to]
  if (number.split === undefined || thing === undefined || !THINGS.has(thing.text.replace(/s$/, '')))
    return piece
  const { count, value } = number.split
  const plural = thing.said.endsWith('s')
  const joined = ['and', 'plus', 'with', 'has', 'have', 'for'].includes(tokens[piece.from - 1]?.text ?? '')
  if (count === 1 ? !joined || plural : !plural) return piece
  if (value === 100) return { ...piece, kind: 'range', readings: [] }
  return { ...piece, readings: simple(value, unit), times: count, counted: true }
}

const EQUALS: ReadonlySet<string> = new Set(['is', 'are', 'of', '=', ':', 'at', 'being'])

/** "lumens per foot is 500": a rate of which the number comes last. */
function rateFirstAt(tokens: Tokens, from: number): Piece | undefined {
  if (tokens[from]?.kind !== 'word' || numeralAt(tokens, from - 1)) return undefined
  const unit = unitAt(tokens, from)
  const rate = unit && unit.said.length > 2 ? rateAt(tokens, unit.to) : undefined
  if (!unit || !rate || !EQUALS.has(tokens[rate.to]?.text ?? '')) return undefined
  const number = numeralAt(tokens, rate.to + 1)
  if (number === undefined || unitAt(tokens, number.to)) return undefined
  const readings = rated(number.value, unit.unit, rate.by)
  return readings.length > 0
    ? { ...emptyPiece('quantity', from, number.to), readings, plain: true }
    : undefined
}

/** The quantity or bare number that begins at a token. */
export function quantityAt(tokens: Tokens, from: number): Piece | undefined {
  return (
    rateFirstAt(tokens, from) ??
    priceAt(tokens, from) ??
    sizeAt(tokens, from) ??
    numberAt(tokens, from) ??
    oneOfUnit(tokens, from)
  )
}
