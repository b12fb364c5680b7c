import * as z from 'zod/mini'
import { idSchema, momentSchema } from '../log/job'
import type { Outcome } from '../log/refusal'

/** One link by which somebody may read a job's sheet. What opens it is not part of it: nobody has that twice. */
export const shareSchema = z.strictObject({
  id: idSchema,
  jobId: idSchema,
  createdAt: momentSchema,
  /** From this moment on it opens nothing. */
  expiresAt: momentSchema,
  /** When it was taken back; null: it was not. */
  revokedAt: z.nullable(momentSchema),
})
export type Share = z.infer<typeof shareSchema>

/** How a link stands at one moment. */
export type ShareState = 'open' | 'expired' | 'revoked'

export const stateOf = ({ revokedAt, expiresAt }: Share, at: string): ShareState =>
  revokedAt !== null ? 'revoked' : expiresAt <= at ? 'expired' : 'open'

/** A new link; whoever makes it gives the id, so that a repeated request is known as one. */
export const newShareSchema = z.strictObject({ id: z.exactOptional(idSchema), expiresAt: momentSchema })
export type NewShare = z.input<typeof newShareSchema>

/**
 * The links of all jobs. They live beside the log and not in it: a job's file that is taken out holds none, and a job
 * that is brought in is shared with nobody.
 *
 * None of it throws.
 */
export type ShareStore = {
  /**
   * Makes a link. The token is told this once; `conflict` where the id is taken, also by the same request before,
   * `not-found` where there is no such job.
   */
  create(jobId: string, share: NewShare): Promise<Outcome<{ share: Share; token: string }>>
  /** All links of a job, the newest first, those that open nothing any more among them. */
  list(jobId: string): Promise<Outcome<Share[]>>
  /** Takes a link back for good; again, nothing changes. */
  revoke(id: string): Promise<Outcome<Share>>
  /** The link that a token opens now; null, without a word why, for one that opens nothing. */
  open(token: string): Promise<Outcome<Share | null>>
  close(): Promise<void>
}
