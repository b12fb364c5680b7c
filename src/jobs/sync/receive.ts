import type { WriteInput } from '../log/job'
import type { JobLog } from '../log/job-log'
import { done, type Outcome, type Refused } from '../log/refusal'
import type { Receipt } from './protocol'

/** Whether it was the record that could not be taken, and not the log that could take nothing. */
const isOfTheRecord = ({ reason }: Refused): boolean =>
  reason === 'invalid' || reason === 'not-found' || reason === 'conflict'

const idOf = (write: WriteInput): string => {
  const record: unknown = write.record
  return typeof record === 'object' && record !== null && 'id' in record ? String(record.id) : ''
}

/**
 * Takes in what another device made. Sent again, in parts or in another order, it comes to the same: every record is
 * kept once.
 *
 * @param writes the records, in the order in which they were made
 * @returns a receipt for each; a refusal where the log can take nothing at the moment, and then nothing is certain but
 * what has a receipt from another time
 */
export async function receive(log: JobLog, writes: readonly WriteInput[]): Promise<Outcome<Receipt[]>> {
  const together = await log.write(writes)
  if (together.ok) return done(writes.map((write) => ({ id: idOf(write), kept: true })))
  if (!isOfTheRecord(together)) return together
  const receipts: Receipt[] = []
  for (const write of writes) {
    const alone = await log.write([write])
    if (!alone.ok && !isOfTheRecord(alone)) return alone
    const id = idOf(write)
    receipts.push(
      alone.ok ? { id, kept: true } : { id, kept: false, reason: alone.reason, message: alone.message },
    )
  }
  return done(receipts)
}
