import { createHash } from 'node:crypto'
import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openDeviceBook } from '../../src/doors/device-book'
import { isCode, newCode } from '../../src/doors/pairing-code'
import { keptSecret } from '../../src/doors/secret'
import { newId } from '../../src/jobs/log/identifier'
import { openJobLog } from '../../src/jobs/log/sqlite-job-log'
import { temporaryFolder } from '../jobs/log/built'

const folder = temporaryFolder()
let count = 0
const place = (): string => {
  count += 1
  return join(folder, String(count))
}

const at = (day: string, time = '10:00:00') => new Date(`${day}T${time}.000Z`)
const now = at('2026-03-01')

const paired = (where: string, name = 'Phone') => {
  const book = openDeviceBook(where)
  const let_ = book.pair(book.newCode(now), name, now)
  if (!let_) throw new Error('not paired')
  return { book, ...let_ }
}

describe('a pairing code', () => {
  it('is read however it is typed', () => {
    const { code, kept } = newCode()
    const loose = code.toLowerCase().replace('-', ' ').replaceAll('0', 'o').replaceAll('1', 'l')
    expect([code, loose, code.replace('-', ''), ` ${code} `].map((typed) => isCode(typed, kept))).toEqual(
      Array(4).fill(true),
    )
  })

  it('has 40 bits: each of 32 letters comes at each of 8 places', () => {
    const seen = Array.from({ length: 8 }, () => new Set<string>())
    for (let round = 0; round < 2000; round += 1) {
      const letters = newCode().code.replace('-', '')
      for (const [place, letter] of [...letters].entries()) seen[place]?.add(letter)
    }
    expect(seen.map((letters) => letters.size)).toEqual(Array(8).fill(32))
  })

  it('is not found by anything else', () => {
    const { kept } = newCode()
    fc.assert(
      fc.property(fc.string({ maxLength: 64 }), (typed) => {
        expect(isCode(typed, kept)).toBe(false)
      }),
      { numRuns: 1000 },
    )
  })
})

describe('the list of devices', () => {
  it('lets a device in for the code, and knows it by its token alone', () => {
    const { book, device, token } = paired(place())
    expect(book.deviceOf(token, now)).toEqual(device)
    expect(book.deviceOf(`${token}x`, now)).toBeUndefined()
    expect(book.deviceOf(device.id, now)).toBeUndefined()
    expect(book.deviceOf('', now)).toBeUndefined()
    expect(Buffer.from(token, 'base64url')).toHaveLength(32)
    book.close()
  })

  it('takes a code once, in time, and only the newest', () => {
    const book = openDeviceBook(place())
    expect(book.pair('', 'x', now)).toBeUndefined()
    const old = book.newCode(now)
    const code = book.newCode(now)
    expect(book.pair(old, 'x', now)).toBeUndefined()
    expect(book.pair(code, 'x', at('2026-03-01', '10:10:00'))).toBeUndefined()
    expect(book.pair(code, 'x', at('2026-03-01', '10:09:59'))?.device.name).toBe('x')
    expect(book.pair(code, 'x', now)).toBeUndefined()
    book.close()
  })

  it('takes one code once, of two processes that give it at once', () => {
    const where = place()
    const [one, other] = [openDeviceBook(where), openDeviceBook(where)]
    const code = one.newCode(now)
    const both = [other.pair(code, 'a', now), one.pair(code, 'b', now)]
    expect(both.map((each) => each?.device.name)).toEqual(['a', undefined])
    one.close()
    other.close()
  })

  it('shuts a device out at once, for every process', () => {
    const where = place()
    const { book, device, token } = paired(where)
    const other = openDeviceBook(where)
    expect(other.revoke(device.id)).toBe(true)
    expect(other.revoke(device.id)).toBe(false)
    expect(book.deviceOf(token, now)).toBeUndefined()
    expect(book.list(now)).toEqual([])
    expect([book.isShutOut(token), book.isShutOut(`${token}x`)]).toEqual([true, false])
    book.close()
    other.close()
  })

  it('shuts out a device that was not used for 30 days, and any after a year', () => {
    const { book, token } = paired(place())
    expect(book.deviceOf(token, at('2026-03-31'))?.usedOn).toBe('2026-03-01')
    expect(book.deviceOf(token, at('2026-04-29'))?.usedOn).toBe('2026-03-31')
    expect(book.deviceOf(token, at('2026-05-30'))).toBeUndefined()
    expect(book.list(at('2026-05-30'))).toEqual([])
    // It was only not used for long: what it keeps may stay on it.
    expect(book.isShutOut(token)).toBe(false)
    let day = at('2026-04-29')
    let days = 59
    while (book.deviceOf(token, day)) {
      day = new Date(day.getTime() + 20 * 86_400_000)
      days += 20
    }
    expect(days).toBeGreaterThan(365)
    expect(days).toBeLessThanOrEqual(385)
    book.close()
  })

  it('knows for as long as its cookie lasts whom somebody shut out', () => {
    const { book, device, token } = paired(place())
    book.revoke(device.id)
    const pairAnother = (when: Date) => book.pair(book.newCode(when), 'Other', when)
    pairAnother(at('2027-02-28'))
    expect(book.isShutOut(token)).toBe(true)
    pairAnother(at('2027-03-03'))
    expect(book.isShutOut(token)).toBe(false)
    book.close()
  })

  it('goes on with the list that an older version wrote', () => {
    const where = place()
    mkdirSync(where)
    const older = new Database(join(where, 'doors.sqlite'))
    older.exec(readFileSync('src/doors/migrations/0001-doors.sql', 'utf8'))
    older.pragma('application_id = 0x4c445253')
    older.pragma('user_version = 1')
    const token = 'a token of a test'
    const id = newId()
    older
      .prepare('insert into device values (?, ?, ?, ?, ?)')
      .run(
        id,
        'Phone',
        createHash('sha256').update(token).digest('base64url'),
        now.toISOString(),
        '2026-03-01',
      )
    older.close()
    const book = openDeviceBook(where)
    expect(book.deviceOf(token, now)?.name).toBe('Phone')
    book.revoke(id)
    expect([book.deviceOf(token, now), book.isShutOut(token)]).toEqual([undefined, true])
    book.close()
  })

  it('keeps neither a code nor a token, and nothing that others may read', () => {
    const where = place()
    keptSecret(where)
    const { book, token } = paired(where)
    const code = book.newCode(now)
    for (const name of readdirSync(where)) {
      expect([name, (statSync(join(where, name)).mode & 0o777).toString(8)]).toEqual([name, '600'])
      const bytes = readFileSync(join(where, name)).toString('latin1')
      expect(bytes).not.toContain(token)
      expect(bytes).not.toContain(code)
      expect(bytes).not.toContain(code.replace('-', ''))
    }
    book.close()
  })

  it('says in a sentence where its file is damaged, or is something else', async () => {
    const broken = place()
    openDeviceBook(broken).close()
    writeFileSync(join(broken, 'doors.sqlite'), 'not a database')
    expect(() => openDeviceBook(broken)).toThrow(/cannot be used \(corrupt\)\. It was not changed/)
    expect(readFileSync(join(broken, 'doors.sqlite'), 'utf8')).toBe('not a database')
    const other = place()
    const log = await openJobLog({ file: join(other, 'doors.sqlite') })
    if (log.ok) await log.value.close()
    expect(() => openDeviceBook(other)).toThrow(/cannot be used \(corrupt\)/)
  })
})

describe('the secret', () => {
  it('is made once, for the owner alone', () => {
    const where = place()
    const secret = keptSecret(where)
    expect(keptSecret(where)).toBe(secret)
    expect(Buffer.from(secret, 'base64url')).toHaveLength(32)
    expect(keptSecret(place())).not.toBe(secret)
    expect(statSync(join(where, 'doors.key')).mode & 0o777).toBe(0o600)
  })

  it('is not used once others could read it, nor where it is none', async () => {
    const where = place()
    keptSecret(where)
    const { chmod } = await import('node:fs/promises')
    await chmod(join(where, 'doors.key'), 0o640)
    expect(() => keptSecret(where)).toThrow(/Others can read .*doors\.key/)
    await chmod(join(where, 'doors.key'), 0o600)
    writeFileSync(join(where, 'doors.key'), 'short')
    expect(() => keptSecret(where)).toThrow(/does not hold a secret/)
  })
})
