import { join } from 'node:path'
import fc from 'fast-check'
import { openDB } from 'idb'
import { beforeAll, describe, expect, it } from 'vitest'
import { openPhoneLog, type PhoneLog } from '../../../src/jobs/log/idb-job-log'
import { writeSchema } from '../../../src/jobs/log/job'
import type { JobLog } from '../../../src/jobs/log/job-log'
import { needsOf } from '../../../src/jobs/log/needs'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { fetchJob, fetchNewest } from '../../../src/jobs/sync/fetch-jobs'
import { heeding } from '../../../src/jobs/sync/heeding'
import { shutOutReason } from '../../../src/jobs/sync/protocol'
import { type AskServer, type Reached, sendWaiting } from '../../../src/jobs/sync/send'
import { browserStore } from '../log/browser-store'
import { temporaryFolder } from '../log/built'
import { entry, fact, historyOf, job, minute, value, withdrawal } from '../log/samples'
import { lineTo } from './lines'

browserStore()

const folder = temporaryFolder()
let server: JobLog
let phones = 0
beforeAll(async () => {
  server = value(await openJobLog({ file: join(folder, 'server.sqlite') }))
})

const newPhone = async (): Promise<{ phone: PhoneLog; name: string }> => {
  const name = `shut out ${phones++}`
  return { phone: value(await openPhoneLog(name)), name }
}

const refusing =
  (body: object, status = 401): AskServer =>
  async () =>
    Response.json(body, { status })

/** The server to a device that it shut out. */
const shutOut = refusing({ title: 'This device was shut out.', status: 401, reason: shutOutReason })

const sending = (phone: PhoneLog, line: AskServer): Promise<Reached> =>
  heeding(phone, line, () => sendWaiting(phone.outbox, line))

/** All that the database has in some of its stores. */
async function raw(name: string, ...stores: string[]): Promise<unknown[]> {
  const database = await openDB(name)
  const found = await Promise.all(stores.map((store) => database.getAll(store)))
  database.close()
  return found.flat()
}

describe('a phone that was shut out', () => {
  it('keeps what it did not send, with what that needs, and nothing else of the shop', async () => {
    const { phone, name } = await newPhone()
    const [theirs, ours] = [job({ name: 'Theirs' }), job({ name: 'Ours' })]
    const asked = entry(ours.id, { at: minute(1) })
    const learned = fact(ours.id, { at: minute(2), provenance: { from: 'answer', entryId: asked.id } })
    for (const begun of [theirs, ours]) value(await phone.log.createJob(begun))
    value(await phone.log.addEntry(entry(theirs.id)))
    value(await phone.log.addEntry(asked))
    value(await phone.log.addFact(learned))
    value(await phone.log.addFact(fact(ours.id, { field: 'load' })))
    expect(await sending(phone, lineTo(server))).toEqual({ reached: 'all' })
    value(await phone.log.withdrawFact(withdrawal(ours.id, learned.id, { at: minute(3) })))

    expect(await sending(phone, shutOut)).toEqual({ reached: 'shut-out' })
    expect(value(await phone.shop.isShutOut())).toBe(true)
    expect(value(await phone.log.listJobs()).jobs.map((each) => each.name)).toEqual(['Ours'])
    const file = value(await phone.log.exportJob(ours.id))
    expect([file.entries, file.facts, file.withdrawals].map((each) => each.length)).toEqual([1, 1, 1])
    expect(value(await phone.shop.unsent())).toEqual([{ id: ours.id, name: 'Ours', unsent: 1 }])
    expect(JSON.stringify(await raw(name, 'record', 'job_now', 'clash'))).not.toContain(theirs.id)
  })

  it('sends nothing and takes nothing in, until it is let in again; then all goes on', async () => {
    const { phone } = await newPhone()
    const begun = job({ createdAt: minute(900) })
    value(await phone.log.createJob(begun))
    expect(await sending(phone, lineTo(server))).toEqual({ reached: 'all' })
    expect(await heeding(phone, shutOut, () => fetchNewest(phone, shutOut))).toEqual({ reached: 'shut-out' })
    value(await phone.log.createJob(job({ name: 'Made since' })))
    const sent: unknown[] = []
    const stillOut: AskServer = (path, body) => {
      if (body !== undefined) sent.push(body)
      return shutOut(path, body)
    }
    expect(await sending(phone, stillOut)).toEqual({ reached: 'shut-out' })
    expect(sent).toEqual([])
    // What was on its way when the word came is not taken in either.
    expect(await fetchJob(phone, begun.id, lineTo(server))).toMatchObject({ reached: 'stopped' })
    expect((await phone.log.exportJob(begun.id)).ok).toBe(false)

    expect(await sending(phone, lineTo(server))).toEqual({ reached: 'all' })
    expect(await fetchNewest(phone, lineTo(server))).toEqual({ reached: 'all' })
    expect(await phone.log.exportJob(begun.id)).toEqual(await server.exportJob(begun.id))
    expect(JSON.stringify(value(await server.listJobs({ limit: 500 })))).toContain('Made since')
    expect(value(await phone.shop.isShutOut())).toBe(false)
  })

  it.each([
    ['that is not paired', refusing({ title: 'This device is not paired with this server.', status: 401 })],
    ['of a network with a sign-in page', async () => new Response('<h1>Sign in</h1>', { status: 401 })],
    ['that says so with another status', refusing({ title: 'x', reason: shutOutReason }, 200)],
    ['that is gone', () => Promise.reject(new TypeError('Failed to fetch'))],
  ] satisfies [string, AskServer][])('is not one %s', async (_, line) => {
    const { phone } = await newPhone()
    const begun = job()
    value(await phone.log.createJob(begun))
    expect(await sending(phone, lineTo(server))).toEqual({ reached: 'all' })
    value(await phone.log.addEntry(entry(begun.id)))
    for (const exchange of [() => sendWaiting(phone.outbox, line), () => fetchNewest(phone, line)]) {
      expect((await heeding(phone, line, exchange)).reached).toMatch(/^(no-signal|stopped)$/)
    }
    expect(value(await phone.shop.isShutOut())).toBe(false)
    expect(value(await phone.log.readJob(begun.id)).thread).toHaveLength(1)
  })

  it('lets what was not sent be discarded, job by job', async () => {
    const { phone, name } = await newPhone()
    const [one, other] = [job(), job()]
    value(await phone.log.createJob(one))
    value(await phone.log.createJob(other))
    await sending(phone, shutOut)
    expect(value(await phone.shop.unsent())).toHaveLength(2)
    value(await phone.shop.discard(one.id))
    expect(value(await phone.shop.unsent()).map(({ id }) => id)).toEqual([other.id])
    expect(JSON.stringify(await raw(name, 'record', 'job_now', 'waiting', 'refused'))).not.toContain(one.id)
  })

  it('has of any job just what another log can take in, wherever the sending was cut', async () => {
    const steps = fc.array(fc.nat(99), { minLength: 1, maxLength: 12 })
    await fc.assert(
      fc.asyncProperty(steps, fc.nat(12), async (history, cut) => {
        const { phone, name } = await newPhone()
        const writes = historyOf(history).map((write) => writeSchema.parse(write))
        for (const write of writes.slice(0, cut)) value(await phone.log.write([write]))
        await sendWaiting(phone.outbox, lineTo(server))
        for (const write of writes.slice(cut)) value(await phone.log.write([write]))
        await heeding(phone, shutOut, () => fetchNewest(phone, shutOut))
        const jobs = value(await phone.shop.unsent())
        expect(jobs).toHaveLength(cut < writes.length ? 1 : 0)
        const needed = new Set(writes.slice(cut).map(({ record }) => record.id))
        // Whatever a record needs stands before it.
        for (const write of [...writes].reverse()) {
          if (needed.has(write.record.id)) for (const [, id] of needsOf(write)) needed.add(id)
        }
        expect(await raw(name, 'record')).toHaveLength(needed.size)
        for (const { id } of jobs) {
          const another = value(await openPhoneLog(`${name} handed on`))
          const { added } = value(await another.log.importJob(value(await phone.log.exportJob(id))))
          expect(added).toBe(needed.size)
          await another.log.close()
        }
        await phone.log.close()
      }),
      { numRuns: 100 },
    )
  })
})
