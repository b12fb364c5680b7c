import { Writable } from 'node:stream'
import type { Hono } from 'hono'
import { createApp } from '../../src/app/app'
import { described } from '../../src/app/described'
import type { Home } from '../../src/app/home'
import { type DeviceBook, openDeviceBook } from '../../src/doors/device-book'
import { doors } from '../../src/doors/doors'
import { openMetrics } from '../../src/doors/metrics'
import { logTo, reportTo } from '../../src/doors/request-log'
import type { Settings } from '../../src/doors/settings'

/** As a server with no settings stands. */
export const unlocked: Settings = {
  port: 3150,
  host: '127.0.0.1',
  data: 'data/local',
  locked: false,
  proxied: false,
  log: 'requests',
}

/** What stands at an address: the app behind its doors, the list of devices, and every line it logged. */
export type Standing = {
  app: Hono
  book: DeviceBook
  lines: string[]
  /** Asks as whoever is at `peer`. */
  ask(address: string, init?: RequestInit, peer?: string): Promise<Response>
  /** Pairs a device and gives its cookie. */
  pair(name?: string): Promise<string>
}

/** Where the servers of these tests are reached. */
export const home = 'http://192.168.7.20:3150'

/** Some other machine. */
export const elsewhere = '192.168.7.31'

/** Sends a form as a browser sends it from a page of the server itself. */
export const form = (
  fields: Record<string, string>,
  origin = home,
  headers: HeadersInit = {},
): RequestInit => ({
  method: 'POST',
  headers: { origin, accept: 'text/html', ...headers },
  body: new URLSearchParams(fields),
})

/** The cookie that an answer gives, as a browser sends it back. */
export const cookieOf = (response: Response): string =>
  (response.headers.get('set-cookie') ?? '').split(';')[0] ?? ''

/** The app behind its doors, locked unless told otherwise. */
export function standing(folder: string, settings: Partial<Settings> = {}, parts: Home = {}): Standing {
  const all: Settings = { ...unlocked, host: '0.0.0.0', locked: true, data: folder, ...settings }
  const book = openDeviceBook(folder)
  const lines: string[] = []
  const stream = new Writable({
    write(chunk, _, done) {
      lines.push(String(chunk))
      done()
    },
  })
  const log = logTo(stream, all.log)
  const lock = all.locked ? { book, secret: 'the secret of a test, and of nothing else' } : undefined
  const app = createApp({
    described,
    ...parts,
    report: reportTo(log),
    doors: doors({ settings: all, log, metrics: openMetrics(false), lock }),
  })
  const ask = async (address: string, init: RequestInit = {}, peer = elsewhere) =>
    app.request(/^https?:/.test(address) ? address : home + address, init, {
      incoming: { socket: { remoteAddress: peer } },
    })
  const pair = async (name = 'Phone') =>
    cookieOf(await ask('/pair', form({ code: book.newCode(new Date()), name })))
  return { app, book, lines, ask, pair }
}
