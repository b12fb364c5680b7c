import * as z from 'zod/mini'
import { type ConductorSize, printConductorSize, readConductorSize } from '../../quantities/conductor-size'
import { DIMENSIONS, type Dimension } from '../../quantities/dimensions'

import { readQuantity } from '../../quantities/read'
import type { System } from '../../quantities/systems'
import { printValue } from './printing'
import { inWords } from './shared-words'

/** Why one value of one field cannot be used; the sentence for each reason is in prompts/en/shared.yaml. */
export type Fault = { reason: string; values?: Record<string, string>; example?: string }

/** A number with its JSON unit, for a field that takes more than one dimension (watts or amperes, say). */
export type Measure = { value: number; unit: string }

/** The least and the greatest value of a field, in the JSON unit of its dimension. */
export type Range = { min: number; max: number }

/**
 * One input of a question: how it is read from JSON or a form, how it is shown, and how it is written so that
 * reading it again gives the same value.
 */
export interface Field<T = unknown> {
  readonly kind:
    | 'quantity'
    | 'size'
    | 'choice'
    | 'yes-no'
    | 'count'
    | 'number'
    | 'described'
    | 'list'
    | 'rows'
  /** The zod schema of the JSON value; `system` decides whether a comma may be a decimal mark. */
  schema(system: System): z.ZodMiniType<T>
  /** The value in the fixed JSON units. */
  json(value: T): { value: number | string | boolean | object; unit?: string }
  /** The value for a person, lengths and temperatures in both systems. */
  text(value: T, system: System): string
  /** The value as it may be typed, to be read back without loss. */
  input(value: T): unknown
  readonly dimensions?: readonly Dimension[]
  readonly range?: Range
  /** The range of each dimension by its JSON unit, where a field takes several. */
  readonly ranges?: Readonly<Record<string, Range>>
  readonly choices?: readonly string[]
  readonly item?: Field<unknown>
  readonly columns?: Readonly<Record<string, Column>>
}

/** A field inside a row, with whether a row without it can be used. */
export type Column = { field: Field<unknown>; required: boolean }

/** A fault as a zod issue, so that zod gathers the faults of all fields before it answers. */
export const refuse = ({ issues, value }: z.core.ParsePayload, fault: Fault): never => {
  issues.push({ code: 'custom', message: fault.reason, params: fault, input: value })
  return z.NEVER
}

const written = z.string().check(z.maxLength(200, { abort: true }))

const inRange = (value: number, range: Range): boolean =>
  value >= range.min - 1e-9 * Math.abs(range.min) && value <= range.max + 1e-9 * Math.abs(range.max)

const outOfRange = (range: Range, unit: string, system: System, example?: string): Fault => ({
  reason: 'out-of-range',
  values: { least: printValue(range.min, unit, system), most: printValue(range.max, unit, system) },
  ...(example === undefined ? {} : { example }),
})

/**
 * A number with a unit, read into the JSON unit of its dimension; `min` and `max` are in that unit. `tooHigh` names
 * a reason of its own for what lies above `max`, where being out of range does not say enough.
 */
export function quantity(dimension: Dimension, min: number, max: number, tooHigh?: string): Field<number> {
  const unit = DIMENSIONS[dimension].unit
  const range = { min, max }
  return {
    kind: 'quantity',
    dimensions: [dimension],
    range,
    schema: (system) =>
      z.pipe(
        written,
        z.transform((said, context) => {
          const reading = readQuantity(said, dimension, { system })
          if (!reading.ok) return refuse(context, { reason: reading.reason, values: { said: reading.said } })
          if (inRange(reading.value, range)) return reading.value
          const fault = outOfRange(range, unit, system)
          return refuse(context, tooHigh && reading.value > max ? { ...fault, reason: tooHigh } : fault)
        }),
      ),
    json: (value) => ({ value, unit }),
    text: (value, system) => printValue(value, unit, system),
    input: (value) => `${value} ${unit}`,
  }
}

/** A number in one of several dimensions, kept with its unit; `ranges` gives each dimension's range. */
export function measure(ranges: Partial<Record<Dimension, readonly [number, number]>>): Field<Measure> {
  const dimensions = Object.keys(ranges) as Dimension[]
  const byUnit: Record<string, Range> = {}
  for (const [dimension, [min, max]] of Object.entries(ranges)) {
    byUnit[DIMENSIONS[dimension as Dimension].unit] = { min, max }
  }
  return {
    kind: 'quantity',
    dimensions,
    ranges: byUnit,
    schema: (system) =>
      z.pipe(
        written,
        z.transform((said, context) => {
          const reading = readQuantity(said, dimensions, { system })
          if (!reading.ok) return refuse(context, { reason: reading.reason, values: { said: reading.said } })
          const range = byUnit[reading.unit] ?? { min: 0, max: 0 }
          if (!inRange(reading.value, range)) return refuse(context, outOfRange(range, reading.unit, system))
          return { value: reading.value, unit: reading.unit }
        }),
      ),
    json: (value) => value,
    text: (value, system) => printValue(value.value, value.unit, system),
    input: (value) => `${value.value} ${value.unit}`,
  }
}

/** A conductor's size; whether the table has it under the person's rules is checked by the question. */
export function conductorSize(): Field<ConductorSize> {
  return {
    kind: 'size',
    schema: () =>
      z.pipe(
        written,
        z.transform((said, context) => {
          const reading = readConductorSize(said)
          return reading.ok ? reading.value : refuse(context, { reason: reading.reason, values: { said } })
        }),
      ),
    json: (value) => value,
    text: (value) => printConductorSize(value),
    input: (value) => printConductorSize(value),
  }
}

/** One of a few named choices. */
export function choice<const C extends string>(...choices: readonly C[]): Field<C> {
  return {
    kind: 'choice',
    choices,
    schema: () =>
      z.enum(choices as readonly [C, ...C[]], {
        error: () => ({ message: 'not-a-choice' }),
      }) as unknown as z.ZodMiniType<C>,
    json: (value) => ({ value }),
    text: (value) => value,
    input: (value) => value,
  }
}

/** Yes or no: a JSON boolean, or what a form sends. */
export function yesNo(): Field<boolean> {
  return {
    kind: 'yes-no',
    schema: () =>
      z.pipe(
        z.union([z.boolean(), z.enum(['true', 'false'])]),
        z.transform((value) => value === true || value === 'true'),
      ),
    json: (value) => ({ value }),
    text: (value) => (value ? 'yes' : 'no'),
    input: (value) => String(value),
  }
}

const bareNumber = (
  kind: 'count' | 'number',
  min: number,
  max: number,
  usable: (value: number) => boolean,
  fault: string,
): Field<number> => ({
  kind,
  range: { min, max },
  schema: (system) =>
    z.pipe(
      z.union([z.number(), written]),
      z.transform((said, context) => {
        const text = String(said).trim()
        const value = /^[-+−]?\d+([.,]\d+)?$/.test(text)
          ? Number(text.replace('−', '-').replace(',', '.'))
          : Number.NaN
        if (!usable(value)) return refuse(context, { reason: fault, values: { said: text } })
        if (!inRange(value, { min, max })) return refuse(context, outOfRange({ min, max }, '', system))
        return value
      }),
    ),
  json: (value) => ({ value, ...(kind === 'count' ? { unit: 'count' } : {}) }),
  text: (value) => String(value),
  input: (value) => String(value),
})

/** How many of something: a whole number. */
export const count = (min: number, max: number): Field<number> =>
  bareNumber('count', min, max, Number.isInteger, 'not-a-whole-number')

/** A number without a dimension, such as a power factor. */
export const plainNumber = (min: number, max: number): Field<number> =>
  bareNumber('number', min, max, Number.isFinite, 'not-a-number')

/** Something the trade names in words ("square 4 x 1-1/2", "2 x 14/2"), read by a table's own reader. */
export function described<T extends object | string>(reader: {
  read(said: string): { ok: true; value: T } | { ok: false; fault: Fault }
  text(value: T, system: System): string
  input(value: T): string
  json?(value: T): { value: number | string | object; unit?: string }
}): Field<T> {
  return {
    kind: 'described',
    schema: () =>
      z.pipe(
        written,
        z.transform((said, context) => {
          const reading = reader.read(said)
          return reading.ok ? reading.value : refuse(context, reading.fault)
        }),
      ),
    json: (value) => reader.json?.(value) ?? { value },
    text: (value, system) => reader.text(value, system),
    input: (value) => reader.input(value),
  }
}

/** A name that somebody gives a thing, kept as it stands: a circuit's, say. */
export const name = (): Field<string> =>
  described({
    read: (said) => ({ ok: true, value: said.trim() }),
    text: (value) => value,
    input: (value) => value,
  })

/** Several of one kind; one alone may stand without its brackets. */
export function list<T>(item: Field<T>, least: number, most: number): Field<T[]> {
  return {
    kind: 'list',
    item: item as Field<unknown>,
    range: { min: least, max: most },
    schema: (system) => {
      const one = item.schema(system)
      const several = z.array(one).check(z.minLength(least), z.maxLength(most))
      return z.pipe(
        z.transform((raw: unknown) => (raw === undefined || Array.isArray(raw) ? raw : [raw])),
        several,
      ) as z.ZodMiniType<T[]>
    },
    json: (values) => {
      const parts = values.map((value) => item.json(value))
      const units = new Set(parts.map((part) => part.unit))
      const [unit] = units
      const alike = units.size === 1 && item.dimensions?.length === 1
      return {
        value: item.dimensions && !alike ? parts : parts.map((part) => part.value),
        ...(alike && unit ? { unit } : {}),
      }
    },
    text: (values, system) => inWords(values.map((value) => item.text(value, system))),
    input: (values) => values.map((value) => item.input(value)),
  }
}

type RowOf<R extends Record<string, Field>, O extends Record<string, Field>> = {
  [K in keyof R]: R[K] extends Field<infer T> ? T : never
} & { [K in keyof O]?: O[K] extends Field<infer T> ? T : never }

/** A row of which nothing is said but that it is there, as an address, a form or a fact carries it. */
export const emptyRow = '{}'

/**
 * One thing described by several fields of its own: a feed by its place, its distance and its gauge. A bare string
 * stands for the column that `short` names.
 */
export function row<
  const R extends Record<string, Field>,
  const O extends Record<string, Field> = Record<never, never>,
>(required: R, optional: O, short?: string): Field<RowOf<R, O>> {
  const columns: Record<string, Column> = {}
  for (const [id, field] of Object.entries(required))
    columns[id] = { field: field as Field<unknown>, required: true }
  for (const [id, field] of Object.entries(optional))
    columns[id] = { field: field as Field<unknown>, required: false }
  const filled = (value: object): [string, Field<unknown>, unknown][] =>
    Object.entries(columns).flatMap(([id, column]) => {
      const cell = (value as Record<string, unknown>)[id]
      return cell === undefined ? [] : [[id, column.field, cell] as [string, Field<unknown>, unknown]]
    })
  return {
    kind: 'rows',
    columns,
    schema: (system) => {
      const shape = Object.entries(columns).map(([id, column]) => {
        const schema = column.field.schema(system)
        return [id, column.required ? schema : z.optional(schema)]
      })
      const row = z.strictObject(Object.fromEntries(shape))
      const either = z.pipe(
        z.transform((raw: unknown) => {
          if (raw === emptyRow) return {}
          return short && typeof raw === 'string' ? { [short]: raw } : raw
        }),
        row,
      )
      return either as unknown as z.ZodMiniType<RowOf<R, O>>
    },
    json: (value) => ({
      value: Object.fromEntries(
        filled(value).map(([id, field, cell]) => {
          const { value: number, unit } = field.json(cell)
          const bare = field.dimensions?.length === 1 || typeof number !== 'number'
          return [id, bare ? number : { value: number, unit }]
        }),
      ),
    }),
    text: (value, system) =>
      filled(value)
        .map(([id, field, cell]) => `${id} ${field.text(cell, system)}`)
        .join(', ') || 'ordinary',
    input: (value) => Object.fromEntries(filled(value).map(([id, field, cell]) => [id, field.input(cell)])),
  }
}

/** How a question uses a field: needed, used when given, or assumed when not. */
export type Input<T = unknown> = {
  field: Field<T>
  need: 'required' | 'optional' | 'assumed'
  /** The assumed value; it may rest on inputs declared before it. `undefined` leaves the input out. */
  assume?(known: Record<string, unknown>): T | undefined
  /** Where an assumed value stands; `table` when a table of a standard gives it. */
  from?: 'assumed' | 'table'
  /** The name under which a job remembers it, where its id means something else in another question. */
  fact?: string
}

export type RequiredInput<T> = Input<T> & { need: 'required' }
export type OptionalInput<T> = Input<T> & { need: 'optional' }
export type AssumedInput<T> = Input<T> & { need: 'assumed' }

/** An input that a job remembers under another name than its id. */
export const knownAs = <I extends Input>(fact: string, input: I): I => ({ ...input, fact })

export const required = <T>(field: Field<T>): RequiredInput<T> => ({ field, need: 'required' })
export const optional = <T>(field: Field<T>): OptionalInput<T> => ({ field, need: 'optional' })

/** An input that has a value when nobody gives one, shown among the assumptions. */
export const assumed = <T>(
  field: Field<T>,
  // biome-ignore lint/suspicious/noExplicitAny: the inputs before it are typed where the question is declared
  value: T | ((known: any) => T),
): AssumedInput<T> => ({
  field,
  need: 'assumed',
  assume: typeof value === 'function' ? (value as (known: Record<string, unknown>) => T) : () => value,
})
