import { createHash, randomBytes } from 'node:crypto'
import { chmodSync, existsSync } from 'node:fs'
import { join } from 'node:path'
import type Database from 'better-sqlite3'
import * as z from 'zod/mini'
import { newId } from '../jobs/log/identifier'
import { type FileKind, openDatabase } from '../jobs/log/sqlite-file'
import { attempt } from '../jobs/log/sqlite-refusal'
import doorsMigration from './migrations/0001-doors.sql?raw'
import shutOutMigration from './migrations/0002-shut-out.sql?raw'
import { codeMinutes, isCode, newCode } from './pairing-code'
import { Unusable } from './unusable'
import { say } from './words'

/** "LDRS". */
const doorsKind: FileKind = {
  applicationId: 0x4c445253,
  name: 'a list of devices',
  migrations: [doorsMigration, shutOutMigration],
}

const dayMs = 24 * 60 * 60 * 1000

/** A device that was not used for so long has to be paired again (OWASP ASVS 4.0.3, 3.3.2). */
const mostIdleDays = 30

/** So has every device after this time; a browser would keep its cookie for 400 days at most (RFC 6265bis, 5.5). */
export const mostDays = 365

/** 256 bits: a token is never guessed, so its hash needs neither salt nor many rounds. */
const tokenBytes = 32

/** As much as is worth writing of a device's name. */
export const longestName = 40

const day = z.iso.date()

const deviceRow = z.pipe(
  z.strictObject({
    id: z.uuid(),
    name: z.string().check(z.minLength(1), z.maxLength(longestName)),
    paired_at: z.iso.datetime(),
    used_on: day,
  }),
  z.transform(({ id, name, paired_at: pairedAt, used_on: usedOn }) => ({ id, name, pairedAt, usedOn })),
)

/** A paired device: a name somebody gave it, the moment it was paired, the day it was last used. */
export type Device = z.infer<typeof deviceRow>

/** A hash is 256 bits in base64url, which comparing it in constant time takes for granted. */
const codeRow = z.strictObject({
  salt: z.string(),
  hash: z.string().check(z.regex(/^[\w-]{43}$/)),
  ends_at: z.iso.datetime(),
})
const addressRow = z.strictObject({ address: z.url() })

/**
 * The devices that are let in. All of it is kept at once, and other processes see it at once. A row that is not as it
 * should be lets nobody in.
 */
export type DeviceBook = {
  /** Makes the code that is good from now on, alone, for `codeMinutes`. */
  newCode(now: Date): string
  /** Lets a device in for a code, which is used up by it; undefined where the code is not the one that is good. */
  pair(typed: string, name: string, now: Date): { device: Device; token: string } | undefined
  /** The device that has this token; undefined where there is none, or not any more. */
  deviceOf(token: string, now: Date): Device | undefined
  /** From the one paired last. */
  list(now: Date): Device[]
  /** Shuts a device out for good; false where there is none with this id. */
  revoke(id: string): boolean
  /** Whether somebody shut out the device that has this token: not one that was never let in, or was idle for long. */
  isShutOut(token: string): boolean
  /** Where the server is reached, for whoever shows a code. */
  address(): string | undefined
  setAddress(address: string): void
  close(): void
}

/**
 * Opens the list of devices, `doors.sqlite` in the data folder, which is made where it is not there (mode 600).
 *
 * @throws Unusable where the file is damaged or cannot be had
 */
export function openDeviceBook(folder: string): DeviceBook {
  const file = join(folder, 'doors.sqlite')
  const opened = attempt(file, () => openDatabase({ file }, doorsKind))
  if (!opened.ok) throw new Unusable(say('start.book', { file, why: opened.reason }))
  const database = opened.value
  for (const ending of ['', '-wal', '-shm']) {
    if (existsSync(file + ending)) chmodSync(file + ending, 0o600)
  }
  return bookIn(database, file)
}

const hashOf = (token: string): string => createHash('sha256').update(token).digest('base64url')

const dayOf = (moment: Date): string => moment.toISOString().slice(0, 10)

const daysBefore = (moment: Date, days: number): Date => new Date(moment.getTime() - days * dayMs)

function bookIn(database: Database.Database, file: string): DeviceBook {
  const columns = 'id, name, paired_at, used_on'
  // What has ended is not in the list, whether or not anybody has cleared it away.
  const good = 'used_on >= :idleSince and paired_at >= :pairedSince'
  const since = (now: Date) => ({
    idleSince: dayOf(daysBefore(now, mostIdleDays)),
    pairedSince: daysBefore(now, mostDays).toISOString(),
  })
  const byToken = database.prepare(`select ${columns} from device where token_hash = :hash and ${good}`)
  const all = database.prepare(`select ${columns} from device where ${good} order by paired_at desc, id`)
  const use = database.prepare('update device set used_on = :usedOn where id = :id')
  const clear = database.prepare(`delete from device where not (${good})`)
  const clearShutOut = database.prepare('delete from shut_out where paired_at < :pairedSince')
  const note = database.prepare(
    'insert or ignore into shut_out (token_hash, paired_at) select token_hash, paired_at from device where id = ?',
  )
  const remove = database.prepare('delete from device where id = ?')
  const wasShutOut = database.prepare('select 1 from shut_out where token_hash = ?')
  const add = database.prepare(
    'insert into device (id, name, token_hash, paired_at, used_on) values (:id, :name, :hash, :pairedAt, :usedOn)',
  )

  const pairAtOnce = database.transaction((typed: string, name: string, now: Date) => {
    const { data: kept } = codeRow.safeParse(
      database.prepare('select salt, hash, ends_at from pairing_code').get(),
    )
    if (!kept || !isCode(typed, kept) || now.toISOString() >= kept.ends_at) return undefined
    database.prepare('delete from pairing_code').run()
    clear.run(since(now))
    clearShutOut.run({ pairedSince: since(now).pairedSince })
    const token = randomBytes(tokenBytes).toString('base64url')
    const device = { id: newId(now.getTime()), name, pairedAt: now.toISOString(), usedOn: dayOf(now) }
    add.run({ ...device, hash: hashOf(token) })
    return { device, token }
  })

  const revokeAtOnce = database.transaction((id: string) => {
    note.run(id)
    return remove.run(id).changes > 0
  })

  return {
    newCode(now) {
      const { code, kept } = newCode()
      const endsAt = new Date(now.getTime() + codeMinutes * 60_000).toISOString()
      database
        .prepare(
          'insert or replace into pairing_code (only, salt, hash, ends_at) values (1, :salt, :hash, :endsAt)',
        )
        .run({ ...kept, endsAt })
      return code
    },
    // Immediate: of two that type the same code at once, the second finds it used.
    pair: (typed, name, now) => pairAtOnce.immediate(typed, name, now),
    deviceOf(token, now) {
      const row = byToken.get({ hash: hashOf(token), ...since(now) })
      const { data: device } = deviceRow.safeParse(row)
      if (!device) return undefined
      // A full disk keeps nobody out who was let in: the day is then simply not noted.
      if (device.usedOn !== dayOf(now)) attempt(file, () => use.run({ id: device.id, usedOn: dayOf(now) }))
      return device
    },
    list: (now) => all.all(since(now)).flatMap((row) => deviceRow.safeParse(row).data ?? []),
    revoke: (id) => revokeAtOnce.immediate(id),
    isShutOut: (token) => wasShutOut.get(hashOf(token)) !== undefined,
    address: () => addressRow.safeParse(database.prepare('select address from served').get()).data?.address,
    setAddress(address) {
      database.prepare('insert or replace into served (only, address) values (1, ?)').run(address)
    },
    close: () => database.close(),
  }
}
