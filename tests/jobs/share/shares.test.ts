import { execFileSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import Database from 'better-sqlite3'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { backUp, restore } from '../../../src/jobs/log/backup'
import { newId } from '../../../src/jobs/log/identifier'
import { portableText } from '../../../src/jobs/log/portable'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { stateOf } from '../../../src/jobs/share/share'
import { openShares } from '../../../src/jobs/share/sqlite-shares'
import { newToken } from '../../../src/jobs/share/token'
import { built, temporaryFolder } from '../log/built'
import { job, minute, value } from '../log/samples'

const folder = temporaryFolder()
let homes = 0

/** A log with one job and its links, with a clock that the test sets. */
async function home() {
  const file = join(folder, `${homes++}`, 'jobs.sqlite')
  const clock = { at: minute(0) }
  const log = value(await openJobLog({ file }))
  const shares = value(await openShares({ file }, () => new Date(clock.at)))
  const { id } = value(await log.createJob(job()))
  const close = async () => {
    await shares.close()
    await log.close()
  }
  return { file, clock, log, shares, jobId: id, close }
}

/** Everything that lies beside a log's file and in it, as bytes. */
const bytesBeside = (file: string): Buffer =>
  Buffer.concat(readdirSync(dirname(file)).map((name) => readFileSync(join(dirname(file), name))))

describe('a link to a job', () => {
  it('opens the job it was made for, until its time is over', async () => {
    const { clock, shares, jobId, close } = await home()
    const { share, token } = value(await shares.create(jobId, { expiresAt: minute(60) }))
    expect(share).toMatchObject({ jobId, createdAt: minute(0), expiresAt: minute(60), revokedAt: null })
    clock.at = minute(59)
    expect(value(await shares.open(token))).toEqual(share)
    clock.at = minute(60)
    expect(value(await shares.open(token))).toBeNull()
    expect(stateOf(share, clock.at)).toBe('expired')
    await close()
  })

  it('opens nothing once it is revoked, and stays so', async () => {
    const { file, clock, shares, jobId, close } = await home()
    const { share, token } = value(await shares.create(jobId, { expiresAt: minute(60) }))
    clock.at = minute(5)
    expect(value(await shares.revoke(share.id)).revokedAt).toBe(minute(5))
    clock.at = minute(9)
    expect(value(await shares.revoke(share.id)).revokedAt).toBe(minute(5))
    expect(value(await shares.open(token))).toBeNull()
    expect(value(await shares.list(jobId))).toEqual([{ ...share, revokedAt: minute(5) }])
    await close()
    const again = value(await openShares({ file }, () => new Date(minute(10))))
    expect(value(await again.open(token))).toBeNull()
    const database = new Database(file)
    for (const change of [
      'delete from share_revocation',
      'update share_revocation set at = null',
      `update share set expires_at = '${minute(99)}'`,
      'delete from share',
    ]) {
      expect(() => database.exec(change)).toThrow(/a record is never/)
    }
    database.close()
    await again.close()
  })

  it('is listed with the others of its job alone, the newest first', async () => {
    const { clock, log, shares, jobId, close } = await home()
    const other = value(await log.createJob(job()))
    const made = []
    for (const at of [1, 2, 3]) {
      clock.at = minute(at)
      made.unshift(value(await shares.create(jobId, { expiresAt: minute(60 + at) })).share)
    }
    value(await shares.create(other.id, { expiresAt: minute(60) }))
    expect(value(await shares.list(jobId))).toEqual(made)
    await close()
  })

  it('is made once under one id, and only for a job that is there', async () => {
    const { shares, jobId, close } = await home()
    const asked = { id: newId(), expiresAt: minute(60) }
    value(await shares.create(jobId, asked))
    expect(await shares.create(jobId, asked)).toMatchObject({ reason: 'conflict', kind: 'share' })
    expect(await shares.create(newId(), { expiresAt: minute(60) })).toMatchObject({ reason: 'not-found' })
    expect(await shares.create('x', { expiresAt: minute(60) })).toMatchObject({ reason: 'invalid' })
    expect(await shares.create(jobId, { expiresAt: 'tomorrow' })).toMatchObject({ reason: 'invalid' })
    expect(await shares.revoke(newId())).toMatchObject({ reason: 'not-found', kind: 'share' })
    await close()
    expect(await shares.list(jobId)).toMatchObject({ reason: 'closed' })
  })
})

describe('the token of a link', () => {
  it('has 160 bits that do not come twice, in letters that an address takes as they are', () => {
    const tokens = Array.from({ length: 1000 }, newToken)
    expect(new Set(tokens).size).toBe(1000)
    for (const token of tokens) {
      expect(Buffer.from(token, 'base64url')).toHaveLength(20)
      expect(encodeURIComponent(token)).toBe(token)
    }
    // Every bit is set in about half of them: 500 of 1000, with 16 for one standard deviation.
    const ones = Array.from({ length: 160 }, () => 0)
    for (const token of tokens) {
      const bytes = Buffer.from(token, 'base64url')
      for (let bit = 0; bit < 160; bit += 1)
        ones[bit] = (ones[bit] ?? 0) + (((bytes[bit >> 3] ?? 0) >> (bit & 7)) & 1)
    }
    for (const count of ones) expect(Math.abs(count - 500)).toBeLessThan(100)
  })

  it('opens nothing with a letter changed, cut off or put beside', async () => {
    const { shares, jobId, close } = await home()
    const { token } = value(await shares.create(jobId, { expiresAt: minute(60) }))
    const changed = fc.oneof(
      fc
        .tuple(fc.nat(26), fc.string({ unit: 'grapheme', minLength: 1, maxLength: 1 }))
        .map(([at, letter]) => {
          return token.slice(0, at) + letter + token.slice(at + 1)
        }),
      fc.nat(26).map((length) => token.slice(0, length)),
      fc.string({ unit: 'binary', minLength: 1, maxLength: 40 }).map((more) => token + more),
      fc.string({ unit: 'binary', maxLength: 60 }),
      fc.constantFrom(token.toLowerCase(), `${token} `, ` ${token}`, `${token}=`, "' or 1=1 --", '%'),
    )
    await fc.assert(
      fc.asyncProperty(changed, async (tried) => {
        fc.pre(tried !== token)
        expect(value(await shares.open(tried))).toBeNull()
      }),
      { numRuns: 1000 },
    )
    await close()
  })

  it('is nowhere on the disk, in no backup, and in no file of the job', async () => {
    const { file, log, shares, jobId, close } = await home()
    const { share, token } = value(await shares.create(jobId, { expiresAt: minute(60) }))
    const backup = join(folder, 'shared-backup.sqlite')
    value(await backUp(file, backup))
    const text = portableText(value(await log.exportJob(jobId)))
    const secret = [token, Buffer.from(token, 'base64url').toString('hex')]
    for (const each of [token, Buffer.from(token, 'base64url')]) {
      expect(bytesBeside(file).includes(each)).toBe(false)
      expect(readFileSync(backup).includes(each)).toBe(false)
    }
    for (const each of [...secret, share.id, 'share', 'token']) expect(text).not.toContain(each)
    await close()
    expect(bytesBeside(file).includes(token)).toBe(false)
  })

  it('is told apart from an expired, a revoked and an unknown one by nothing', async () => {
    const { clock, shares, jobId, close } = await home()
    const expired = value(await shares.create(jobId, { expiresAt: minute(1) }))
    const revoked = value(await shares.create(jobId, { expiresAt: minute(60) }))
    value(await shares.revoke(revoked.share.id))
    clock.at = minute(2)
    const said = [expired.token, revoked.token, newToken(), 'x'].map((token) => shares.open(token))
    expect(new Set((await Promise.all(said)).map((each) => JSON.stringify(each))).size).toBe(1)
    await close()
  })
})

describe('a job that was shared', () => {
  it('is shared with nobody where its file is brought in', async () => {
    const { log, shares, jobId, close } = await home()
    const { token } = value(await shares.create(jobId, { expiresAt: minute(60) }))
    const file: unknown = JSON.parse(portableText(value(await log.exportJob(jobId))))
    const elsewhere = await home()
    value(await elsewhere.log.importJob(file))
    expect(value(await elsewhere.shares.list(jobId))).toEqual([])
    expect(value(await elsewhere.shares.open(token))).toBeNull()
    await elsewhere.close()
    await close()
  })

  it('has no open link after a backup is restored: one may have been revoked since', async () => {
    const { file, shares, jobId, close } = await home()
    const gone = value(await shares.create(jobId, { expiresAt: minute(60) }))
    const standing = value(await shares.create(jobId, { expiresAt: minute(60) }))
    const backup = join(folder, 'before-revoking.sqlite')
    value(await backUp(file, backup))
    value(await shares.revoke(gone.share.id))
    await close()
    value(await restore(backup, file))
    const restored = value(await openShares({ file }, () => new Date(minute(5))))
    for (const { token } of [gone, standing]) expect(value(await restored.open(token))).toBeNull()
    for (const { revokedAt } of value(await restored.list(jobId))) expect(revokedAt).not.toBeNull()
    const anew = value(await restored.create(jobId, { expiresAt: minute(60) }))
    expect(value(await restored.open(anew.token))?.jobId).toBe(jobId)
    await restored.close()
  })
})

describe('several processes', () => {
  it('open and see revoked what the others made', async () => {
    const opener = await built('../share/opener.ts', folder)
    const { file, shares, jobId, close } = await home()
    const run = (...deed: string[]): string =>
      execFileSync(process.execPath, [opener, file, ...deed], { encoding: 'utf8' }).trim()
    const token = run('create', jobId)
    const share = value(await shares.open(token))
    expect(share?.jobId).toBe(jobId)
    expect(run('open', token)).toBe(jobId)
    value(await shares.revoke(share?.id ?? ''))
    expect(run('open', token)).toBe('nothing')
    expect(run('create', newId())).toMatch(/no job/)
    await close()
  })
})

describe('several connections', () => {
  it('see at once what another made and revoked', async () => {
    const { file, shares, jobId, close } = await home()
    const other = value(await openShares({ file }, () => new Date(minute(1))))
    const { share, token } = value(await shares.create(jobId, { expiresAt: minute(60) }))
    expect(value(await other.open(token))).toEqual(share)
    value(await other.revoke(share.id))
    expect(value(await shares.open(token))).toBeNull()
    await other.close()
    await close()
  })

  it('make many links at the same time and lose none', async () => {
    const { file, jobId, shares, close } = await home()
    const others = await Promise.all([1, 2, 3].map(async () => value(await openShares({ file }))))
    const made = await Promise.all(
      others.flatMap((each) =>
        Array.from({ length: 20 }, () => each.create(jobId, { expiresAt: '2030-01-01T00:00:00.000Z' })),
      ),
    )
    const tokens = made.map((each) => value(each).token)
    expect(new Set(tokens).size).toBe(60)
    expect(value(await shares.list(jobId))).toHaveLength(60)
    await Promise.all(others.map((each) => each.close()))
    await close()
  })
})

describe('a damaged link', () => {
  it('is refused as damaged, not opened longer', async () => {
    const { file, shares, jobId, close } = await home()
    const { token } = value(await shares.create(jobId, { expiresAt: minute(60) }))
    const database = new Database(file)
    database.exec(`drop trigger share_is_kept; update share set expires_at = '2036-03-02T08:00:00.000Z'`)
    database.close()
    expect(await shares.open(token)).toMatchObject({ ok: false, reason: 'corrupt' })
    await close()
  })
})

describe('a log of the version before', () => {
  it('gets its links with the next opening, its jobs as they were', async () => {
    const { file, log, jobId, close } = await home()
    const before = value(await log.exportJob(jobId))
    await close()
    const database = new Database(file)
    database.exec('drop table share_revocation; drop table share; pragma user_version = 1')
    database.close()
    const shares = value(await openShares({ file }))
    value(await shares.create(jobId, { expiresAt: minute(60) }))
    const reopened = value(await openJobLog({ file }))
    expect(value(await reopened.exportJob(jobId))).toEqual(before)
    await reopened.close()
    await shares.close()
  })
})
