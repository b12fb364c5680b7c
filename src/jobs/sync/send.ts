import * as z from 'zod/mini'
import type { Outbox, Waiting } from '../log/idb-outbox'
import { jobOf } from '../log/needs'
import { type Receipt, receiptsSchema } from './protocol'

/**
 * Asks the server: with a body by POST, without one by GET.
 *
 * @returns its response, whatever its status; throws, or never resolves, where there is no signal
 */
export type AskServer = (path: string, body?: unknown) => Promise<Response>

/** How far it came: nothing waits any more; no signal; the server or this device could not, and why. */
export type Reached = { reached: 'all' } | { reached: 'no-signal' } | { reached: 'stopped'; message: string }

/** What one request carries; well below what the server takes at once. */
const batchBytes = 48 * 1024

/** The server has read the request and will never take it as it is. */
const unusable = new Set([400, 413, 422])

const problemSchema = z.object({ title: z.string() })

/**
 * Sends what waits, oldest first. A record stops waiting only when the server was heard to have it, or to refuse it;
 * so whatever is cut off anywhere is sent again, which the server knows by its ids.
 */
export async function sendWaiting(outbox: Outbox, askServer: AskServer): Promise<Reached> {
  const sentWhole = new Set<string>()
  let most = batchBytes
  for (;;) {
    const next = await outbox.next(most)
    if (!next.ok) return { reached: 'stopped', message: next.message }
    if (next.value.length === 0) return { reached: 'all' }
    const answer = await deliver(next.value, askServer)
    if (answer.came === 'nothing') return { reached: 'no-signal' }
    if (answer.came === 'trouble') return { reached: 'stopped', message: answer.message }
    if (answer.came === 'unusable' && next.value.length > 1) {
      most = 0
      continue
    }
    const receipts =
      answer.came === 'receipts' ? answer.receipts : next.value.map((each) => unusableReceipt(each, answer))
    const heard = await settle(outbox, next.value, receipts, sentWhole)
    if (heard) return heard
  }
}

type Answer =
  | { came: 'nothing' }
  | { came: 'receipts'; receipts: readonly Receipt[] }
  | { came: 'unusable' | 'trouble'; message: string }

async function deliver(waiting: readonly Waiting[], askServer: AskServer): Promise<Answer> {
  try {
    const response = await askServer('/api/jobs/writes', { writes: waiting.map(({ write }) => write) })
    const body: unknown = await response.json()
    if (response.ok) {
      const read = receiptsSchema.safeParse(body)
      // Something else answered in the server's place, as a network with a sign-in page does.
      return read.success ? { came: 'receipts', receipts: read.data.receipts } : { came: 'nothing' }
    }
    const message = problemSchema.safeParse(body).data?.title ?? String(response.status)
    return { came: unusable.has(response.status) ? 'unusable' : 'trouble', message }
  } catch {
    return { came: 'nothing' }
  }
}

const unusableReceipt = ({ write }: Waiting, { message }: { message: string }): Receipt => ({
  id: write.record.id,
  kept: false,
  reason: 'invalid',
  message,
})

/** Writes down what was heard. Of a job that the server does not know (any more), everything is sent once. */
async function settle(
  outbox: Outbox,
  sent: readonly Waiting[],
  receipts: readonly Receipt[],
  sentWhole: Set<string>,
): Promise<Reached | undefined> {
  const receiptOf = new Map(receipts.map((receipt) => [receipt.id, receipt]))
  const missing = new Set<string>()
  const settled = sent.flatMap(({ number, write }) => {
    const receipt = receiptOf.get(write.record.id)
    if (!receipt) return []
    if (receipt.kept) return [{ number }]
    const jobId = jobOf(write)
    if (receipt.reason === 'not-found' && !sentWhole.has(jobId)) {
      missing.add(jobId)
      return []
    }
    return [{ number, refused: receipt.message }]
  })
  if (settled.length === 0 && missing.size === 0) return { reached: 'no-signal' }
  const written = await outbox.settle(settled)
  if (!written.ok) return { reached: 'stopped', message: written.message }
  for (const jobId of missing) {
    sentWhole.add(jobId)
    const marked = await outbox.sendWhole(jobId)
    if (!marked.ok) return { reached: 'stopped', message: marked.message }
  }
  return undefined
}
