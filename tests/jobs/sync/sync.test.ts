import { join } from 'node:path'
import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { openPhoneLog, type PhoneLog } from '../../../src/jobs/log/idb-job-log'
import type { WriteInput } from '../../../src/jobs/log/job'
import type { JobLog } from '../../../src/jobs/log/job-log'
import { refused } from '../../../src/jobs/log/refusal'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { fetchJob, fetchNewest } from '../../../src/jobs/sync/fetch-jobs'
import { type AskServer, sendWaiting } from '../../../src/jobs/sync/send'
import { browserStore } from '../log/browser-store'
import { temporaryFolder } from '../log/built'
import { change, entry, fact, historyOf, job, minute, value, withdrawal } from '../log/samples'
import { lineTo } from './lines'

browserStore()

const folder = temporaryFolder()
let server: JobLog
let phones = 0
beforeAll(async () => {
  server = value(await openJobLog({ file: join(folder, 'server.sqlite') }))
})

const newPhone = async (): Promise<PhoneLog> => value(await openPhoneLog(`phone ${phones++}`))

/** A time after all others here: of the many jobs on the server, only those touched last are fetched. */
let latest = 600
const newest = (): string => minute(latest++)

const waiting = async (phone: PhoneLog): Promise<number> => value(await phone.outbox.counts()).waiting

/** The ids that a log has of a job, as one sorted list; a record that was there twice would be there twice. */
async function idsOf(log: JobLog, jobId: string): Promise<string[]> {
  const file = await log.exportJob(jobId)
  if (!file.ok) return []
  const { job: created, changes, entries, facts, withdrawals } = file.value
  return [created, ...changes, ...entries, ...facts, ...withdrawals].map(({ id }) => id).sort()
}

/** What a poor line does to one request. */
const troubles = [
  'none',
  'request lost',
  'answer lost',
  'sent twice',
  'delivered late',
  'gate answers',
  'sign-in page answers',
] as const
type Trouble = (typeof troubles)[number]

/** A line that does to each request what comes next in a list, and delivers late ones whenever it is asked to. */
function poorLine(log: JobLog, next: () => Trouble): { ask: AskServer; deliverLate: () => Promise<void> } {
  const good = lineTo(log)
  const late: (() => Promise<Response>)[] = []
  const ask: AskServer = async (path, body) => {
    switch (next()) {
      case 'none':
        return good(path, body)
      case 'request lost':
        throw new TypeError('Failed to fetch')
      case 'answer lost':
        await good(path, body)
        throw new TypeError('Failed to fetch')
      case 'sent twice':
        await good(path, body)
        return good(path, body)
      case 'delivered late':
        late.push(() => good(path, body))
        throw new TypeError('Failed to fetch')
      case 'gate answers':
        return new Response('<h1>Bad gateway</h1>', { status: 502 })
      case 'sign-in page answers':
        return new Response('<h1>Sign in</h1>', { status: 200, headers: { 'content-type': 'text/html' } })
    }
  }
  const deliverLate = async () => {
    for (const deliver of late.splice(0).reverse()) await deliver()
  }
  return { ask, deliverLate }
}

describe('what was done without a signal', () => {
  it('goes up once and only once, in order within a job, over any line, however often the phone is closed', async () => {
    const steps = fc.array(fc.nat(99), { minLength: 1, maxLength: 12 })
    const rounds = fc.array(
      fc.record({
        troubles: fc.array(fc.constantFrom(...troubles), { minLength: 1, maxLength: 3 }),
        closesPhone: fc.boolean(),
        deliversLate: fc.boolean(),
      }),
      { minLength: 1, maxLength: 6 },
    )
    await fc.assert(
      fc.asyncProperty(steps, rounds, async (history, attempts) => {
        const name = `phone ${phones++}`
        let phone = value(await openPhoneLog(name))
        const writes = historyOf(history)
        const order = writes.map(({ record }) => record.id)
        const jobId = order[0] ?? ''
        const pending = [...writes]
        let happening: Trouble[] = []
        const line = poorLine(server, () => happening.shift() ?? 'none')
        for (const { troubles: coming, closesPhone, deliversLate } of attempts) {
          for (const write of pending.splice(0, 3)) value(await phone.log.write([write]))
          happening = [...coming]
          await sendWaiting(phone.outbox, line.ask)
          if (deliversLate) await line.deliverLate()
          const there = await idsOf(server, jobId)
          expect(there).toEqual(order.slice(0, there.length).sort())
          if (closesPhone) {
            await phone.log.close()
            phone = value(await openPhoneLog(name))
          }
        }
        for (const write of pending) value(await phone.log.write([write]))
        expect(await sendWaiting(phone.outbox, lineTo(server))).toEqual({ reached: 'all' })
        await line.deliverLate()
        expect(await waiting(phone)).toBe(0)
        expect(await idsOf(server, jobId)).toEqual([...order].sort())
        expect(await server.exportJob(jobId)).toEqual(await phone.log.exportJob(jobId))
        await phone.log.close()
      }),
      { numRuns: 200 },
    )
  })

  it('comes in several requests where it is much, and is the same', async () => {
    const phone = await newPhone()
    const begun = job()
    value(await phone.log.createJob(begun))
    const said = 'x'.repeat(7000)
    const entries = Array.from({ length: 40 }, (_, index) => entry(begun.id, { at: minute(index), said }))
    value(await phone.log.write(entries.map((record) => ({ kind: 'entry', record }))))
    let requests = 0
    const counted: AskServer = (path, body) => {
      requests += 1
      return lineTo(server)(path, body)
    }
    expect(await sendWaiting(phone.outbox, counted)).toEqual({ reached: 'all' })
    expect(requests).toBeGreaterThan(4)
    expect(await server.exportJob(begun.id)).toEqual(await phone.log.exportJob(begun.id))
  })

  it('counts as what somebody did, not as the records of it', async () => {
    const phone = await newPhone()
    const begun = job()
    const asked = entry(begun.id)
    value(await phone.log.createJob(begun))
    value(
      await phone.log.write([
        { kind: 'entry', record: asked },
        { kind: 'fact', record: fact(begun.id) },
        { kind: 'fact', record: fact(begun.id, { field: 'load' }) },
      ]),
    )
    expect(await waiting(phone)).toBe(2)
    value(await phone.log.addEntry(asked))
    expect(await waiting(phone)).toBe(2)
  })
})

describe('two phones', () => {
  it('that contradict each other without a signal keep both facts, and both are asked about', async () => {
    const [one, other] = [await newPhone(), await newPhone()]
    const begun = job({ createdAt: newest() })
    value(await one.log.createJob(begun))
    await sendWaiting(one.outbox, lineTo(server))
    expect(await fetchNewest(other, lineTo(server))).toEqual({ reached: 'all' })
    // One clock is wrong by years; the order of arrival is the other way round.
    value(await one.log.addFact(fact(begun.id, { value: '24 V', at: '2031-01-01T00:00:00.000Z' })))
    value(await other.log.addFact(fact(begun.id, { value: '12 V', at: '1999-12-31T23:59:59.999Z' })))
    await sendWaiting(other.outbox, lineTo(server))
    await sendWaiting(one.outbox, lineTo(server))
    for (const phone of [one, other]) await fetchNewest(phone, lineTo(server))
    for (const log of [one.log, other.log, server]) {
      const [known] = value(await log.readJob(begun.id)).known
      expect(
        [known?.current?.value, ...(known?.contested ?? []).map(({ value: said }) => said)].sort(),
      ).toEqual(['12 V', '24 V'])
    }
  })

  it('see what the other told late, though its time is before what they know', async () => {
    const [one, other] = [await newPhone(), await newPhone()]
    const begun = job({ createdAt: newest() })
    value(await one.log.createJob(begun))
    value(await one.log.changeJob(change(begun.id, { name: 'Wheel room' }, { at: minute(50) })))
    await sendWaiting(one.outbox, lineTo(server))
    await fetchNewest(other, lineTo(server))
    value(await one.log.addFact(fact(begun.id, { at: minute(3) })))
    await sendWaiting(one.outbox, lineTo(server))
    await fetchNewest(other, lineTo(server))
    expect(await other.log.exportJob(begun.id)).toEqual(await server.exportJob(begun.id))
    expect(await waiting(other)).toBe(0)
  })
})

describe('a server that cannot take it', () => {
  it('is told later, and what it said is passed on', async () => {
    const phone = await newPhone()
    value(await phone.log.createJob(job()))
    const full = refused({ reason: 'disk-full' })
    const log = { ...server, write: async () => full }
    expect(await sendWaiting(phone.outbox, lineTo(log))).toEqual({
      reached: 'stopped',
      message: full.message,
    })
    expect(await waiting(phone)).toBe(1)
    expect(await sendWaiting(phone.outbox, lineTo(server))).toEqual({ reached: 'all' })
  })

  it('never loses one record for another: what it refuses is kept and shown with the reason', async () => {
    const phone = await newPhone()
    const begun = job()
    const taken = fact(begun.id)
    value(await server.createJob(begun))
    value(await server.addFact({ ...taken, value: '48 V' }))
    value(await phone.log.createJob(begun))
    const after = entry(begun.id)
    value(await phone.log.addFact(taken))
    value(await phone.log.addEntry(after))
    expect(await sendWaiting(phone.outbox, lineTo(server))).toEqual({ reached: 'all' })
    expect(value(await phone.outbox.counts())).toEqual({ waiting: 0, refused: 1 })
    const [mark] = value(await phone.outbox.refused())
    expect(mark).toMatchObject({ kind: 'fact', id: taken.id, message: expect.stringContaining('taken') })
    expect(value(await server.readJob(begun.id)).thread.map(({ id }) => id)).toEqual([after.id])
    expect(value(await phone.log.readJob(begun.id)).known[0]?.current?.value).toBe('24 V')
    value(await phone.outbox.retryRefused())
    expect(value(await phone.outbox.counts())).toEqual({ waiting: 1, refused: 0 })
  })

  it('of an older version refuses what it does not know, and takes the rest', async () => {
    const phone = await newPhone()
    const begun = job()
    const unknown = fact(begun.id)
    value(await phone.log.createJob(begun))
    value(await phone.log.addFact(unknown))
    value(await phone.log.addEntry(entry(begun.id)))
    const older: AskServer = (path, body) => {
      const { writes } = body as { writes: WriteInput[] }
      return writes.some(({ record }) => record.id === unknown.id)
        ? Promise.resolve(Response.json({ title: 'These are not records of jobs.' }, { status: 422 }))
        : lineTo(server)(path, body)
    }
    expect(await sendWaiting(phone.outbox, older)).toEqual({ reached: 'all' })
    expect(value(await phone.outbox.counts())).toEqual({ waiting: 0, refused: 1 })
    expect(await idsOf(server, begun.id)).toHaveLength(2)
  })

  it('that was set back to an older backup gets all of a job that somebody goes on with', async () => {
    const phone = await newPhone()
    const begun = job()
    const told = fact(begun.id)
    value(await phone.log.createJob(begun))
    value(await phone.log.addFact(told))
    await sendWaiting(phone.outbox, lineTo(server))
    const setBack = value(await openJobLog({ file: join(folder, 'set-back.sqlite') }))
    value(await phone.log.withdrawFact(withdrawal(begun.id, told.id)))
    expect(await sendWaiting(phone.outbox, lineTo(setBack))).toEqual({ reached: 'all' })
    expect(value(await phone.outbox.counts())).toEqual({ waiting: 0, refused: 0 })
    expect(await setBack.exportJob(begun.id)).toEqual(await phone.log.exportJob(begun.id))
    await setBack.close()
  })
})

describe('what the server has', () => {
  it('is fetched, waits for nothing, and is not fetched again while it is the same', async () => {
    const [one, other] = [await newPhone(), await newPhone()]
    const begun = job({ createdAt: newest() })
    value(await one.log.createJob(begun))
    value(await one.log.addEntry(entry(begun.id)))
    await sendWaiting(one.outbox, lineTo(server))
    const asked: string[] = []
    const listened: AskServer = (path, body) => {
      asked.push(path)
      return lineTo(server)(path, body)
    }
    await fetchNewest(other, listened)
    expect(await other.log.exportJob(begun.id)).toEqual(await server.exportJob(begun.id))
    expect(await waiting(other)).toBe(0)
    expect(asked).toContain(`/api/jobs/${begun.id}/export`)
    asked.length = 0
    await fetchNewest(other, listened)
    expect(asked).toHaveLength(1)
  })

  it('cannot be fetched without a signal, and says so', async () => {
    const phone = await newPhone()
    const dead: AskServer = () => Promise.reject(new TypeError('Failed to fetch'))
    expect(await fetchNewest(phone, dead)).toEqual({ reached: 'no-signal' })
    expect(await fetchJob(phone, job().id, dead)).toEqual({ reached: 'no-signal' })
  })
})
