import { z } from 'zod'
import { answerSchema } from './answer-schema'

const text = z.string()
const side = z.enum(['a', 'b'])
const caution = answerSchema.shape.cautions.element
const figureValue = answerSchema.shape.figures.element.shape.value
const provenance = answerSchema.shape.inputs.valueType.shape.from

const said = z.strictObject({ value: figureValue, unit: text.optional(), text })

const compared = z.strictObject({
  id: text,
  label: text,
  a: said.optional(),
  b: said.optional(),
  same: z.boolean(),
  difference: z.strictObject({ value: z.number().optional(), unit: text, text }).optional(),
})

const input = z.strictObject({ text, from: provenance })
const cells = z.array(z.union([text, z.number()]))

/** Two answers and what differs between them, as `GET /api/compare/:question` sends them. */
export const comparisonSchema = z.strictObject({
  question: text,
  a: answerSchema,
  b: answerSchema,
  inputs: z.array(z.strictObject({ field: text, label: text, a: input.optional(), b: input.optional() })),
  figures: z.array(compared.extend({ better: side.optional() })),
  limits: z.array(compared.extend({ binds: z.array(side) })),
  rows: z.strictObject({ columns: z.array(text), a: cells, b: cells }).optional(),
  cautions: z.strictObject({ a: z.array(caution), b: z.array(caution), both: z.array(caution) }),
  differs: z.boolean(),
})
