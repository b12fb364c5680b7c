import type { Room } from './answer'
import type { Field, Input, Measure, Range } from './fields'
import { printValue } from './printing'
import type { InputSpecs, Values } from './read-inputs'
import { endOf, nearestChange } from './search'
import { sharedSay } from './shared-words'
import type { Outcome, QuestionSpec } from './spec'
import { isWorse, verdictOf } from './verdict'

/** Where a value stands among the inputs, and which way it is unsafe. */
type Place = {
  path: readonly (string | number)[]
  /** As it is given: the count of a described cable is part of the cable. */
  field: string
  label: string
  unsafe: 'up' | 'down'
}

/** One number among the inputs that may drift. */
export type Move = Place & { value: number; unit: string; range: Range; whole: boolean }

const isMeasure = (value: unknown): value is Measure =>
  typeof value === 'object' && value !== null && 'unit' in value && 'value' in value

/** The numbers of a question that may drift: single ones, each item of a list, each cell of a column. */
export function movable<F extends InputSpecs, S>(spec: QuestionSpec<F, S>, values: Values<F>): Move[] {
  const irrelevant = spec.irrelevant?.(values) ?? []
  return Object.entries(spec.unsafe).flatMap(([key, unsafe]) => {
    const [id = '', column] = key.split('.')
    const input = (spec.inputs as Readonly<Record<string, Input>>)[id]
    if (!input || irrelevant.includes(id)) return []
    const { label = id, columns = {} } = spec.words.fields[id] ?? {}
    const place = { path: [id], field: id, label, unsafe }
    const cell = column === undefined ? undefined : { id: column, label: columns[column] ?? column }
    return movesOf(input.field, (values as Record<string, unknown>)[id], place, cell)
  })
}

type Cell = { id: string; label: string }

function movesOf(field: Field, value: unknown, place: Place, cell: Cell | undefined): Move[] {
  if (value === undefined) return []
  const { item, columns } = field
  if (field.kind === 'list' && item) {
    const values = value as unknown[]
    return values.flatMap((each, at) => movesOf(item, each, itemPlace(place, at, values.length), cell))
  }
  if (columns) {
    const column = cell && columns[cell.id]?.field
    if (!column) return []
    const shown = field.kind === 'rows' ? `${place.field}.${cell.id}` : place.field
    const label = `${place.label}, ${cell.label.charAt(0).toLowerCase()}${cell.label.slice(1)}`
    const inside = { ...place, path: [...place.path, cell.id], field: shown, label }
    return movesOf(column, (value as Record<string, unknown>)[cell.id] ?? unsaid(column), inside, undefined)
  }
  return moveOf(field, value, place)
}

const itemPlace = (place: Place, at: number, of: number): Place => ({
  ...place,
  path: [...place.path, at],
  field: `${place.field}.${at}`,
  label: of > 1 ? `${place.label} ${at + 1}` : place.label,
})

/** A row that does not say how many is the least of it: one. */
const unsaid = (field: Field): number | undefined => (field.kind === 'count' ? field.range?.min : undefined)

function moveOf(field: Field, value: unknown, place: Place): Move[] {
  const number = isMeasure(value) ? value.value : value
  const range = isMeasure(value) ? field.ranges?.[value.unit] : field.range
  if (typeof number !== 'number' || !range) return []
  const unit = isMeasure(value) ? value.unit : (field.json(value).unit ?? '')
  const path = isMeasure(value) ? [...place.path, 'value'] : place.path
  const { field: id, label, unsafe } = place
  return [{ path, field: id, label, unsafe, value: number, unit, range, whole: field.kind === 'count' }]
}

/** The same values with the number at `path` replaced; nothing is shared along the path. */
export function changedAt<T>(values: T, path: readonly (string | number)[], value: number): T {
  return changedFrom(values, path, 0, value) as T
}

function changedFrom(
  values: unknown,
  path: readonly (string | number)[],
  from: number,
  value: number,
): unknown {
  const key = path[from]
  if (key === undefined) return value
  const copy = (Array.isArray(values) ? values.slice() : { ...(values as object) }) as Record<
    string | number,
    unknown
  >
  copy[key] = changedFrom(copy[key], path, from + 1, value)
  return copy
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
  const outcomeAt = (changed: Values<F>): Outcome =>
    spec.outcomeAt?.(changed, given) ??
    spec.outcome((spec.solveRoughly ?? spec.solve)(changed), changed, given)
  // What would be refused lies out of the range too, so that nothing it changes counts.
  const isRefused = (changed: Values<F>): boolean => (spec.relations?.(changed, given).length ?? 0) > 0
  const worsens =
    spec.worsensFrom?.(now) ??
    ((changed: Values<F>): boolean => hasChanged(outcomeAt(changed), now, spec.stepWorse))
  const still = spec.says(now, values)
  return movable(spec, values).map((move) => {
    const { field } = move
    const end = endOf(move.range, move.unsafe)
    const found = nearestChange(move.value, end, move.whole, (value) => {
      const changed = changedAt(values, move.path, value)
      return !isRefused(changed) && worsens(changed)
    })
    if (!found) return { field, until: null, text: sharedSay('room.any', { what: move.label, still }) }
    const text = printValue(found.inside, move.unit, values.units, move.unsafe === 'up' ? 'down' : 'up')
    const then = spec.says(outcomeAt(changedAt(values, move.path, found.outside)), values)
    return {
      field,
      until: { value: found.inside, unit: move.unit, text },
      text: sharedSay(`room.${move.unsafe}`, { what: move.label, still, until: text, then }),
    }
  })
}
