import * as z from 'zod/mini'

/** Text as UTF-8 can keep it: half a character (a cut-off emoji) would not come back as it went in. */
const text = (longest: number) =>
  z.string().check(
    z.maxLength(longest),
    z.overwrite((value) => value.replace(/\p{Surrogate}/gu, '\uFFFD')),
  )

/** Ids are written one way only, so that one thing cannot have two. */
export const idSchema = z
  .uuidv7()
  .check(z.refine((id) => id === id.toLowerCase(), { error: 'an id is written in lower case' }))

/** UTC to the millisecond (`2026-03-02T09:41:00.000Z`): the text then sorts as the time does. */
export const momentSchema = z.iso.datetime({ precision: 3 })

/** Anything that JSON can carry. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json }

/** Deeper than any answer, and shallow enough for whatever walks through it later. */
const deepest = 64

/** Whether a value would come back from JSON as it went in. */
const isJson = (value: unknown, depth = 0): value is Json => {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return true
  if (typeof value === 'number') return Number.isFinite(value)
  if (typeof value !== 'object' || depth === deepest) return false
  const prototype: unknown = Object.getPrototypeOf(value)
  const plain = Array.isArray(value) || prototype === Object.prototype || prototype === null
  return plain && Object.values(value).every((item) => isJson(item, depth + 1))
}

const json = z
  .custom<Json>((value) => isJson(value), { error: 'not JSON' })
  .check(z.meta({ description: 'any JSON' }))

export const stateSchema = z.enum(['open', 'done', 'archived'])
export type State = z.infer<typeof stateSchema>

const nameSchema = text(200).check(z.minLength(1))
const placeSchema = text(1000)
const notesSchema = text(50_000)
const who = z._default(z.nullable(text(200)), null)

/** How a job was begun. Its name and the rest may change later; this stays. */
export const createdSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  place: z._default(placeSchema, ''),
  notes: z._default(notesSchema, ''),
  state: z._default(stateSchema, 'open'),
  createdAt: momentSchema,
})

/** One change of a job's name, place, notes or state. */
export const changeSchema = z.strictObject({
  id: idSchema,
  jobId: idSchema,
  at: momentSchema,
  who,
  set: z
    .strictObject({
      name: z.exactOptional(nameSchema),
      place: z.exactOptional(placeSchema),
      notes: z.exactOptional(notesSchema),
      state: z.exactOptional(stateSchema),
    })
    .check(z.refine((set) => Object.keys(set).length > 0, { error: 'nothing is changed' })),
})

/** An input's value as it may be typed: `"24 V"`, `["12 ft", "8 ft"]`, `[{"at": "0 ft"}]`. */
export type FactValue = string | readonly FactValue[] | { readonly [key: string]: FactValue }

const isFactValue = (value: unknown): value is FactValue => isJson(value) && isTyped(value)

const isTyped = (value: Json): boolean => {
  if (typeof value !== 'object' || value === null) return typeof value === 'string'
  const items: Json[] = Object.values(value)
  return items.length > 0 && items.every(isTyped)
}

/** Where a fact came from: the answer of an entry, somebody who said so, another job's file. */
const provenanceSchema = z
  .strictObject({
    from: z.enum(['answer', 'person', 'import']),
    entryId: z._default(z.nullable(idSchema), null),
    who,
  })
  .check(
    z.refine(({ from, entryId }) => from !== 'answer' || entryId !== null, {
      error: 'a fact from an answer names its entry',
      path: ['entryId'],
    }),
  )

/** Something known about a job. A later fact about the same does not overwrite it. */
export const factSchema = z.strictObject({
  id: idSchema,
  jobId: idSchema,
  /** The id of a question's input, such as `voltage`. */
  field: text(100).check(z.minLength(1)),
  /** What part of the job it is about, such as `glaze bench`; null: the whole job. */
  where: z._default(z.nullable(text(200).check(z.minLength(1))), null),
  value: z.custom<FactValue>((value) => isFactValue(value), { error: 'not a value as it may be typed' }),
  provenance: provenanceSchema,
  at: momentSchema,
})

/** A fact taken back. */
export const withdrawalSchema = z.strictObject({
  id: idSchema,
  jobId: idSchema,
  factId: idSchema,
  at: momentSchema,
  who,
})

/** One asked line of a job's thread, with what was understood and answered then. */
export const entrySchema = z.strictObject({
  id: idSchema,
  jobId: idSchema,
  at: momentSchema,
  /** The line as it was typed or dictated; empty where a form was filled in. */
  said: text(8000),
  reading: json,
  /** The answer as it was; null where there was none (something was asked back). */
  answer: json,
  /** What made the answer. */
  version: z.strictObject({
    calculators: text(100).check(z.minLength(1)),
    tables: text(100).check(z.minLength(1)),
  }),
})

export type Created = z.infer<typeof createdSchema>
export type Change = z.infer<typeof changeSchema>
export type Fact = z.infer<typeof factSchema>
export type Withdrawal = z.infer<typeof withdrawalSchema>
export type Entry = z.infer<typeof entrySchema>

/** What a kept record of each kind must say. */
export const recordSchemas = {
  job: createdSchema,
  change: changeSchema,
  entry: entrySchema,
  fact: factSchema,
  withdrawal: withdrawalSchema,
} satisfies Record<string, z.ZodMiniType>

/** One thing added to the log; nothing else ever happens to it. */
export const writeSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('job'), record: createdSchema }),
  z.strictObject({ kind: z.literal('change'), record: changeSchema }),
  z.strictObject({ kind: z.literal('entry'), record: entrySchema }),
  z.strictObject({ kind: z.literal('fact'), record: factSchema }),
  z.strictObject({ kind: z.literal('withdrawal'), record: withdrawalSchema }),
])
export type Write = z.infer<typeof writeSchema>
/** A write as it may come in, before what may be left out is filled in. */
export type WriteInput = z.input<typeof writeSchema>
export type Kind = Write['kind']
export type RecordOf<K extends Kind> = { [W in Write as W['kind']]: W['record'] }[K]

/** All that the log has of one job, each list from the oldest to the newest. */
export type JobRecords = {
  created: Created
  changes: Change[]
  entries: Entry[]
  facts: Fact[]
  withdrawals: Withdrawal[]
}

/** What a list of jobs shows of one. */
export const summarySchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  place: placeSchema,
  state: stateSchema,
  createdAt: momentSchema,
  /** The time of the newest record. */
  touchedAt: momentSchema,
  /** How many entries its thread has. */
  entries: z.int().check(z.gte(0)),
  /** How many records it has in all. As none is ever taken away, another log that has as many has the same. */
  records: z.int().check(z.gte(1)),
})
export type JobSummary = z.infer<typeof summarySchema>

/** The order of records, the same on every device: by time, then by id. */
export const byTime = (one: { at: string; id: string }, other: { at: string; id: string }): number =>
  compare(one.at, other.at) || compare(one.id, other.id)

const compare = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0)

/** A record as one text, keys sorted: two records are the same where their texts are. */
export const contentOf = (value: Json): string => {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value)
  if (Array.isArray(value)) return `[${value.map(contentOf).join(',')}]`
  const pairs = Object.entries(value as Record<string, Json>).sort(([one], [other]) => compare(one, other))
  return `{${pairs.map(([key, item]) => `${JSON.stringify(key)}:${contentOf(item)}`).join(',')}}`
}
