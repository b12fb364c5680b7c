import { deleteDB, openDB } from 'idb'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { openPhoneLog } from '../../../src/jobs/log/idb-job-log'
import { browserStore } from './browser-store'
import { entry, fact, job, value } from './samples'

browserStore()

afterEach(() => vi.restoreAllMocks())

/** What a browser does whose disk is full: the transaction ends in the middle, with that as its reason. */
const fillUp = (): void => {
  vi.spyOn(IDBObjectStore.prototype, 'add').mockImplementation(function (this: IDBObjectStore) {
    const transaction = this.transaction as IDBTransaction & { _abort(reason: string): void }
    transaction._abort('QuotaExceededError')
    throw new DOMException('the transaction is over', 'AbortError')
  })
}

describe('the log in a browser', () => {
  it('that is full refuses what is new by name, and keeps what it has', async () => {
    const phone = value(await openPhoneLog('full'))
    const begun = job()
    value(await phone.log.createJob(begun))
    fillUp()
    expect(await phone.log.addEntry(entry(begun.id))).toMatchObject({ ok: false, reason: 'disk-full' })
    vi.restoreAllMocks()
    expect(value(await phone.log.readJob(begun.id)).thread).toEqual([])
    expect(value(await phone.outbox.counts())).toEqual({ waiting: 1, refused: 0 })
    value(await phone.log.addEntry(entry(begun.id)))
    await phone.log.close()
  })

  it('that keeps nothing is refused by name', async () => {
    vi.spyOn(indexedDB, 'open').mockImplementation(() => {
      throw new DOMException('not here', 'SecurityError')
    })
    expect(await openPhoneLog('refused')).toMatchObject({ reason: 'disk-failed', code: 'SecurityError' })
  })

  it('of a newer version is refused by name and left as it is', async () => {
    const newer = await openDB('newer', 7)
    newer.close()
    expect(await openPhoneLog('newer')).toMatchObject({ reason: 'too-new', version: 7, newest: 2 })
    expect((await indexedDB.databases()).find(({ name }) => name === 'newer')?.version).toBe(7)
  })

  it('lets a newer version of the program have it at once, and says that it is closed', async () => {
    const closed = vi.fn()
    const phone = value(await openPhoneLog('handed over', closed))
    value(await phone.log.createJob(job()))
    const newer = await openDB('handed over', 3)
    expect(closed).toHaveBeenCalledOnce()
    expect(await phone.log.listJobs()).toMatchObject({ ok: false, reason: 'closed' })
    newer.close()
    await deleteDB('handed over')
  })

  it('of the first version goes on as it is, under the newest', async () => {
    const begun = job()
    const first = await openDB('first version', 1, {
      upgrade(opened) {
        const record = opened.createObjectStore('record', { keyPath: ['kind', 'id'] })
        record.createIndex('of_job', ['jobId', 'kind', 'at', 'id'])
        const now = opened.createObjectStore('job_now', { keyPath: 'id' })
        now.createIndex('touched', ['touchedAt', 'id'])
        now.createIndex('in_state', ['state', 'touchedAt', 'id'])
        for (const [name, options] of [
          ['waiting', { keyPath: 'number', autoIncrement: true }],
          ['refused', { keyPath: 'number' }],
        ] as const) {
          const marks = opened.createObjectStore(name, options)
          marks.createIndex('of_job', 'jobId')
          marks.createIndex('lot', 'lot')
        }
      },
    })
    const created = { ...begun, place: '', notes: '', state: 'open' }
    await first.add('record', {
      kind: 'job',
      id: begun.id,
      jobId: begun.id,
      at: begun.createdAt,
      record: created,
    })
    await first.add('waiting', { kind: 'job', id: begun.id, jobId: begun.id, lot: begun.id })
    first.close()
    const phone = value(await openPhoneLog('first version'))
    expect(value(await phone.log.exportJob(begun.id)).job).toEqual(created)
    value(await phone.log.addEntry(entry(begun.id)))
    expect(value(await phone.outbox.counts())).toEqual({ waiting: 2, refused: 0 })
    expect([value(await phone.shop.isShutOut()), value(await phone.clashes.count())]).toEqual([false, 0])
    await phone.log.close()
  })

  it('never reads as a record what was not written as one', async () => {
    const phone = value(await openPhoneLog('damaged'))
    const begun = job()
    const known = fact(begun.id)
    value(await phone.log.createJob(begun))
    value(await phone.log.addFact(known))
    const beside = await openDB('damaged')
    const kept = await beside.get('record', ['fact', known.id])
    await beside.put('record', { ...kept, record: { ...kept.record, value: 24 } })
    beside.close()
    expect(await phone.log.readJob(begun.id)).toMatchObject({ ok: false, reason: 'corrupt' })
    expect(value(await phone.log.listJobs()).jobs).toHaveLength(1)
    await phone.log.close()
  })
})
