import type { Field } from '../questions/common/fields'
import type { Piece } from './pieces'
import { type Raw, rawOf } from './raw'
import { factorOf } from './units'

/** One thing of a list, without how many there are of it. */
export type Unit = string | { readonly [column: string]: Raw }

const COUNTED_CABLE = /^(\d+) x (.+)$/

export const isRow = (raw: Raw | undefined): raw is { readonly [column: string]: Raw } =>
  typeof raw === 'object' && !Array.isArray(raw)

/** A value that is typed as a number with its unit. */
export const numberIn = (raw: Raw | undefined): { value: number; unit: string } | undefined => {
  const parts = typeof raw === 'string' ? /^(-?[\d.]+(?:e-?\d+)?) (\S.*)$/.exec(raw) : undefined
  return parts ? { value: Number(parts[1]), unit: parts[2] ?? '' } : undefined
}

/** A list thing by thing: `2 x 14/2` and a row with a count of two are two things. */
export function unitsOf(list: readonly Raw[]): Unit[] {
  return list.flatMap((item): Unit[] => {
    if (isRow(item)) {
      const { count, ...rest } = item
      return Array.from({ length: Math.min(Number(count ?? 1), 60) }, () => rest)
    }
    const [, times = '1', code = String(item)] = COUNTED_CABLE.exec(String(item)) ?? []
    return Array.from({ length: Math.min(Number(times), 60) }, () => code)
  })
}

/** The kinds of list that say how many of each there are. */
const isCounted = (field: Field<unknown>): boolean => 'count' in (field.item?.columns ?? {})

/** Things as a list of their field has them: with a count where the field counts, else each by itself. */
export function listOfUnits(field: Field<unknown>, units: readonly Unit[]): Raw[] {
  const described = field.item?.kind === 'described'
  if (!described && !isCounted(field)) return [...units]
  const kinds: { unit: Unit; times: number }[] = []
  for (const unit of units) {
    const known = kinds.find((kind) => sameUnit(kind.unit, unit))
    if (known) known.times += 1
    else kinds.push({ unit, times: 1 })
  }
  return kinds.map(({ unit, times }) =>
    typeof unit === 'string' ? `${times} x ${unit}` : { count: String(times), ...unit },
  )
}

/** Whether two values are one in their fixed unit: 900 mm and 0.9 m. */
export function alikeValues(one: Raw | undefined, other: Raw | undefined): boolean {
  const [a, b] = [one, other].map((raw) => {
    const number = numberIn(raw)
    return number && number.value * (factorOf(number.unit)?.factor ?? Number.NaN)
  })
  if (a === undefined || b === undefined || Number.isNaN(a))
    return JSON.stringify(one) === JSON.stringify(other)
  return Math.abs(a - b) <= 1e-6 * Math.max(Math.abs(a), Math.abs(b))
}

export function sameUnit(one: Unit, other: Unit): boolean {
  if (typeof one === 'string' || typeof other === 'string') return alikeValues(one, other)
  const columns = new Set([...Object.keys(one), ...Object.keys(other)])
  return [...columns].every((column) => alikeValues(one[column], other[column]))
}

/** The unit in which a value is written. */
export const unitSaid = (raw: Raw | undefined): string | undefined => numberIn(raw)?.unit

/** Which things of a list a quantity or a cable names: "the 11 ft one", "one of the 14/2s". */
export function unitsNamed(field: Field<unknown>, units: readonly Unit[], piece: Piece): number[] {
  const { item } = field
  if (!item || piece.members) return []
  const single = { ...piece, times: 1, counted: false }
  return units.flatMap((unit, index) => {
    if (piece.kind === 'cable') return unit === piece.code ? [index] : []
    if (typeof unit === 'string') {
      const raw = rawOf(item, single, unitSaid(unit), { sum: false, times: false })
      return raw !== undefined && alikeValues(unit, raw) ? [index] : []
    }
    const named = Object.entries(item.columns ?? {}).some(([column, { field: inner }]) => {
      if (column === 'count' || unit[column] === undefined) return false
      const raw = rawOf(inner, single, unitSaid(unit[column]), { sum: false, times: false })
      return raw !== undefined && alikeValues(unit[column], raw)
    })
    return named ? [index] : []
  })
}

/** How great a thing is, by its first quantity: a length, a load, a diameter. */
export function greatnessOf(unit: Unit): number | undefined {
  const quantities = typeof unit === 'string' ? [unit] : Object.values(unit)
  for (const raw of quantities) {
    const number = numberIn(raw)
    const factor = number && factorOf(number.unit)?.factor
    if (number && factor !== undefined) return number.value * factor
  }
  return undefined
}
