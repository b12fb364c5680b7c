import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { openPhoneLog } from '../../../src/jobs/log/idb-job-log'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { fetchNewest } from '../../../src/jobs/sync/fetch-jobs'
import { sendWaiting } from '../../../src/jobs/sync/send'
import { browserStore } from '../log/browser-store'
import { temporaryFolder } from '../log/built'
import { entry, fact, job, minute, value, withdrawal } from '../log/samples'
import { lineTo } from './lines'

browserStore()

const folder = temporaryFolder()

/** A phone and a server that have another value under one id, and more of the same job and of another one behind it. */
async function clashing(name: string) {
  const server = value(await openJobLog({ file: join(folder, `${name}.sqlite`) }))
  const phone = value(await openPhoneLog(`clashing ${name}`))
  const [begun, older] = [job({ createdAt: minute(20) }), job({ createdAt: minute(10) })]
  const told = fact(begun.id, { value: '24 V', at: minute(30) })
  for (const each of [begun, older]) value(await server.createJob(each))
  value(await server.addFact({ ...told, value: '12 V' }))
  const after = entry(begun.id, { at: minute(40) })
  value(await server.addEntry(after))
  value(await phone.log.createJob(begun))
  value(await phone.log.addFact(told))
  return { server, phone, begun, older, told, after }
}

describe('a record that is another one on the server under the same id', () => {
  it('is kept beside it, and everything else of the server comes all the same', async () => {
    const { server, phone, begun, older, after } = await clashing('pulled')
    expect(await fetchNewest(phone, lineTo(server))).toEqual({ reached: 'all' })
    const open = value(await phone.log.readJob(begun.id))
    expect(open.thread.map(({ id }) => id)).toEqual([after.id])
    expect(open.known[0]?.current?.value).toBe('24 V')
    expect(value(await phone.clashes.list())).toMatchObject([
      { here: { record: { value: '24 V' } }, onServer: { record: { value: '12 V' } }, isSeen: false },
    ])
    expect((await phone.log.readJob(older.id)).ok).toBe(true)
  })

  it('is counted until it is put away, and stays in the list then', async () => {
    const { server, phone, told } = await clashing('seen')
    await fetchNewest(phone, lineTo(server))
    expect(value(await phone.clashes.count())).toBe(1)
    value(await phone.clashes.see('fact', told.id))
    await fetchNewest(phone, lineTo(server))
    expect(value(await phone.clashes.count())).toBe(0)
    expect(value(await phone.clashes.list())).toMatchObject([{ isSeen: true }])
  })

  it('is not fetched over and over, whether the phone sent its own before or after', async () => {
    const { server, phone } = await clashing('once')
    await sendWaiting(phone.outbox, lineTo(server))
    await fetchNewest(phone, lineTo(server))
    expect(value(await phone.outbox.counts())).toEqual({ waiting: 0, refused: 1 })
    const asked: string[] = []
    await fetchNewest(phone, (path, body) => {
      asked.push(path)
      return lineTo(server)(path, body)
    })
    expect(asked).toHaveLength(1)
  })

  it('is settled for both by telling the job anew', async () => {
    const { server, phone, begun, told } = await clashing('settled')
    await sendWaiting(phone.outbox, lineTo(server))
    await fetchNewest(phone, lineTo(server))
    const anew = fact(begun.id, { value: '24 V', at: minute(50) })
    value(
      await phone.log.write([
        { kind: 'fact', record: anew },
        { kind: 'withdrawal', record: withdrawal(begun.id, told.id, { at: minute(50) }) },
      ]),
    )
    expect(await sendWaiting(phone.outbox, lineTo(server))).toEqual({ reached: 'all' })
    for (const log of [phone.log, server]) {
      const [known] = value(await log.readJob(begun.id)).known
      expect([known?.current?.value, known?.contested]).toEqual(['24 V', []])
    }
  })
})
