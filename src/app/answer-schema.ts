import * as z from 'zod/mini'
import type { Answer } from '../questions/common/answer'

const verdict = z.enum(['holds', 'tight', 'fails', 'info'])
const number = z.number()
const text = z.string()

/** The Answer as a zod schema: for the API's description, and for the tests that hold every answer to it. */
export const answerSchema = z.strictObject({
  question: text,
  verdict,
  headline: text.check(z.minLength(1)),
  inputs: z.record(
    text,
    z.strictObject({
      value: z.union([number, text, z.boolean(), z.array(z.unknown()), z.record(text, z.unknown())]),
      unit: z.optional(text),
      text,
      from: z.enum(['given', 'job', 'assumed', 'table']),
    }),
  ),
  figures: z.array(
    z.strictObject({
      id: text,
      label: text,
      value: z.union([number, text, z.array(number)]),
      unit: z.optional(text),
      text,
    }),
  ),
  limits: z.array(
    z.strictObject({ id: text, label: text, value: number, unit: text, text, binds: z.boolean() }),
  ),
  table: z.optional(
    z.strictObject({
      columns: z.array(text),
      rows: z.array(z.array(z.union([text, number]))),
      chosen: z.optional(z.int().check(z.gte(0))),
    }),
  ),
  claim: z.optional(
    z.strictObject({
      text,
      verdict: z.enum(['holds', 'tight', 'fails']),
      margin: text,
      wouldHoldIf: z.array(text),
    }),
  ),
  room: z.array(
    z.strictObject({
      field: text,
      until: z.nullable(z.strictObject({ value: number, unit: text, text })),
      text,
    }),
  ),
  assumptions: z.array(z.strictObject({ field: text, text, why: text, source: z.optional(text) })),
  cautions: z.array(
    z.strictObject({ level: z.enum(['stop', 'care', 'note']), text, source: z.optional(text) }),
  ),
  working: z.array(
    z.strictObject({ label: text, formula: text, substituted: text, result: text, source: z.optional(text) }),
  ),
  next: z.array(z.strictObject({ question: text, title: text, inputs: z.record(text, text) })),
  picture: z.optional(z.strictObject({ kind: text, data: z.unknown() })),
  findings: z.optional(z.array(z.looseObject({ id: text, text, misfit: number, toldApart: z.boolean() }))),
  sources: z.array(
    z.strictObject({ id: text, text, kind: z.enum(['published', 'common practice', 'from memory']) }),
  ),
  localCode: text,
})

/** Keeps the schema and the type from drifting apart: an Answer must fit what the API promises. */
export type PromisedAnswer = Answer extends z.input<typeof answerSchema> ? true : never
