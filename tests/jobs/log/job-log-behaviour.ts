import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../../src/jobs/log/identifier'
import type { WriteInput } from '../../../src/jobs/log/job'
import type { JobLog } from '../../../src/jobs/log/job-log'
import type { Outcome } from '../../../src/jobs/log/refusal'
import { change, entry, fact, historyOf, job, minute, value, withdrawal } from './samples'

/** Sends requests in some order, those that came too early again and again, as a phone would. */
async function sendAll(to: JobLog, requests: readonly WriteInput[]): Promise<void> {
  let waiting = [...requests]
  while (waiting.length > 0) {
    const early: WriteInput[] = []
    for (const request of waiting) {
      const written = await to.write([request])
      if (!written.ok) {
        expect(written.reason).toBe('not-found')
        early.push(request)
      }
    }
    expect(early.length).toBeLessThan(waiting.length)
    waiting = early
  }
}

/** What a job log does, wherever it is kept; `open` opens the log of that name, which is empty at first. */
export function describeJobLog(open: (name: string) => Promise<Outcome<JobLog>>): void {
  let log: JobLog
  beforeAll(async () => {
    log = value(await open('jobs'))
  })

  describe('a job', () => {
    it('comes back as it was written, with its facts and its thread', async () => {
      const begun = job()
      const asked = entry(begun.id)
      const known = fact(begun.id, {
        where: 'glaze bench',
        field: 'feeds',
        value: [{ at: '0 ft', cable: '14 AWG' }, { at: '20 ft' }],
        provenance: { from: 'answer', entryId: asked.id },
      })
      value(await log.createJob(begun))
      value(await log.addEntry(asked))
      value(await log.addFact(known))
      const open = value(await log.readJob(begun.id))
      expect(open.job).toEqual({ notes: '', state: 'open', ...begun, touchedAt: minute(2) })
      expect(open.thread).toEqual([asked])
      const kept = { ...known, provenance: { from: 'answer', entryId: asked.id, who: null } }
      expect(open.known).toEqual([
        {
          field: 'feeds',
          where: 'glaze bench',
          current: kept,
          contested: [],
          history: [{ ...kept, withdrawnAt: null }],
        },
      ])
    })

    it('keeps every change, and each part as its newest change has it', async () => {
      const begun = job({ notes: 'Key under the pot.' })
      value(await log.createJob(begun))
      value(await log.changeJob(change(begun.id, { name: 'Wheel room', state: 'done' }, { at: minute(9) })))
      value(await log.changeJob(change(begun.id, { name: 'Kiln room', place: 'Yard' }, { at: minute(8) })))
      const open = value(await log.readJob(begun.id))
      expect(open.job).toMatchObject({
        name: 'Wheel room',
        place: 'Yard',
        notes: 'Key under the pot.',
        state: 'done',
      })
      expect(open.changes).toHaveLength(2)
      const page = value(await log.listJobs({ state: 'done' }))
      expect(page.jobs).toContainEqual(
        expect.objectContaining({ id: begun.id, name: 'Wheel room', touchedAt: minute(9), entries: 0 }),
      )
    })

    it('knows the newest fact that was not withdrawn, and which facts contradict it', async () => {
      const begun = job()
      value(await log.createJob(begun))
      const [old, newer] = [
        fact(begun.id, { value: '12 V', at: minute(5) }),
        fact(begun.id, { at: minute(6) }),
      ]
      value(await log.addFact(newer))
      value(await log.addFact(old))
      const both = value(await log.readJob(begun.id)).known[0]
      expect(both?.current?.id).toBe(newer.id)
      expect(both?.contested.map(({ id }) => id)).toEqual([old.id])
      value(await log.withdrawFact(withdrawal(begun.id, newer.id, { at: minute(7) })))
      const one = value(await log.readJob(begun.id)).known[0]
      expect(one?.current?.id).toBe(old.id)
      expect(one?.contested).toEqual([])
      expect(one?.history.map(({ withdrawnAt }) => withdrawnAt)).toEqual([null, minute(7)])
      value(await log.withdrawFact(withdrawal(begun.id, old.id, { at: minute(8) })))
      expect(value(await log.readJob(begun.id)).known[0]?.current).toBeNull()
    })

    it('keeps any text and any JSON', async () => {
      await fc.assert(
        fc.asyncProperty(
          fc.string({ unit: 'binary', maxLength: 40 }),
          fc.json({ depthSize: 'medium' }).map((text) => JSON.parse(text)),
          async (said, answer) => {
            const begun = job({ notes: said })
            const asked = entry(begun.id, { said, answer, reading: { said } })
            const written = await log.write([
              { kind: 'job', record: begun },
              { kind: 'entry', record: asked },
            ])
            expect(written).toEqual({ ok: true, value: ['added', 'added'] })
            const open = value(await log.readJob(begun.id))
            expect(open.thread[0]?.said).toBe(said.replace(/\p{Surrogate}/gu, '\uFFFD'))
            expect(JSON.stringify(open.thread[0]?.answer)).toBe(JSON.stringify(answer))
            expect(value(await log.addEntry(asked)).id).toBe(asked.id)
          },
        ),
        { numRuns: 300 },
      )
    })
  })

  describe('what is refused', () => {
    it('names what is not there, and keeps nothing of a refused lot', async () => {
      const [here, elsewhere] = [job(), job()]
      const asked = entry(elsewhere.id)
      value(
        await log.write([
          { kind: 'job', record: elsewhere },
          { kind: 'entry', record: asked },
        ]),
      )
      const missing = { ok: false, reason: 'not-found' }
      expect(await log.readJob(here.id)).toMatchObject({ ...missing, kind: 'job', id: here.id })
      expect(await log.addFact(fact(here.id))).toMatchObject({ ...missing, kind: 'job' })
      expect(await log.exportJob(here.id)).toMatchObject({ ...missing, kind: 'job' })
      const borrowed = fact(here.id, { provenance: { from: 'answer', entryId: asked.id } })
      const lot: WriteInput[] = [
        { kind: 'job', record: here },
        { kind: 'fact', record: borrowed },
      ]
      expect(await log.write(lot)).toMatchObject({ ...missing, kind: 'entry', id: asked.id })
      expect(await log.readJob(here.id)).toMatchObject(missing)
      value(await log.createJob(here))
      expect(await log.withdrawFact(withdrawal(here.id, newId()))).toMatchObject({ ...missing, kind: 'fact' })
    })

    it('is another thing under an id that is taken', async () => {
      const begun = job()
      value(await log.createJob(begun))
      value(await log.createJob({ ...begun }))
      const conflict = { ok: false, reason: 'conflict', id: begun.id }
      expect(await log.createJob({ ...begun, name: 'Other' })).toMatchObject({ ...conflict, kind: 'job' })
      const known = fact(begun.id)
      value(await log.addFact(known))
      const other = job()
      value(await log.createJob(other))
      expect(await log.addFact({ ...known, jobId: other.id })).toMatchObject({
        reason: 'conflict',
        kind: 'fact',
      })
      expect(value(await log.readJob(begun.id)).job.name).toBe('Glaze bench')
    })

    it('is what is not as described, by name', async () => {
      const faults = async (record: object) => {
        const outcome = await log.createJob({ ...job(), ...record })
        return outcome.ok ? [] : outcome.reason === 'invalid' ? outcome.faults.map(({ path }) => path) : []
      }
      expect(await faults({ name: '' })).toEqual(['record.name'])
      expect(await faults({ id: 'one', createdAt: 'today' })).toEqual(['record.id', 'record.createdAt'])
      expect(await faults({ createdAt: '2026-03-02T09:41:00Z' })).toEqual(['record.createdAt'])
      const begun = job()
      expect(await log.changeJob(change(begun.id, {}))).toMatchObject({ reason: 'invalid' })
      expect(await log.addFact(fact(begun.id, { provenance: { from: 'answer' } }))).toMatchObject({
        reason: 'invalid',
      })
      expect(await log.listJobs({ after: 'yesterday' })).toMatchObject({ reason: 'invalid' })
    })

    it('never is an exception, whatever comes in', async () => {
      let deep: unknown = 'deep'
      for (let level = 0; level < 20_000; level += 1) deep = [deep]
      const circle: Record<string, unknown> = {}
      circle.circle = circle
      const odd = fc.oneof(
        fc.anything(),
        fc.constantFrom(deep, circle, Number.NaN, 1n, new Date(), Symbol('x')),
      )
      const begun = job()
      await fc.assert(
        fc.asyncProperty(
          odd,
          fc.constantFrom('reading', 'answer', 'said', 'id', 'version'),
          async (any, part) => {
            const asked = { ...entry(begun.id), [part]: any } as ReturnType<typeof entry>
            for (const outcome of [
              await log.addEntry(asked),
              await log.addFact({ ...fact(begun.id), value: any as string }),
              await log.addFact(any as ReturnType<typeof fact>),
              await log.write(any as WriteInput[]),
              await log.importJob(any),
              await log.readJob(any as string),
              await log.listJobs(any as object),
            ]) {
              if (!outcome.ok) expect(outcome.message).toMatch(/\.$/)
            }
          },
        ),
        { numRuns: 1000 },
      )
    })

    it('is everything once it is closed', async () => {
      const closing = value(await open('closing'))
      await closing.close()
      await closing.close()
      expect(await closing.createJob(job())).toMatchObject({ ok: false, reason: 'closed' })
      expect(await closing.listJobs()).toMatchObject({ ok: false, reason: 'closed' })
    })
  })

  describe('the list', () => {
    it('has every job once, what was touched last first, page by page', async () => {
      const other = value(await open('list'))
      const begun = Array.from({ length: 23 }, (_, index) => job({ createdAt: minute(index % 7) }))
      value(await other.write(begun.map((record) => ({ kind: 'job', record }))))
      const touched = begun[3]?.id ?? ''
      value(await other.addEntry(entry(touched, { at: minute(60) })))
      const seen: string[] = []
      let after: string | null | undefined
      do {
        const page = value(await other.listJobs({ limit: 5, ...(after ? { after } : {}) }))
        seen.push(...page.jobs.map(({ id }) => id))
        after = page.next
      } while (after)
      const expected = [...begun]
        .map(({ id, createdAt }) => ({ id, at: id === touched ? minute(60) : createdAt }))
        .sort((one, two) => (`${one.at}${one.id}` < `${two.at}${two.id}` ? 1 : -1))
      expect(seen).toEqual(expected.map(({ id }) => id))
      expect(value(await other.listJobs({ state: 'archived' }))).toEqual({ jobs: [], next: null })
      await other.close()
    })
  })

  describe('replayed and reordered requests', () => {
    it('give the same job, and the same line in the list, in any order and however often', async () => {
      const [first, second] = [value(await open('first')), value(await open('second'))]
      const history = fc.array(fc.nat(99), { minLength: 1, maxLength: 8 })
      const orders = fc.infiniteStream(fc.nat(1_000_000))
      await fc.assert(
        fc.asyncProperty(history, orders, fc.nat(6), async (steps, keys, repeats) => {
          const requests = historyOf(steps)
          const inOrder = [...requests, ...requests.slice(0, repeats)]
          const shuffled = inOrder
            .map((request) => ({ request, key: keys.next().value ?? 0 }))
            .sort((one, two) => one.key - two.key)
            .map(({ request }) => request)
          await sendAll(first, requests)
          await sendAll(second, shuffled)
          const id = requests[0]?.record.id ?? ''
          const open = value(await first.readJob(id))
          expect(await second.readJob(id)).toEqual({ ok: true, value: open })
          expect(await second.exportJob(id)).toEqual(await first.exportJob(id))
          await sendAll(first, shuffled)
          expect(await first.readJob(id)).toEqual({ ok: true, value: open })
          for (const each of [first, second]) {
            const listed = value(await each.listJobs({ limit: 500 })).jobs.find((one) => one.id === id)
            const { notes: _, ...summary } = open.job
            expect(listed).toEqual({
              ...summary,
              entries: open.thread.length,
              records: new Set(requests).size,
            })
          }
        }),
        { numRuns: 150 },
      )
      await first.close()
      await second.close()
    })
  })
}
