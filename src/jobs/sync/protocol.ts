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

/** What the server says to a device that was shut out, apart from one that it never let in. */
export const shutOutReason = 'device-shut-out'

const problemSchema = z.catch(z.object({ title: z.optional(z.string()), reason: z.optional(z.string()) }), {})

/** What the server refuses a request with: its sentence, and whether it is this device that it refuses. */
export function refusalOf(status: number, body: unknown): { message: string; isShutOut: boolean } {
  const { title, reason } = problemSchema.parse(body)
  return { message: title ?? String(status), isShutOut: status === 401 && reason === shutOutReason }
}

/** What is needed of `GET /api/jobs`: the jobs touched last, and how many records each has. */
export const heldSchema = z.object({
  jobs: z.array(z.object({ id: idSchema, records: z.int().check(z.gte(1)) })),
})
