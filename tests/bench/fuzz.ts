import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import fc from 'fast-check'
import type { Hono } from 'hono'
import { createApp } from '../../src/app/app'
import { described } from '../../src/app/described'
import { sharing } from '../../src/app/sharing'
import { openDeviceBook } from '../../src/doors/device-book'
import { doors } from '../../src/doors/doors'
import { openMetrics } from '../../src/doors/metrics'
import { logTo, reportTo } from '../../src/doors/request-log'
import { readSettings } from '../../src/doors/settings'
import { newId } from '../../src/jobs/log/identifier'
import type { JobLog } from '../../src/jobs/log/job-log'
import { openJobLog } from '../../src/jobs/log/sqlite-job-log'
import type { ShareStore } from '../../src/jobs/share/share'
import { openShares } from '../../src/jobs/share/sqlite-shares'
import { questionById } from '../../src/questions/registry'
import { renderSheetPdf } from '../../src/sheet-pdf/sheet-pdf'
import { formatsOf } from './fuzz/formats'
import { type Asked, type Known, origin, requestsFor } from './fuzz/requests'
import type { Measured } from './measured'

/** How many requests; `LADDERSIDE_BENCH_REQUESTS` makes it fewer, `LADDERSIDE_BENCH_SEED` makes them the same again. */
const requests = Number(process.env.LADDERSIDE_BENCH_REQUESTS ?? 1_000_000)
const firstSeed = Number(process.env.LADDERSIDE_BENCH_SEED ?? Date.now() % 2 ** 31)

const batch = 500
/** After so many batches the jobs that are asked about are new ones, so that none grows without end. */
const batchesOfAJob = 4
const jobsAtOnce = 4
/** How often memory is looked at; the first looks are before everything has been warmed up. */
const looks = 20
const warmLooks = 5

type Found = { faults: string[]; byStatus: Map<number, number> }

type Home = {
  /** The app as the server has it, locked. It is made anew now and then, or the limit on pairing would let none in. */
  makeApp: () => Hono
  log: JobLog
  shares: ShareStore
  known: Known
  folder: string
  jobs: string[]
  token: string
  close: () => Promise<void>
}

/** A home with a job log and a list of devices of its own, one device of which is ours. */
async function opened(report: (fault: unknown) => void): Promise<Home> {
  const folder = mkdtempSync(join(tmpdir(), 'ladderside-fuzz-'))
  const read = readSettings({ LADDERSIDE_DATA: folder, LADDERSIDE_LOCKED: '1' })
  const log = await openJobLog({ file: join(folder, 'jobs.sqlite') })
  const shares = await openShares({ file: join(folder, 'jobs.sqlite') })
  if (!read.ok || !log.ok || !shares.ok) throw new Error('the home of the fuzz bench cannot be opened')
  const book = openDeviceBook(folder)
  const nowhere = logTo({ write: () => undefined }, 'requests')
  const makeApp = () =>
    createApp({
      log: log.value,
      described,
      sheetPdf: renderSheetPdf,
      sharing: sharing(shares.value),
      report(fault) {
        report(fault)
        reportTo(nowhere)(fault)
      },
      doors: doors({
        settings: read.settings,
        log: nowhere,
        metrics: openMetrics(false),
        lock: { book, secret: 'the secret of a bench, and of nothing else' },
      }),
    })
  const code = new URLSearchParams({ code: book.newCode(new Date()), name: 'Bench' })
  const paired = await makeApp().request(`${origin}/pair`, {
    method: 'POST',
    headers: { origin },
    body: code,
  })
  const cookie = (paired.headers.get('set-cookie') ?? '').split(';')[0] ?? ''
  const token = decodeURIComponent(cookie.split('=')[1] ?? '').split('.')[0] ?? ''
  const close = async () => {
    await shares.value.close()
    await log.value.close()
    book.close()
    rmSync(folder, { recursive: true, force: true })
  }
  const known = { ids: [], tokens: [], files: [], cookie }
  return { makeApp, log: log.value, shares: shares.value, known, folder, jobs: [], token, close }
}

/** A job with an entry, a fact and a withdrawn one; its ids are among those that are asked for. */
async function addJob(home: Home): Promise<void> {
  const [jobId, entryId, factId, otherId] = [newId(), newId(), newId(), newId()]
  const at = new Date().toISOString()
  const answered = questionById('feed-gauge')?.answer({ distance: '40 ft', voltage: '24 V', load: '60 W' })
  const fact = (id: string, field: string) => ({
    id,
    jobId,
    field,
    value: '24 V',
    provenance: { from: 'answer' as const, entryId },
    at,
  })
  const written = await home.log.write([
    { kind: 'job', record: { id: jobId, name: 'Long hall', createdAt: at } },
    {
      kind: 'entry',
      record: {
        id: entryId,
        jobId,
        at,
        said: 'what gauge for 40 feet at 24 volts, 60 watts',
        reading: { question: 'feed-gauge', inputs: { distance: '40 ft', voltage: '24 V', load: '60 W' } },
        answer: answered?.ok ? (answered.answer as unknown as null) : null,
        version: { calculators: '0.1.0', tables: '0.1.0' },
      },
    },
    { kind: 'fact', record: fact(factId, 'voltage') },
    { kind: 'fact', record: fact(otherId, 'load') },
    { kind: 'withdrawal', record: { id: newId(), jobId, factId: otherId, at } },
    { kind: 'change', record: { id: newId(), jobId, at, set: { place: 'First floor' } } },
  ])
  if (!written.ok) throw new Error(written.message)
  home.jobs = [...home.jobs, jobId].slice(-jobsAtOnce)
  const shared = await home.shares.create(jobId, {
    id: newId(),
    expiresAt: new Date(Date.now() + 3_600_000).toISOString(),
  })
  if (!shared.ok) throw new Error(shared.message)
  const { share, token } = shared.value
  const file = await home.log.exportJob(jobId)
  if (file.ok) home.known.files = [file.value]
  home.known.tokens = [...home.known.tokens, token].slice(-jobsAtOnce)
  home.known.ids = [...home.jobs, ...home.jobs, ...home.jobs, entryId, factId, share.id]
}

async function send(app: Hono, { method, address, headers, body }: Asked, found: Found): Promise<void> {
  try {
    const request = new Request(address, { method, headers, ...(body === undefined ? {} : { body }) })
    const answer = await app.fetch(request)
    await answer.arrayBuffer()
    found.byStatus.set(answer.status, (found.byStatus.get(answer.status) ?? 0) + 1)
    if (answer.status >= 500) note(found, `${answer.status}: ${told(method, address, body)}`)
  } catch (error) {
    note(found, `${error}: ${told(method, address, body)}`)
  }
}

const mostShown = 20

/** Says at once what went wrong: the whole takes long. */
function note({ faults }: Found, fault: string): void {
  faults.push(fault)
  if (faults.length <= mostShown) console.info(`  ${fault}`)
}

const told = (method: string, address: string, body: Asked['body']): string =>
  `${method} ${address.slice(0, 300)} ${typeof body === 'string' ? body.slice(0, 300) : ''}`

/** What is in use after everything that can be given back was, in MB. */
function memoryMb(): number {
  setFlagsFromString('--expose-gc')
  const collect = runInNewContext('gc') as () => void
  collect()
  return process.memoryUsage().heapUsed / 1e6
}

/** Asks every route, over and over, in ways in which nobody should. */
async function askAll(home: Home, found: Found): Promise<number[]> {
  const memory: number[] = []
  const batches = Math.ceil(requests / batch)
  let app = home.makeApp()
  const arbitrary = requestsFor(app, home.known)
  for (let at = 0; at < batches; at += 1) {
    if (at % batchesOfAJob === 0) {
      await addJob(home)
      app = home.makeApp()
    }
    for (const asked of fc.sample(arbitrary, { seed: firstSeed + at, numRuns: batch })) {
      await send(app, asked, found)
    }
    if (at % Math.ceil(batches / looks) === 0) memory.push(memoryMb())
  }
  return memory
}

/** Damages everything that is kept, over and over, and reads it. */
async function readAll(home: Home, found: Found): Promise<void> {
  const [jobId = ''] = home.jobs
  const exported = await home.log.exportJob(jobId)
  if (!exported.ok) throw new Error(exported.message)
  const kept = await smallFiles(home, exported.value)
  for (const { name, share, run } of formatsOf({ job: exported.value, jobId, token: home.token, ...kept })) {
    const runs = Math.max(1, Math.round(requests * share))
    try {
      for (let done = 0; done < runs; done += batch) {
        await run(firstSeed + done, Math.min(batch, runs - done), home.folder)
      }
      console.info(`  ${name}: damaged and read ${runs} times`)
    } catch (error) {
      note(found, `${name}: ${error instanceof Error ? error.stack : error}`)
    }
  }
}

/** Files with the one job and the one device in them, whole, as they stand when nothing runs. */
async function smallFiles(
  { folder }: Home,
  job: Parameters<JobLog['importJob']>[0],
): Promise<{ log: string; devices: string }> {
  const place = mkdtempSync(join(folder, 'small-'))
  const log = await openJobLog({ file: join(place, 'jobs.sqlite') })
  if (!log.ok) throw new Error(log.message)
  await log.value.importJob(job)
  await log.value.close()
  const book = openDeviceBook(place)
  book.pair(book.newCode(new Date()), 'Phone', new Date())
  book.newCode(new Date())
  book.close()
  return { log: join(place, 'jobs.sqlite'), devices: join(place, 'doors.sqlite') }
}

/**
 * At least a million requests, made and mutated, against every route that the app has, and a share of it against every
 * format in which something is kept: nothing may fall, no answer may be a five-hundred, memory must stay flat.
 */
export async function benchFuzz(): Promise<Measured[]> {
  const found: Found = { faults: [], byStatus: new Map() }
  const crash = (fault: unknown) => note(found, `nobody caught ${fault}`)
  let reported = 0
  const report = (fault: unknown) => {
    reported += 1
    if (reported <= mostShown) console.info(`  ${fault instanceof Error ? fault.stack : fault}`)
  }
  process.on('uncaughtException', crash)
  process.on('unhandledRejection', crash)
  const home = await opened(report)
  try {
    const began = performance.now()
    const memory = await askAll(home, found)
    await readAll(home, found)
    const statuses = [...found.byStatus].sort(([one], [other]) => one - other)
    const sent = statuses.reduce((sum, [, count]) => sum + count, 0)
    console.info(
      `  seed ${firstSeed}: ${sent} requests in ${Math.round((performance.now() - began) / 1000)} s`,
    )
    console.info(`  answers: ${statuses.map(([status, count]) => `${status}: ${count}`).join(', ')}`)
    console.info(`  memory in use, MB: ${memory.map((mb) => mb.toFixed(1)).join(' ')}`)
    const warm = memory[warmLooks] ?? memory[0] ?? Number.NaN
    return [
      { name: 'requests sent', ratio: sent / requests, target: 1, is: 'at least' },
      { name: 'crashes and five-hundreds', ratio: found.faults.length, target: 0, is: 'at most' },
      {
        name: 'memory in use, last / after a quarter',
        ratio: (memory.at(-1) ?? warm) / warm,
        target: 1.1,
        is: 'at most',
      },
    ]
  } finally {
    process.off('uncaughtException', crash)
    process.off('unhandledRejection', crash)
    await home.close()
  }
}
