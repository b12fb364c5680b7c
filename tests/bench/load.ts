import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import autocannon from 'autocannon'
import { questions } from '../../src/questions/registry'
import { gaugeRequests } from './gauge-requests'
import { type Measured, median } from './measured'

const connections = 200
/** `LADDERSIDE_BENCH_SECONDS` makes it shorter. */
const seconds = Number(process.env.LADDERSIDE_BENCH_SECONDS ?? 60)
const rounds = 3

/** What the event loop may be held up for at most, in ms. */
const mostHeldUpMs = 20

type Server = { process: ChildProcess; port: number }
type Worst = { maxMs: number; p999Ms: number }
type Watched = { clock: Worst; own: Worst; node: Worst; processorUs: number }
type Figures = { perSecond: number; p99Ms: number; meanMs: number; perRequestUs: number; heldUp: Watched }

async function started(
  script: string,
  port: number,
  environment: Record<string, string> = {},
): Promise<Server> {
  const child = spawn(process.execPath, ['--import', './dist/bench/loop-watch.js', script], {
    env: { ...process.env, HOST: '127.0.0.1', PORT: String(port), ...environment },
    stdio: ['ignore', 'pipe', 'inherit', 'ipc'],
  })
  if (child.stdout) await once(child.stdout, 'data')
  child.stdout?.resume()
  return { process: child, port }
}

async function stopped({ process: child }: Server): Promise<void> {
  const ended = once(child, 'exit')
  child.kill('SIGTERM')
  await ended
}

async function watched({ process: child }: Server): Promise<Watched> {
  const told = once(child, 'message')
  child.send('read')
  const [figures] = await told
  return figures as Watched
}

async function loaded(
  server: Server,
  duration: number,
  requests: autocannon.Request[] = gaugeRequests,
): Promise<Figures> {
  await watched(server)
  const url = `http://127.0.0.1:${server.port}`
  const result = await autocannon({ url, connections, duration, requests })
  const heldUp = await watched(server)
  const { errors, timeouts, non2xx, latency, requests: counted } = result
  if (errors + timeouts + non2xx > 0) {
    throw new Error(`${errors} errors, ${timeouts} timeouts, ${non2xx} answers that were not 200`)
  }
  return {
    perSecond: counted.average,
    p99Ms: latency.p99,
    meanMs: latency.average,
    perRequestUs: heldUp.processorUs / result['2xx'],
    heldUp,
  }
}

/** What people do all day: pages, forms, their files, the catalogue, typed lines. */
const everyday = (): autocannon.Request[] => [
  ...questions.map(({ id }) => ({ method: 'GET' as const, path: `/q/${id}` })),
  ...['/', '/style.css', '/page.js', '/icon.svg', '/healthz', '/api/questions'].map((path) => ({
    method: 'GET' as const,
    path,
  })),
  ...['what gauge for 40 feet at 24 volts, 60 watts', 'may I bore a 2 inch hole in a 2x10 joist'].map(
    (text) => ({
      method: 'POST' as const,
      path: '/api/ask',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ text }),
    }),
  ),
]

/** What takes the longest of what an electrician asks: mixed bundles, tape fed from both ends, claims on it. */
const longSums = (): autocannon.Request[] =>
  Array.from({ length: 60 }, (_, i) => {
    const tape = { voltage: '24 V', tapePower: `${8 + (i % 12)} W/m`, driverPower: `${60 + 20 * (i % 9)} W` }
    const kinds = [
      {
        path: '/api/questions/hole-fit',
        body: {
          cables: ['6 mm', '8 mm', '9.5 mm', '11 mm'].map((diameter, at) => ({
            count: 1 + ((i + at) % 5),
            diameter,
          })),
        },
      },
      {
        path: '/api/questions/tape-reach',
        body: { ...tape, feed: 'both-ends', feedDistance: `${1 + (i % 7)} m` },
      },
      {
        path: '/api/questions/tape-reach',
        body: { ...tape, feed: 'both-ends', claim: `${10 + (i % 20)} m` },
      },
    ]
    const { path, body } = kinds[i % kinds.length] ?? { path: '/', body: {} }
    const headers = { 'content-type': 'application/json' }
    return { method: 'POST' as const, path, headers, body: JSON.stringify(body) }
  })

const tell = (what: string, { perSecond, p99Ms, meanMs, perRequestUs, heldUp }: Figures): void =>
  console.info(
    `  ${what}: ${Math.round(perSecond)} per second, mean ${meanMs.toFixed(1)} ms, p99 ${p99Ms} ms, no errors; ${Math.round(perRequestUs)} µs of a processor for each; ` +
      `event loop held up for ${printed(heldUp.own)}, by the clock for ${printed(heldUp.clock)}, by node's watch for ${printed(heldUp.node)}`,
  )

const printed = ({ maxMs, p999Ms }: Worst): string =>
  `${maxMs.toFixed(1)} ms at most (${p999Ms.toFixed(1)} ms at p99.9)`

const medianOf = (all: readonly Figures[], figure: (figures: Figures) => number): number =>
  median(all.map(figure))

/**
 * 200 connections at once against the whole server (doors, a log line for each request, figures), in turn with the
 * same app without doors and with a bare hono route: throughput, processor time, the slowest of a hundred, errors, and
 * how long each event loop was held up, without the time for which it waited for a processor that others had.
 */
export async function benchLoad(): Promise<Measured[]> {
  const folder = mkdtempSync(join(tmpdir(), 'ladderside-load-'))
  const whole = await started('dist/server.js', 3163, { LADDERSIDE_DATA: folder, LADDERSIDE_LOG: 'requests' })
  const plain = await started('dist/bench/plain-server.js', 3164)
  const bare = await started('dist/bench/bare-server.js', 3165)
  const servers = { whole, plain, bare }
  try {
    for (const server of Object.values(servers)) await loaded(server, 3)
    const figures: Record<keyof typeof servers, Figures[]> = { whole: [], plain: [], bare: [] }
    for (let round = 0; round < rounds; round += 1) {
      for (const [name, server] of Object.entries(servers) as [keyof typeof servers, Server][]) {
        const measured = await loaded(server, name === 'whole' ? seconds / rounds : seconds / rounds / 3)
        tell(name, measured)
        figures[name].push(measured)
      }
    }
    await loaded(whole, 3, everyday())
    const mixed = await loaded(whole, seconds / rounds, everyday())
    tell('everyday', mixed)
    await loaded(whole, 3, longSums())
    const long = await loaded(whole, seconds / rounds, longSums())
    tell('the longest sums', long)
    console.info(`  the machine's load meanwhile: ${loadavg()[0]?.toFixed(1)}`)
    const perRequest = (name: keyof typeof servers) => medianOf(figures[name], (each) => each.perRequestUs)
    const perSecond = (name: keyof typeof servers) => medianOf(figures[name], (each) => each.perSecond)
    return [
      {
        name: 'processor time of a request without doors / with them',
        ratio: perRequest('plain') / perRequest('whole'),
        target: 0.85,
        is: 'at least',
      },
      {
        name: 'throughput of feed-gauge / a bare hono route',
        ratio: perSecond('whole') / perSecond('bare'),
        target: 0.5,
        is: 'at least',
      },
      {
        name: 'p99 / mean',
        ratio: medianOf(figures.whole, ({ p99Ms, meanMs }) => p99Ms / meanMs),
        target: 2,
        is: 'at most',
      },
      {
        name: `longest hold-up of the event loop / ${mostHeldUpMs} ms`,
        ratio: Math.max(...figures.whole.map(({ heldUp }) => heldUp.own.maxMs)) / mostHeldUpMs,
        target: 1,
        is: 'at most',
      },
      {
        name: `longest hold-up, everyday / ${mostHeldUpMs} ms`,
        ratio: mixed.heldUp.own.maxMs / mostHeldUpMs,
        target: 1,
        is: 'at most',
      },
      {
        name: `longest hold-up, the longest sums / ${mostHeldUpMs} ms`,
        ratio: long.heldUp.own.maxMs / mostHeldUpMs,
        target: 1,
        is: 'at most',
      },
    ]
  } finally {
    await Promise.all(Object.values(servers).map(stopped))
    rmSync(folder, { recursive: true, force: true })
  }
}
