import type Database from 'better-sqlite3'
import * as z from 'zod/mini'
import { newId } from '../log/identifier'
import { idSchema } from '../log/job'
import { invalid, type Outcome, refused, Stop } from '../log/refusal'
import { type Opening, openDatabase } from '../log/sqlite-file'
import { attempt } from '../log/sqlite-refusal'
import { digestedRow, digestOf } from '../log/sqlite-rows'
import { newShareSchema, type Share, type ShareStore, shareSchema, stateOf } from './share'
import { digestOfToken, isToken, newToken } from './token'

/**
 * Opens the links of a log's file, beside the log itself. Several processes may have them open at once.
 *
 * @param opening the file; `busyTimeoutMs` (≥ 0, 5000 where left out): how long to wait for another writer, in ms
 * @param now the clock by which links expire
 */
export async function openShares(
  opening: Opening,
  now: () => Date = () => new Date(),
): Promise<Outcome<ShareStore>> {
  return attempt(opening.file, () => sharesIn(openDatabase(opening), opening.file, now))
}

function sharesIn(database: Database.Database, file: string, now: () => Date): ShareStore {
  const shares = new Shares(database)
  const whileOpen = <T>(work: () => T): Outcome<T> =>
    database.open ? attempt(file, work) : refused({ reason: 'closed' })
  const moment = (): string => now().toISOString()
  const add = database.transaction((share: Share, token: string) => shares.add(share, token))
  const revoke = database.transaction((id: string, at: string) => shares.revoke(id, at))
  return {
    async create(jobId, asked) {
      const read = z.strictObject({ jobId: idSchema, ...newShareSchema.shape }).safeParse({ ...asked, jobId })
      if (!read.success) return invalid(read.error)
      const token = newToken()
      const share = { id: newId(), ...read.data, createdAt: moment(), revokedAt: null }
      return whileOpen(() => ({ share: add.immediate(share, token), token }))
    },
    list: async (jobId) => whileOpen(() => shares.of(jobId)),
    revoke: async (id) => whileOpen(() => revoke.immediate(id, moment())),
    open: async (token) =>
      whileOpen(() => {
        const share = isToken(token) ? shares.by(digestOfToken(token)) : undefined
        return share && stateOf(share, moment()) === 'open' ? share : null
      }),
    close: async () => {
      database.close()
    },
  }
}

const found = `
  select share.*, share_revocation.at as revoked_at, share_revocation.digest as revocation_digest
  from share left join share_revocation on share_revocation.share_id = share.id`

/** The statements on the tables, and what they mean. Throws `Stop` where something is refused. */
class Shares {
  readonly #database: Database.Database

  constructor(database: Database.Database) {
    this.#database = database
  }

  #one(where: string, key: string): Share | undefined {
    const row = this.#database.prepare(`${found} where ${where} = ?`).get(key)
    return row === undefined ? undefined : readRow(row)
  }

  by(tokenDigest: string): Share | undefined {
    return this.#one('share.token_digest', tokenDigest)
  }

  of(jobId: string): Share[] {
    const newestFirst = 'where share.job_id = ? order by share.created_at desc, share.id desc'
    return this.#database.prepare(`${found} ${newestFirst}`).all(jobId).map(readRow)
  }

  add(share: Share, token: string): Share {
    const { id, jobId } = share
    if (this.#one('share.id', id)) throw new Stop(refused({ reason: 'conflict', kind: 'share', id }))
    const job = this.#database.prepare('select 1 from job where id = ?').get(jobId)
    if (job === undefined) throw new Stop(refused({ reason: 'not-found', kind: 'job', id: jobId }))
    const row = {
      id,
      job_id: jobId,
      token_digest: digestOfToken(token),
      created_at: share.createdAt,
      expires_at: share.expiresAt,
    }
    this.#database
      .prepare(
        `insert into share (id, job_id, token_digest, created_at, expires_at, digest)
        values (:id, :job_id, :token_digest, :created_at, :expires_at, :digest)`,
      )
      .run({ ...row, digest: digestOf(row) })
    return share
  }

  revoke(id: string, at: string): Share {
    const share = this.#one('share.id', id)
    if (!share) throw new Stop(refused({ reason: 'not-found', kind: 'share', id }))
    if (share.revokedAt !== null) return share
    this.#addRevocation(id, at)
    return { ...share, revokedAt: at }
  }

  /** Reads no link, so that a damaged one keeps no backup from being restored. */
  revokeAll(at: string): void {
    const standing = 'select id from share where id not in (select share_id from share_revocation)'
    for (const id of this.#database.prepare<[], string>(standing).pluck().all()) this.#addRevocation(id, at)
  }

  #addRevocation(id: string, at: string): void {
    const row = { share_id: id, at }
    this.#database
      .prepare('insert into share_revocation (share_id, at, digest) values (:share_id, :at, :digest)')
      .run({ ...row, digest: digestOf(row) })
  }
}

const shareRow = z.looseObject({
  id: z.string(),
  revoked_at: z.nullable(z.string()),
  revocation_digest: z.nullable(z.string()),
})

/** Reads a link and its revocation, each by its digest and both by their schema. */
function readRow(row: unknown): Share {
  const { revoked_at: at, revocation_digest: digest, ...share } = shareRow.parse(row)
  const kept = digestedRow.safeParse(share)
  const revoked = at === null ? undefined : digestedRow.safeParse({ share_id: share.id, at, digest })
  if (kept.success && revoked?.success !== false) {
    const { job_id: jobId, created_at: createdAt, expires_at: expiresAt } = kept.data
    const read = shareSchema.safeParse({ id: share.id, jobId, createdAt, expiresAt, revokedAt: at })
    if (read.success) return read.data
  }
  throw new Stop(refused({ reason: 'corrupt', detail: `share ${share.id}: not as it was written` }))
}

/**
 * Takes back every link in a log's file. A backup knows nothing of what was revoked after it was made, so that a
 * restored one must open none.
 *
 * @param file a log's file that nobody else has open
 * @param at UTC to the millisecond
 * @throws Stop, or what SQLite throws
 */
export function revokeAll(file: string, at: string): void {
  const database = openDatabase({ file })
  try {
    const shares = new Shares(database)
    database.transaction(() => shares.revokeAll(at))()
  } finally {
    database.close()
  }
}
