import * as z from 'zod/mini'
import { idSchema } from '../log/job'

/** Most records in one request. */
export const mostWrites = 500

/** `POST /api/jobs/writes`: records in the order in which they were made. Each is judged by itself. */
export const sentSchema = z.strictObject({
  writes: z
    .array(z.looseObject({ kind: z.string(), record: z.unknown() }))
    .check(z.minLength(1), z.maxLength(mostWrites)),
})

/** What came of one record: kept (now or before), or refused, with the reason and a sentence. */
export const receiptSchema = z.discriminatedUnion('kept', [
  z.object({ id: z.string(), kept: z.literal(true) }),
  z.object({ id: z.string(), kept: z.literal(false), reason: z.string(), message: z.string() }),
])
export type Receipt = z.infer<typeof receiptSchema>

/** The answer to sent records: one receipt for each, in their order. */
export const receiptsSchema = z.object({ receipts: z.array(receiptSchema) })

/** What is needed of `GET /api/jobs`: the jobs touched last, and how many records each has. */
export const heldSchema = z.object({
  jobs: z.array(z.object({ id: idSchema, records: z.int().check(z.gte(1)) })),
})
