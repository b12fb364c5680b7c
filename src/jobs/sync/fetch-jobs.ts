import type { PhoneLog } from '../log/idb-job-log'
import { heldSchema, refusalOf } from './protocol'
import type { AskServer, Reached } from './send'

/** How many of the jobs touched last are kept here for when there is no signal. */
const newestJobs = 50

/** Fetches what the server has of the jobs touched last and this device has not. */
export async function fetchNewest(phone: PhoneLog, askServer: AskServer): Promise<Reached> {
  const answer = await bodyOf(`/api/jobs?limit=${newestJobs}`, askServer)
  if (answer.reached !== 'all') return answer
  const held = heldSchema.safeParse(answer.body)
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
  const answer = await bodyOf(`/api/jobs/${jobId}/export`, askServer)
  if (answer.reached !== 'all') return answer
  const kept = await phone.received.importJob(answer.body)
  return kept.ok ? { reached: 'all' } : { reached: 'stopped', message: kept.message }
}

/** Whether the server lets this device in, found out by asking for as little as can be. */
export async function knock(askServer: AskServer): Promise<Reached> {
  const answer = await bodyOf('/api/jobs?limit=1', askServer)
  if (answer.reached !== 'all') return answer
  return heldSchema.safeParse(answer.body).success ? { reached: 'all' } : { reached: 'no-signal' }
}

type Answer = { reached: 'all'; body: unknown } | { reached: 'no-signal' } | { reached: 'shut-out' }

async function bodyOf(path: string, askServer: AskServer): Promise<Answer> {
  try {
    const response = await askServer(path)
    const body: unknown = await response.json()
    if (response.ok) return { reached: 'all', body }
    return { reached: refusalOf(response.status, body).isShutOut ? 'shut-out' : 'no-signal' }
  } catch {
    return { reached: 'no-signal' }
  }
}
