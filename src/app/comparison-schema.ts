import * as z from 'zod/mini'
import { answerSchema } from './answer-schema'

const text = z.string()
const side = z.enum(['a', 'b'])
const caution = answerSchema.shape.cautions.def.element
const figureValue = answerSchema.shape.figures.def.element.shape.value
const provenance = answerSchema.shape.inputs.def.valueType.shape.from

const said = z.strictObject({ value: figureValue, unit: z.optional(text), text })

const compared = z.strictObject({
  id: text,
  label: text,
  a: z.optional(said),
  b: z.optional(said),
  same: z.boolean(),
  difference: z.optional(z.strictObject({ value: z.optional(z.number()), unit: text, text })),
})

const input = z.strictObject({ text, from: provenance })
const cells = z.array(z.union([text, z.number()]))

/** Two answers and what differs between them, as `GET /api/compare/:question` sends them. */
export const comparisonSchema = z.strictObject({
  question: text,
  a: answerSchema,
  b: answerSchema,
  inputs: z.array(z.strictObject({ field: text, label: text, a: z.optional(input), b: z.optional(input) })),
  figures: z.array(z.extend(compared, { better: z.optional(side) })),
  limits: z.array(z.extend(compared, { binds: z.array(side) })),
  rows: z.optional(z.strictObject({ columns: z.array(text), a: cells, b: cells })),
  cautions: z.strictObject({ a: z.array(caution), b: z.array(caution), both: z.array(caution) }),
  differs: z.boolean(),
})
