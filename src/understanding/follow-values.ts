import type { Field } from '../questions/common/fields'
import type { CarriedList } from './follow-mentions'
import { isRow, type Unit, unitSaid } from './list-units'
import type { Piece } from './pieces'
import { type Raw, rawOf } from './raw'

const ONE = { sum: false, times: false } as const

/** A thing with another value in the column that takes it; `how` adds to the one it has, or takes from it. */
export function changedUnit(
  list: CarriedList,
  unit: Unit,
  piece: Piece,
  how: string | undefined,
  taken: ReadonlySet<string> = new Set(),
  moves = false,
): { unit: Unit; column: string } | undefined {
  const { item } = list.field
  if (!item) return undefined
  if (!isRow(unit)) {
    if (piece.kind === 'cable')
      return item.kind === 'described' && piece.code ? { unit: piece.code, column: '' } : undefined
    const raw = newValueOf(item, unit, piece, how)
    return raw === undefined || taken.has('') ? undefined : { unit: raw, column: '' }
  }
  const columns = Object.entries(item.columns ?? {})
  const order =
    list.id === 'feeds' && !moves
      ? [...columns.filter(([id]) => id !== 'at'), ...columns.filter(([id]) => id === 'at')]
      : columns
  for (const [column, { field }] of order) {
    if (column === 'count' || taken.has(column)) continue
    const raw = newValueOf(field, unit[column], piece, how)
    if (raw === undefined) continue
    const either = column === 'current' || column === 'load'
    const { current: _, load: __, ...rest } = unit
    return { unit: { ...(either ? rest : unit), [column]: raw }, column }
  }
  return undefined
}

function newValueOf(
  field: Field<unknown>,
  before: Raw | undefined,
  piece: Piece,
  how: string | undefined,
): string | undefined {
  if (field.kind !== 'quantity' && field.kind !== 'size') return undefined
  if (piece.bare !== undefined && before === undefined) return undefined
  const raw = rawOf(field, piece, unitSaid(before), ONE)
  if (typeof raw !== 'string') return undefined
  if (typeof before === 'string' && (how === 'add' || how === 'take'))
    return `${before} ${how === 'add' ? '+' : '-'} ${raw}`
  return raw
}
