import { newId } from '../jobs/log/identifier'
import { done, type Outcome, refused } from '../jobs/log/refusal'
import type { Share, ShareStore } from '../jobs/share/share'
import type { FreshShare, ValidHours } from '../pages/job-share'
import type { Home } from './home'

const msPerHour = 3_600_000

/**
 * Makes a link of a job that opens for so many hours from now on.
 *
 * @param origin where this home is reached from outside, `https://ladder.example`
 */
export async function share(
  shares: ShareStore,
  jobId: string,
  { id, hours }: { id?: string | undefined; hours: ValidHours },
  origin: string,
): Promise<Outcome<FreshShare & { token: string }>> {
  const expiresAt = new Date(Date.now() + hours * msPerHour).toISOString()
  const made = await shares.create(jobId, { id: id ?? newId(), expiresAt })
  if (!made.ok) return made
  const { share, token } = made.value
  return done({ share, token, address: `${origin}/s/${token}` })
}

/** Takes back a link of this job; of another job's it knows nothing. */
export async function takeBack(shares: ShareStore, jobId: string, id: string): Promise<Outcome<Share>> {
  const listed = await shares.list(jobId)
  if (!listed.ok) return listed
  const own = listed.value.some((share) => share.id === id)
  return own ? shares.revoke(id) : refused({ reason: 'not-found', kind: 'share', id })
}

/** Where a link leads: where others reach this home, else where it was asked. */
export function originOf({ publicAddress }: Home, requested: string): string {
  const { origin } = new URL(requested)
  return publicAddress?.(origin) ?? origin
}
