import { join } from 'node:path'
import { createApp } from './app/app'
import { described } from './app/described'
import { sharing } from './app/sharing'
import { inBrackets, isLoopback } from './doors/addresses'
import { serveBuilt } from './doors/built-files'
import { type DeviceBook, openDeviceBook } from './doors/device-book'
import { doors } from './doors/doors'
import { healthOf } from './doors/health'
import { type Listener, openListener } from './doors/listener'
import { openMetrics } from './doors/metrics'
import { handedOn, reachedAt } from './doors/reach'
import { openLog, reportTo } from './doors/request-log'
import { keptSecret } from './doors/secret'
import { readSettings, type Settings } from './doors/settings'
import { shownCode } from './doors/terminal'
import { Unusable } from './doors/unusable'
import { say } from './doors/words'
import { jobLogFile } from './jobs/log/sqlite-file'
import { openJobLog } from './jobs/log/sqlite-job-log'
import { openShares } from './jobs/share/sqlite-shares'
import { printingApart } from './sheet-pdf/printing-apart'

/** The server's home: a listener, the job log in SQLite, and doors that stand between the two. */
async function start(settings: Settings): Promise<void> {
  const { log, flush } = openLog(settings.log)
  const report = reportTo(log)
  const metrics = openMetrics(true)
  const lock = settings.locked
    ? { book: openDeviceBook(settings.data), secret: settings.secret ?? keptSecret(settings.data) }
    : undefined
  const jobs = await openJobLog({ file: jobLogFile(process.env) })
  if (!jobs.ok) console.error(say('start.noLog', { why: jobs.message }))

  const shares = jobs.ok ? await openShares({ file: jobLogFile(process.env) }) : jobs

  let isStopping = false
  const vitals = { log: jobs, book: lock?.book, folder: settings.data, isStopping: () => isStopping }
  const app = createApp({
    ...(jobs.ok ? { log: jobs.value } : { noLog: say('refused.noLog') }),
    sheetPdf: printingApart(join(import.meta.dirname, 'sheet-printer.js')),
    ...(shares.ok ? { sharing: sharing(shares.value) } : {}),
    publicAddress: (asked) => handedOn(settings, listener.port, asked),
    described,
    health: healthOf(vitals),
    report,
    doors: doors({ settings, log, metrics, lock }),
  })
  serveBuilt(app, join(import.meta.dirname, 'browser'))
  const listener = await listen(settings, { fetch: app.fetch, metrics })

  const stop = async (): Promise<void> => {
    if (isStopping) return
    isStopping = true
    await listener.stop()
    if (shares.ok) await shares.value.close()
    if (jobs.ok) await jobs.value.close()
    lock?.book.close()
    flush()
  }
  for (const signal of ['SIGTERM', 'SIGINT']) process.once(signal, stop)
  process.once('uncaughtException', (fault) => {
    report(fault)
    process.exitCode = 1
    void stop()
  })
  greet(settings, listener.port, lock?.book)
}

/** @throws Unusable where the address or the port cannot be had */
async function listen(
  settings: Settings,
  rest: Pick<Parameters<typeof openListener>[0], 'fetch' | 'metrics'>,
): Promise<Listener> {
  try {
    return await openListener({ ...settings, ...rest })
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? String(error.code) : String(error)
    throw new Unusable(say('start.noListen', { address: `${settings.host}:${settings.port}`, why }))
  }
}

/** Says where the server is; to whom no device is paired yet, how to pair one. */
function greet(settings: Settings, port: number, book: DeviceBook | undefined): void {
  const at = (host: string) => `http://${inBrackets(host)}:${port}`
  console.info(say('start.ready', { address: at(settings.host) }))
  if (!book) return
  const { host, proxied } = settings
  const address = reachedAt(settings, port)
  book.setAddress(address)
  if (!proxied && !isLoopback(host)) console.info(say('start.plain'))
  if (book.list(new Date()).length > 0) return
  // Only where a person looks: a code must not stand in a file of somebody's log.
  console.info(process.stdout.isTTY ? shownCode(book.newCode(new Date()), address) : say('start.unpaired'))
}

// What is written, nobody but the owner may read.
process.umask(0o077)
const read = readSettings(process.env)
try {
  if (!read.ok) throw new Unusable(read.message)
  await start(read.settings)
} catch (error) {
  if (!(error instanceof Unusable)) throw error
  console.error(error.message)
  process.exitCode = 1
}
