import { DIMENSIONS } from '../quantities/dimensions'
import type { Field } from '../questions/common/fields'
import { clean } from './clean'
import type { Piece, Reading } from './pieces'
import { sizeReading } from './quantities'
import { gaugeNumbers } from './sizes'
import { factorOf } from './units'

/** A value as `POST /api/questions/:id` takes it: text with its unit, a choice, or a list of such. */
export type Raw = string | boolean | number | readonly Raw[] | { readonly [column: string]: Raw }

const TRADE_SIZES: Readonly<Record<string, number>> = {
  '1/2': 0.5,
  '3/4': 0.75,
  '1': 1,
  '1-1/4': 1.25,
  '1-1/2': 1.5,
  '2': 2,
}

/** A reading so many times over, as text. */
const timesOver = (reading: Reading, times: number): string =>
  times === 1 ? reading.typed : `${clean(reading.value * times)} ${reading.unit}`

/** The reading of one piece for a field: in one of its dimensions, or a bare number in the unit that goes without saying. */
export function readingFor(
  field: Field<unknown>,
  piece: Piece,
  bare: string | undefined,
): Reading | undefined {
  if (field.kind === 'size') {
    const size = piece.readings.find((reading) => reading.dimension === 'size')
    if (size) return size
    return piece.bare !== undefined && bare === 'AWG' && gaugeNumbers.has(piece.bare)
      ? sizeReading(piece.bare, 'AWG')
      : undefined
  }
  const dimensions: readonly string[] = field.dimensions ?? []
  const direct = piece.readings.find((reading) => dimensions.includes(reading.dimension))
  if (direct) return direct
  if (piece.bare === undefined || !bare || bare === 'plain' || bare === 'count') return undefined
  const factor = factorOf(bare)
  if (factor === undefined || !dimensions.includes(factor.dimension)) return undefined
  return {
    dimension: factor.dimension,
    value: clean(piece.bare * factor.factor),
    unit: factor.unit,
    typed: `${piece.bare} ${bare}`,
  }
}

/** The items of a list field: every member as often as it was said. */
function listOf(field: Field<unknown>, piece: Piece, bare: string | undefined): Raw[] | undefined {
  const item = field.item
  if (item === undefined) return undefined
  const out: Raw[] = []
  for (const member of piece.members ?? [piece]) {
    const raw = rawOf(item, { ...member, times: 1, counted: false }, bare, ONE_VALUE)
    if (raw === undefined) return undefined
    for (let time = 0; time < Math.min(member.times, 200); time++) out.push(raw)
  }
  return out
}

/** Whether what was said as a sum, or so many times over, may be one value. */
export type Joining = { sum: boolean; times: boolean }

const ONE_VALUE: Joining = { sum: false, times: false }

/** What a piece is as the value of a field, or undefined where it cannot be one. */
export function rawOf(
  field: Field<unknown>,
  piece: Piece,
  bare: string | undefined,
  joining: Joining,
): Raw | undefined {
  if (piece.kind === 'label' || piece.kind === 'range') return undefined
  switch (field.kind) {
    case 'list':
      return listOf(field, piece, bare)
    case 'count':
    case 'number':
      return numberOf(piece, bare) ?? readingFor(field, piece, bare)?.typed
    case 'described':
      return describedOf(piece, bare)
    case 'choice':
      return choiceOf(field, piece)
    case 'quantity':
    case 'size':
      return scalarOf(field, piece, bare, joining)
    default:
      return undefined
  }
}

function scalarOf(
  field: Field<unknown>,
  piece: Piece,
  bare: string | undefined,
  joining: Joining,
): Raw | undefined {
  if (piece.members) {
    if (!joining.sum || piece.joined !== 'plus') return undefined
    const parts = piece.members.map((member) => readingFor(field, member, bare))
    if (parts.some((part) => part === undefined)) return undefined
    return piece.members.map((member, index) => timesOver(parts[index] as Reading, member.times)).join(' + ')
  }
  if (piece.times > 1 && !joining.times) return undefined
  const reading = readingFor(field, piece, bare)
  return reading && timesOver(reading, piece.times)
}

function numberOf(piece: Piece, bare: string | undefined): Raw | undefined {
  const days = piece.readings.find((reading) => reading.dimension === 'daysPerYear')
  if (days) return days.value
  if (piece.bare !== undefined && !piece.members) return piece.bare
  const percent = piece.readings.find((reading) => reading.dimension === 'percent')
  return bare === 'plain' && percent ? percent.value : undefined
}

function describedOf(piece: Piece, bare: string | undefined): Raw | undefined {
  if (bare === 'perKwh' && piece.bare !== undefined && !piece.members) return `${piece.bare} per kWh`
  if (piece.kind === 'box') return piece.code
  const price = piece.readings.find((reading) => reading.dimension === 'price')
  if (price) return price.typed
  const volume = piece.readings.find((reading) => reading.dimension === 'volume')
  return volume?.typed
}

function choiceOf(field: Field<unknown>, piece: Piece): Raw | undefined {
  const choices = field.choices ?? []
  if (piece.kind === 'lumber') return choices.includes(piece.code ?? '') ? piece.code : undefined
  if (!choices.includes('3/4') || piece.members) return undefined
  const length = piece.readings.find((reading) => reading.dimension === 'length')
  const inches = piece.bare ?? (length ? length.value / 0.0254 : undefined)
  return choices.find(
    (choice) => inches !== undefined && Math.abs((TRADE_SIZES[choice] ?? 0) - inches) < 1e-6,
  )
}

/** A value of `following`, in fixed units or as text, as it may be typed. */
export function rawOfJson(field: Field<unknown>, value: unknown, unit?: string): Raw | undefined {
  if (value === null || value === undefined) return undefined
  if (field.kind === 'list') {
    const items = Array.isArray(value) ? value : [value]
    const raws = items.map((item) => rawOfJson(field.item as Field<unknown>, item, unit))
    return raws.every((raw) => raw !== undefined) ? (raws as Raw[]) : undefined
  }
  if (field.kind === 'rows') return rowOfJson(field, value, unit)
  if (typeof value === 'object' && !Array.isArray(value)) {
    const inner = value as { value?: unknown; unit?: string }
    return inner.value === undefined ? undefined : rawOfJson(field, inner.value, inner.unit ?? unit)
  }
  if (typeof value === 'number') {
    if (field.kind === 'count' || field.kind === 'number') return value
    const fixed =
      unit ??
      (field.dimensions?.[0] ? DIMENSIONS[field.dimensions[0]].unit : field.kind === 'size' ? 'AWG' : '')
    return fixed === 'cm3' || fixed === '' ? `${value}${fixed ? ' cm3' : ''}` : `${value} ${fixed}`
  }
  if (typeof value === 'boolean') return value
  return typeof value === 'string' ? value : undefined
}

function rowOfJson(field: Field<unknown>, value: unknown, unit?: string): Raw | undefined {
  const columns = field.columns ?? {}
  if (typeof value !== 'object' || value === null) {
    const [first] = Object.entries(columns)
    const raw = first && rawOfJson(first[1].field, value, unit)
    return raw === undefined || !first ? undefined : { [first[0]]: raw }
  }
  const row: Record<string, Raw> = {}
  for (const [column, cell] of Object.entries(value as Record<string, unknown>)) {
    const known = columns[column]
    const raw = known && rawOfJson(known.field, cell)
    if (raw !== undefined) row[column] = raw
  }
  return row
}
