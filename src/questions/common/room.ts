import type { Room } from './answer'
import type { Field, Input, Measure, Range } from './fields'
import { printValue } from './printing'
import type { Outcome, QuestionSpec } from './question'
import type { InputSpecs, Values } from './read-inputs'
import { endOf, nearestChange } from './search'
import { sharedSay } from './shared-words'
import { isWorse, verdictOf } from './verdict'

/** One number among the inputs that may drift, and which way is unsafe. */
export type Move = {
  path: readonly (string | number)[]
  label: string
  value: number
  unit: string
  range: Range
  whole: boolean
  unsafe: 'up' | 'down'
}

const isMeasure = (value: unknown): value is Measure =>
  typeof value === 'object' && value !== null && 'unit' in value && 'value' in value

/** The numbers of a question that may drift: single ones, each item of a list, each cell of a column. */
export function movable<F extends InputSpecs, S>(spec: QuestionSpec<F, S>, values: Values<F>): Move[] {
  const irrelevant = spec.irrelevant?.(values) ?? []
  return Object.entries(spec.unsafe).flatMap(([key, unsafe]) => {
    const [id = '', column] = key.split('.')
    if (irrelevant.includes(id)) return []
    const input = (spec.inputs as Readonly<Record<string, Input>>)[id]
    const label = spec.words.fields[id]?.label ?? id
    return input
      ? movesOf(input.field, (values as Record<string, unknown>)[id], [id], label, column, unsafe)
      : []
  })
}

function movesOf(
  field: Field,
  value: unknown,
  path: readonly (string | number)[],
  label: string,
  column: string | undefined,
  unsafe: 'up' | 'down',
): Move[] {
  if (value === undefined) return []
  if (field.kind === 'list' && field.item) {
    const item = field.item
    const values = value as unknown[]
    return values.flatMap((each, at) =>
      movesOf(item, each, [...path, at], values.length > 1 ? `${label} ${at + 1}` : label, column, unsafe),
    )
  }
  if (field.kind === 'rows') {
    const cell = column === undefined ? undefined : field.columns?.[column]
    if (!cell || column === undefined) return []
    return movesOf(
      cell.field,
      (value as Record<string, unknown>)[column],
      [...path, column],
      `${label} ${column}`,
      undefined,
      unsafe,
    )
  }
  const number = isMeasure(value) ? value.value : value
  const range = isMeasure(value) ? field.ranges?.[value.unit] : field.range
  if (typeof number !== 'number' || !range) return []
  const unit = isMeasure(value) ? value.unit : (field.json(value).unit ?? '')
  return [
    {
      path: isMeasure(value) ? [...path, 'value'] : path,
      label,
      value: number,
      unit,
      range,
      whole: field.kind === 'count',
      unsafe,
    },
  ]
}

/** The same values with the number at `path` replaced; nothing is shared along the path. */
export function changedAt<T>(values: T, path: readonly (string | number)[], value: number): T {
  const [key, ...rest] = path
  if (key === undefined) return value as T
  const copy = (Array.isArray(values) ? [...values] : { ...values }) as Record<string | number, unknown>
  copy[key] = changedAt(copy[key], rest, value)
  return copy as T
}

const stepChanged = (then: Outcome['step'], now: Outcome['step'], worse?: 'lower' | 'higher'): boolean => {
  if (worse === undefined || typeof then === 'string' || typeof now === 'string') return then !== now
  return worse === 'lower' ? then < now : then > now
}

const hasChanged = (then: Outcome, now: Outcome, worse?: 'lower' | 'higher'): boolean =>
  stepChanged(then.step, now.step, worse) ||
  then.binding !== now.binding ||
  (then.fails ?? false) !== (now.fails ?? false) ||
  isWorse(verdictOf(then.judged), verdictOf(now.judged))

/** How far each input may move in its unsafe direction before the answer changes for the worse. */
export function roomOf<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  values: Values<F>,
  given: ReadonlySet<string>,
  now: Outcome,
): Room[] {
  const outcomeAt = (move: Move, value: number): Outcome => {
    const changed = changedAt(values, move.path, value)
    return spec.outcomeAt?.(changed, given) ?? spec.outcome(spec.solve(changed), changed, given)
  }
  return movable(spec, values).map((move) => {
    const field = move.path.filter((part) => part !== 'value').join('.')
    const end = endOf(move.range, move.unsafe)
    const found = nearestChange(move.value, end, move.whole, (value) =>
      hasChanged(outcomeAt(move, value), now),
    )
    const still = spec.says(now, values)
    if (!found) return { field, until: null, text: sharedSay('room.any', { what: move.label, still }) }
    const text = printValue(found.inside, move.unit, values.units, move.unsafe === 'up' ? 'down' : 'up')
    const then = spec.says(outcomeAt(move, found.outside), values)
    return {
      field,
      until: { value: found.inside, unit: move.unit, text },
      text: sharedSay(`room.${move.unsafe}`, { what: move.label, still, until: text, then }),
    }
  })
}
