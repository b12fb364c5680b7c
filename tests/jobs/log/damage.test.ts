import { randomBytes } from 'node:crypto'
import { copyFileSync, existsSync, readFileSync, statSync, truncateSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../../src/jobs/log/identifier'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { temporaryFolder } from './built'
import { change, entry, fact, job, longAnswer, value, withdrawal } from './samples'

const pageBytes = 4096

const folder = temporaryFolder()
let sound = ''
/** What is in the sound log, as it should be read. */
const jobs: { id: string; read: unknown }[] = []

beforeAll(async () => {
  sound = join(folder, 'sound.sqlite')
  const log = value(await openJobLog({ file: sound }))
  for (let count = 0; count < 8; count += 1) {
    const begun = job()
    value(await log.createJob(begun))
    for (let line = 0; line < 5; line += 1) {
      value(await log.addEntry(entry(begun.id, { answer: longAnswer(`${count}-${line}`) })))
      value(await log.addFact(fact(begun.id, { value: `${line} V` })))
    }
    const mistaken = fact(begun.id)
    value(await log.addFact(mistaken))
    value(await log.withdrawFact(withdrawal(begun.id, mistaken.id)))
    value(await log.changeJob(change(begun.id, { name: `Bench ${count}` })))
    jobs.push({ id: begun.id, read: value(await log.readJob(begun.id)) })
  }
  await log.close()
})

/** A copy of the sound log, damaged in some way, in a place of its own. */
function damaged(damage: (file: string) => void): string {
  const file = join(folder, `${newId()}.sqlite`)
  copyFileSync(sound, file)
  damage(file)
  return file
}

function overwrite(file: string, at: number, bytes: Uint8Array): void {
  const content = readFileSync(file)
  content.set(bytes, at)
  writeFileSync(file, content)
}

async function expectRefused(file: string): Promise<void> {
  const before = readFileSync(file)
  const opened = await openJobLog({ file })
  expect(opened).toMatchObject({ ok: false, reason: 'corrupt' })
  if (!opened.ok) expect(opened.message).toContain('npm run restore')
  expect(readFileSync(file).equals(before)).toBe(true)
}

describe('a damaged log is refused, told how to restore, and left byte for byte', () => {
  it('where any one page is random bytes', async () => {
    const pages = statSync(sound).size / pageBytes
    expect(pages).toBeGreaterThan(50)
    for (let page = 0; page < pages; page += 1) {
      await expectRefused(damaged((file) => overwrite(file, page * pageBytes, randomBytes(pageBytes))))
    }
  })

  it('where it was cut off', async () => {
    const { size } = statSync(sound)
    for (const bytes of [0, 1, 50, 100, pageBytes - 1, pageBytes, size / 2, size - pageBytes, size - 1]) {
      await expectRefused(damaged((file) => truncateSync(file, Math.floor(bytes))))
    }
  })

  it('where it is no database, or another program’s', async () => {
    await expectRefused(damaged((file) => writeFileSync(file, 'A list of jobs, kept by hand.\n'.repeat(400))))
    await expectRefused(damaged((file) => writeFileSync(file, randomBytes(3 * pageBytes))))
    const other = join(folder, 'other-program.sqlite')
    const database = new Database(other)
    database.exec('create table job (id text)')
    database.close()
    await expectRefused(other)
  })

  it('where its latest writes are there and the rest is gone', async () => {
    const file = join(folder, 'gone.sqlite')
    writeFileSync(`${file}-wal`, randomBytes(pageBytes))
    expect(await openJobLog({ file })).toMatchObject({ ok: false, reason: 'corrupt' })
    expect(existsSync(file)).toBe(false)
  })

  it('where it has writes in its write-ahead log as well', async () => {
    const file = join(folder, 'in-use.sqlite')
    const copy = join(folder, 'in-use-copy.sqlite')
    copyFileSync(sound, file)
    const log = value(await openJobLog({ file }))
    value(await log.createJob(job()))
    for (const ending of ['', '-wal']) copyFileSync(file + ending, copy + ending)
    await log.close()
    const wal = readFileSync(`${copy}-wal`)
    expect(wal.length).toBeGreaterThan(0)
    const page = 20
    overwrite(copy, page * pageBytes, randomBytes(pageBytes))
    await expectRefused(copy)
    expect(readFileSync(`${copy}-wal`).equals(wal)).toBe(true)
  })
})

describe('single bytes that changed', () => {
  it('are never read as something that was not written', async () => {
    const { size } = statSync(sound)
    await fc.assert(
      fc.asyncProperty(fc.nat(size - 1), fc.integer({ min: 1, max: 255 }), async (at, flipped) => {
        const file = damaged((copy) => {
          const content = readFileSync(copy)
          content[at] = (content[at] ?? 0) ^ flipped
          writeFileSync(copy, content)
        })
        const opened = await openJobLog({ file })
        if (!opened.ok) return void expect(opened.reason).toMatch(/^(corrupt|too-new)$/)
        for (const { id, read } of jobs) {
          const found = await opened.value.readJob(id)
          if (found.ok) expect(found.value).toEqual(read)
          else expect(found.reason).toMatch(/^(corrupt|not-found)$/)
        }
        await opened.value.close()
      }),
      { numRuns: 300 },
    )
  })
})

describe('a log of a newer version', () => {
  it('is refused and left byte for byte', async () => {
    const file = damaged((copy) => {
      const database = new Database(copy)
      database.pragma('user_version = 99')
      database.close()
    })
    const before = readFileSync(file)
    expect(await openJobLog({ file })).toMatchObject({ ok: false, reason: 'too-new', version: 99 })
    expect(readFileSync(file).equals(before)).toBe(true)
  })
})

describe('what was kept', () => {
  it('can be neither changed nor deleted, not even by a statement', () => {
    const database = new Database(damaged(() => {}))
    database.pragma('foreign_keys = OFF')
    for (const table of ['job', 'change', 'entry', 'fact', 'withdrawal']) {
      expect(() => database.exec(`update ${table} set id = 'x'`)).toThrow('never changed')
      expect(() => database.exec(`delete from ${table}`)).toThrow('never deleted')
    }
    database.close()
  })
})
