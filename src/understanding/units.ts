import type { Dimension } from '../quantities/dimensions'
import { readQuantity } from '../quantities/read'
import { Sayings } from './sayings'
import type { Token } from './tokens'
import { listed, vocabulary } from './vocabulary'

/** A unit as src/quantities spells it; `AWG` and `degrees` (of which scale?) are ours. */
export type UnitName = string

/** A unit found in a line. */
export type FoundUnit = { unit: UnitName; from: number; to: number; said: string; glued: boolean }

const spoken = new Sayings(
  Object.entries(vocabulary.units).flatMap(([unit, sayings]) =>
    sayings.map((saying) => [saying, { unit, said: saying }] as const),
  ),
)
const short = new Set(vocabulary.shortUnits)
const perWords = new Sayings(vocabulary.per.map((saying) => [saying, true] as const))

/** Lengths after "in" that tell it is no inch: "two 14/2 in a box". */
const AFTER_PREPOSITION = listed('afterIn')
const AFTER_AMPS = listed('afterAmps')

/** The unit that begins at a token, after a number. */
export function unitAt(tokens: readonly Token[], at: number): FoundUnit | undefined {
  const found = spoken.at(tokens, at)
  if (found === undefined) return undefined
  const { unit, said } = found.value
  const first = tokens[at] as Token
  const glued = first.glued
  if (short.has(said) && !plainlyUnit(said, tokens, at, found.to)) return undefined
  return { unit, from: at, to: found.to, said, glued }
}

/** "a 24 in one AND": the one that points, and no "in one box". */
const AFTER_ONE: ReadonlySet<string> = new Set([
  'and',
  'for',
  'at',
  'as',
  'too',
  'to',
  'please',
  'on',
  'is',
  'with',
])

const FEET: ReadonlySet<string> = new Set(['ft', 'foot', 'feet', "'"])

/** Whether a letter or a word that may be something else is a unit here. */
function plainlyUnit(said: string, tokens: readonly Token[], at: number, to: number): boolean {
  const token = tokens[at] as Token
  const next = tokens[to]
  const number = tokens[at - 1]
  const afterNumeral = number?.kind === 'numeral'
  switch (said) {
    case "'":
    case '"':
      return token.glued || afterNumeral
    case 'a':
      if (isRateBelow(tokens, to)) return false
      return token.glued || token.capital || next?.kind !== 'word' || AFTER_AMPS.has(next.text)
    case 'in':
      if (token.glued) return true
      // "4 ft 3 in each and one of 6 ft" goes on in inches, "two 14/2 in each box" does not.
      if (afterNumeral && FEET.has(tokens[at - 2]?.text ?? '')) return true
      if (
        afterNumeral &&
        next?.text === 'each' &&
        (tokens[to + 1]?.kind !== 'word' || AFTER_ONE.has(tokens[to + 1]?.text ?? ''))
      )
        return true
      return (
        afterNumeral &&
        !(next?.kind === 'numeral') &&
        !(
          next?.text === 'one' &&
          tokens[to + 1]?.kind === 'word' &&
          !AFTER_ONE.has(tokens[to + 1]?.text ?? '')
        ) &&
        !(next?.kind === 'word' && AFTER_PREPOSITION.has(next.text))
      )
    case 'c':
    case 'f':
      return token.glued || token.capital || next?.kind !== 'word'
    case 'min':
      return next?.kind !== 'numeral'
    case 'square':
    case 'squares':
      return !(next?.text === 'box' || next?.kind === 'numeral' || next?.text === 'by' || next?.text === 'x')
    default:
      return true
  }
}

const isRateBelow = (tokens: readonly Token[], at: number): boolean => {
  const unit = spoken.at(tokens, at)?.value
  return (
    (unit !== undefined && ['ft', 'm', 'in', 'kWh', 'yd', 'cm'].includes(unit.unit)) ||
    ['day', 'night', 'week', 'year', 'unit', 'pop', 'piece'].includes(tokens[at]?.text ?? '')
  )
}

/** "9.6 W on meter": the units that a power is by, said without an article. */
const LENGTH_UNITS: ReadonlySet<string> = new Set(['metre', 'meter', 'foot', 'ft'])

/** "per foot", "/ft", "a metre": the place after it and what it is by; `day`, `year`, `W` and `kWh` too. */
export function rateAt(tokens: readonly Token[], at: number): { by: string; to: number } | undefined {
  const bar = tokens[at]?.text === '/'
  const loosely =
    ['on', 'for', 'in'].includes(tokens[at]?.text ?? '') && LENGTH_UNITS.has(tokens[at + 1]?.text ?? '')
  const per = bar || loosely ? { to: at + 1 } : perWords.at(tokens, at)
  if (per === undefined) return undefined
  const text = tokens[per.to]?.text ?? ''
  if (['day', 'night', 'evening', 'year'].includes(text)) {
    return { by: text === 'year' ? 'year' : 'day', to: per.to + 1 }
  }
  if (text === 'unit' || text === 'units') return { by: 'kWh', to: per.to + 1 }
  const found = spoken.at(tokens, per.to)
  if (found === undefined || !['ft', 'm', 'in', 'cm', 'yd', 'kWh', 'W', 'mm'].includes(found.value.unit))
    return undefined
  if (['mil', 'mils', 'mill', 'mills', '"', 'in'].includes(found.value.said) && !bar) return undefined
  return { by: found.value.unit, to: found.to }
}

type Factor = { dimension: Dimension; unit: string; factor: number }

const factors = new Map<string, Factor | undefined>()

/** What one of a unit is in the fixed unit of its dimension. */
export function factorOf(unit: string): Factor | undefined {
  if (!factors.has(unit)) {
    const all = DIMENSIONS_READ
    const one = readQuantity(`1 ${unit}`, all)
    factors.set(unit, one.ok ? { dimension: one.dimension, unit: one.unit, factor: one.value } : undefined)
  }
  return factors.get(unit)
}

const DIMENSIONS_READ: readonly Dimension[] = [
  'length',
  'voltage',
  'current',
  'power',
  'apparentPower',
  'powerPerLength',
  'resistance',
  'resistancePerLength',
  'area',
  'volume',
  'lumensPerLength',
  'efficacy',
  'illuminance',
  'frequency',
  'time',
  'energy',
  'percent',
  'copperWeight',
]
