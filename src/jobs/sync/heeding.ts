import type { PhoneLog } from '../log/idb-job-log'
import { knock } from './fetch-jobs'
import type { AskServer, Reached } from './send'

/**
 * Exchanges something with the server as far as it lets this device in. Where it says that it shut this device out, the
 * copy of its jobs is taken off this device; from then on nothing is exchanged until it lets this device in again.
 *
 * @param exchange sends or fetches; it is not begun while this device is shut out
 */
export async function heeding(
  { shop }: Pick<PhoneLog, 'shop'>,
  askServer: AskServer,
  exchange: () => Promise<Reached>,
): Promise<Reached> {
  const wasShutOut = await shop.isShutOut()
  if (!wasShutOut.ok) return { reached: 'stopped', message: wasShutOut.message }
  if (wasShutOut.value) {
    const heard = await knock(askServer)
    if (heard.reached !== 'all') return heard
    const entered = await shop.enter()
    if (!entered.ok) return { reached: 'stopped', message: entered.message }
  }
  const reached = await exchange()
  if (reached.reached !== 'shut-out') return reached
  const left = await shop.leave()
  return left.ok ? reached : { reached: 'stopped', message: left.message }
}
