import * as z from 'zod/mini'
import type { System } from '../../quantities/systems'
import type { Setting } from './answer'
import {
  type AssumedInput,
  assumed,
  choice,
  emptyRow,
  type Fault,
  type Input,
  type OptionalInput,
  type RequiredInput,
} from './fields'

/** The inputs of a question as it declares them. */
export type InputSpecs = Readonly<Record<string, Input>>

/** The values a question computes with: given ones, and assumed ones where nothing was given. */
export type Values<F extends InputSpecs> = {
  [K in keyof F]: F[K] extends RequiredInput<infer T>
    ? T
    : F[K] extends AssumedInput<infer T>
      ? T
      : F[K] extends OptionalInput<infer T>
        ? T | undefined
        : never
} & Setting

/** What somebody said the answer would be, not yet read against a figure. */
export type SaidClaim = { figure?: string | undefined; value: string }

/** A fault and the field it belongs to, by its dotted path. */
export type FieldFault = Fault & { field: string }

export type InputReading =
  | { ok: true; values: Record<string, unknown>; given: ReadonlySet<string>; claim?: SaidClaim }
  | { ok: false; faults: FieldFault[]; given: ReadonlySet<string>; claim?: SaidClaim }

/** What every question takes beside its own inputs. */
export const settingInputs = {
  rules: assumed(choice('nec', 'iec'), 'nec'),
  units: assumed(choice('us', 'metric'), 'us'),
}

/** A question's inputs behind the two that every question has. */
export const withSettings = (inputs: InputSpecs): InputSpecs => ({ ...settingInputs, ...inputs })

const claimSchema = z.union([
  z.string().check(z.maxLength(200)),
  z.number(),
  z.strictObject({
    figure: z.optional(z.string().check(z.maxLength(60))),
    value: z.union([z.string().check(z.maxLength(200)), z.number()]),
  }),
])

/** The zod schema of a question's body under one system of units; `inputs` with the settings. */
export function bodySchema(inputs: InputSpecs, system: System): z.ZodMiniObject {
  const shape: Record<string, z.ZodMiniType> = {}
  for (const [id, input] of Object.entries(inputs)) {
    const schema = input.field.schema(system)
    shape[id] = input.need === 'required' ? schema : z.optional(schema)
  }
  return z.strictObject({ ...shape, claim: z.optional(claimSchema) })
}

/** `{"feeds.0.at": "0 ft"}` to `{feeds: [{at: "0 ft"}]}`, so that a form and an address can carry rows. */
export function unflatten(flat: Record<string, unknown>): Record<string, unknown> {
  const keys = Object.keys(flat)
  if (!keys.some((key) => key.includes('.'))) return flat
  const out: Record<string, unknown> = Object.create(null)
  for (const key of keys) {
    const path = key.split('.')
    let at = out
    for (const part of path.slice(0, -1)) {
      const below = at[part]
      // A copy, because what stands there may be the caller's own.
      at[part] = Object.assign(Object.create(null), typeof below === 'object' ? below : undefined)
      at = at[part] as Record<string, unknown>
    }
    const last = path[path.length - 1] ?? ''
    // A row that is told to be there may have been filled since.
    if (flat[key] !== emptyRow || typeof at[last] !== 'object') at[last] = flat[key]
  }
  return Object.fromEntries(Object.entries(out).map(([key, value]) => [key, listed(value)]))
}

/** An object whose keys are all whole numbers is a list; gaps close up, as when a row was left empty. */
function listed(value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value
  const entries = Object.entries(value).map(([key, item]) => [key, listed(item)] as const)
  if (!entries.every(([key]) => /^\d{1,3}$/.test(key))) return Object.fromEntries(entries)
  return entries.sort(([a], [b]) => Number(a) - Number(b)).map(([, item]) => item)
}

const valueAt = (raw: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (at, key) =>
      typeof at === 'object' && at !== null ? (at as Record<PropertyKey, unknown>)[key] : undefined,
    raw,
  )

/** The faults behind one zod issue. */
function faultsOf(issue: z.core.$ZodIssue, raw: unknown): FieldFault[] {
  const field = issue.path.join('.')
  if (issue.code === 'custom') return [{ ...(issue.params as Fault), field }]
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({ field: field ? `${field}.${key}` : key, reason: 'unknown-field' }))
  }
  const value = valueAt(raw, issue.path)
  if (value === undefined) return [{ field, reason: 'missing' }]
  if (issue.code === 'too_big' && typeof value === 'string') return [{ field, reason: 'too-long' }]
  if (issue.code === 'too_big')
    return [{ field, reason: 'too-many', values: { most: String(issue.maximum) } }]
  if (issue.code === 'too_small')
    return [{ field, reason: 'too-few', values: { least: String(issue.minimum) } }]
  if (issue.code === 'invalid_value') {
    return [{ field, reason: 'not-a-choice', values: { choices: issue.values.map(String).join(', ') } }]
  }
  if (typeof value === 'number') return [{ field, reason: 'no-unit', values: { said: String(value) } }]
  return [{ field, reason: 'not-understood', values: { said: shorten(value) } }]
}

const shorten = (value: unknown): string => {
  const text = typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value))
  return text.length > 40 ? `${text.slice(0, 40)}…` : text
}

/** A question's alternatives: exactly one of them must be given whole. */
export type Alternatives = readonly (readonly string[])[]

/** Nothing given: the first alternative is asked for. One begun: what it lacks. Two: which one. */
function alternativeFaults(alternatives: Alternatives, given: ReadonlySet<string>): FieldFault[] {
  const begun = alternatives.filter((fields) => fields.some((field) => given.has(field)))
  const complete = begun.filter((fields) => fields.every((field) => given.has(field)))
  if (begun.length > 1) {
    return begun
      .slice(1)
      .flatMap((fields) =>
        fields
          .filter((field) => given.has(field) && !begun[0]?.includes(field))
          .map((field) => ({ field, reason: 'one-or-the-other', values: { other: begun[0]?.[0] ?? '' } })),
      )
  }
  if (complete.length === 1) return []
  const wanted = begun[0] ?? alternatives[0] ?? []
  return wanted
    .filter((field) => !given.has(field))
    .map((field) => ({ field, reason: begun.length ? 'missing' : 'missing-alternative' }))
}

/** Reads the raw body of a question into values, or says every fault at once. */
export function readBody(
  inputs: InputSpecs,
  schemas: Readonly<Record<System, z.ZodMiniObject>>,
  alternatives: readonly Alternatives[],
  raw: unknown,
): InputReading {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) {
    return { ok: false, faults: [{ field: '', reason: 'not-an-object' }], given: new Set() }
  }
  const body = unflatten(raw as Record<string, unknown>)
  const given = new Set(Object.keys(body).filter((key) => body[key] !== undefined && key !== 'claim'))
  const parsed = schemas[body.units === 'metric' ? 'metric' : 'us'].safeParse(body)
  const faults = [
    ...(parsed.success ? [] : parsed.error.issues.flatMap((issue) => faultsOf(issue, body))),
    ...alternatives.flatMap((fields) => alternativeFaults(fields, given)),
  ]
  const claim = saidClaim(body.claim)
  if (!parsed.success || faults.length > 0) return { ok: false, faults, given, ...claim }
  const { claim: _, ...values } = parsed.data
  return { ok: true, values: withAssumed(inputs, values), given, ...claim }
}

function saidClaim(raw: unknown): { claim?: SaidClaim } {
  const said = z.optional(claimSchema).safeParse(raw).data
  if (said === undefined) return {}
  return {
    claim: typeof said === 'object' ? { ...said, value: String(said.value) } : { value: String(said) },
  }
}

/** Fills in what nobody gave, in the order of declaration, so that an assumption may rest on one before it. */
function withAssumed(inputs: InputSpecs, values: Record<string, unknown>): Record<string, unknown> {
  const known = values
  for (const [id, input] of Object.entries(inputs)) {
    if (known[id] === undefined && input.assume) {
      const value = input.assume(known)
      if (value !== undefined) known[id] = value
    }
  }
  return known
}
