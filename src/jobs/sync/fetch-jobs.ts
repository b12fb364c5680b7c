import type { PhoneLog } from '../log/idb-job-log'
import { heldSchema } from './protocol'
import type { AskServer, Reached } from './send'

/** How many of the jobs touched last are kept here for when there is no signal. */
const newestJobs = 50

/** Fetches what the server has of the jobs touched last and this device has not. */
export async function fetchNewest(phone: PhoneLog, askServer: AskServer): Promise<Reached> {
  const held = heldSchema.safeParse(await bodyOf(`/api/jobs?limit=${newestJobs}`, askServer))
  if (!held.success) return { reached: 'no-signal' }
  for (const { id, records } of held.data.jobs) {
    const shared = await phone.countShared(id)
    if (!shared.ok) return { reached: 'stopped', message: shared.message }
    if (shared.value === records) continue
    const fetched = await fetchJob(phone, id, askServer)
    if (fetched.reached !== 'all') return fetched
  }
  return { reached: 'all' }
}

/** Fetches what the server has of one job. */
export async function fetchJob(phone: PhoneLog, jobId: string, askServer: AskServer): Promise<Reached> {
  const file = await bodyOf(`/api/jobs/${jobId}/export`, askServer)
  if (file === undefined) return { reached: 'no-signal' }
  const kept = await phone.received.importJob(file)
  return kept.ok ? { reached: 'all' } : { reached: 'stopped', message: kept.message }
}

async function bodyOf(path: string, askServer: AskServer): Promise<unknown> {
  try {
    const response = await askServer(path)
    return response.ok ? await response.json() : undefined
  } catch {
    return undefined
  }
}
