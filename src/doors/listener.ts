import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import { type AddressInfo, Server as NetServer, type Socket } from 'node:net'
import { getRequestListener } from '@hono/node-server'
import { isLoopback, networkOf } from './addresses'
import { openAdmission } from './admission'
import type { Metrics } from './metrics'
import { say } from './words'

/** What a client may take of the server. Times in ms. */
export const usualLimits = {
  headerBytes: 16 * 1024,
  /** From the first byte to the last of the headers: who sends them letter by letter is cut off. */
  headersMs: 10_000,
  /** From the first byte of the headers to the last of the body. */
  requestMs: 30_000,
  /** Without a byte in either direction. */
  silenceMs: 60_000,
  /** Between two requests of one connection. A proxy keeps its own for a minute, and must not find one just closed. */
  keepAliveMs: 10_000,
  keepAliveBehindProxyMs: 75_000,
  connections: 512,
  /** Of one network that is not this machine, so that no single one takes them all. */
  connectionsOfANetwork: 64,
  /** How long open connections are waited for when the server stops, before they are cut off. */
  stoppingMs: 20_000,
  /** How long a connection that does nothing is left open then: its next request may be under way. */
  idleStoppingMs: 1500,
  /** How often headers and requests that take too long are looked for. */
  checkingMs: 1000,
}

export type Limits = typeof usualLimits

/** What the listener hands each request to: `env` carries the connection to hono. */
export type Fetch = (request: Request, env: object) => Response | Promise<Response>

/** A server that listens. */
export type Listener = { port: number; stop(): Promise<void> }

/** What a listener is opened with. */
export type Listening = {
  fetch: Fetch
  host: string
  /** 0 takes any that is free. */
  port: number
  proxied: boolean
  metrics: Metrics
  limits?: Limits
}

/** What is under way. */
type Standing = { isStopping: boolean; answering: Set<ServerResponse> }

/** Begins to listen; rejects where the address or port cannot be had. */
export async function openListener(listening: Listening): Promise<Listener> {
  const { fetch, host, port, proxied, metrics, limits = usualLimits } = listening
  const answer = getRequestListener(proxied ? asSeenByProxy(fetch) : fetch, { hostname: host })
  const admission = openAdmission()
  metrics.watchWaiting(admission.waiting)
  const standing: Standing = { isStopping: false, answering: new Set() }
  const server = createServer(
    {
      maxHeaderSize: limits.headerBytes,
      headersTimeout: limits.headersMs,
      requestTimeout: limits.requestMs,
      keepAliveTimeout: proxied ? limits.keepAliveBehindProxyMs : limits.keepAliveMs,
      connectionsCheckingInterval: limits.checkingMs,
    },
    (incoming, outgoing) => {
      if (standing.isStopping) outgoing.setHeader('connection', 'close')
      standing.answering.add(outgoing)
      outgoing.once('close', () => standing.answering.delete(outgoing))
      admission.arrive({
        begin: () => void answer(incoming, outgoing),
        turnAway: () => turnAway(incoming, outgoing, metrics),
        isGone: () => outgoing.destroyed,
      })
    },
  )
  server.setTimeout(limits.silenceMs)
  limitConnections(server, metrics, limits)
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(port, host, resolve)
  })
  return { port: (server.address() as AddressInfo).port, stop: () => stop(server, standing, limits) }
}

/** Behind a proxy that ends HTTPS, a request says by which of the two it came. */
const asSeenByProxy =
  (fetch: Fetch): Fetch =>
  (request, env) => {
    if (request.headers.get('x-forwarded-proto')?.split(',').at(-1)?.trim() !== 'https')
      return fetch(request, env)
    return fetch(new Request(request.url.replace(/^http:/, 'https:'), request), env)
  }

/** Says no as cheaply as it can be said. */
function turnAway(incoming: IncomingMessage, outgoing: ServerResponse, metrics: Metrics): void {
  metrics.turnedAway('too-many-requests')
  const body = JSON.stringify({ type: 'about:blank', title: say('refused.busy'), status: 503 })
  outgoing.writeHead(503, {
    'content-type': 'application/problem+json',
    'retry-after': '1',
    'x-content-type-options': 'nosniff',
    connection: 'close',
  })
  outgoing.end(body)
  incoming.resume()
}

function limitConnections(server: Server, metrics: Metrics, limits: Limits): void {
  server.maxConnections = limits.connections
  server.on('drop', () => metrics.turnedAway('too-many-connections'))
  const open = new Map<string, number>()
  server.on('connection', (socket: Socket) => {
    const address = socket.remoteAddress ?? ''
    // A proxy on this machine brings everybody's.
    if (isLoopback(address)) return
    const network = networkOf(address)
    const count = (open.get(network) ?? 0) + 1
    if (count > limits.connectionsOfANetwork) {
      metrics.turnedAway('too-many-connections')
      socket.destroy()
      return
    }
    open.set(network, count)
    socket.once('close', () => {
      const left = (open.get(network) ?? 1) - 1
      if (left === 0) open.delete(network)
      else open.set(network, left)
    })
  })
}

/**
 * Stops without cutting a request off: takes no new connection, answers what is asked on the open ones and lets each
 * go with its answer; then lets go of those that ask nothing.
 */
async function stop(server: Server, standing: Standing, limits: Limits): Promise<void> {
  standing.isStopping = true
  for (const outgoing of standing.answering) {
    if (!outgoing.headersSent) outgoing.setHeader('connection', 'close')
  }
  const closed = new Promise<void>((resolve) => {
    // http's own close() drops idle connections at once, and with them the requests that are on their way.
    NetServer.prototype.close.call(server, () => resolve())
  })
  const idle = setTimeout(() => server.closeIdleConnections(), limits.idleStoppingMs)
  const last = setTimeout(() => server.closeAllConnections(), limits.stoppingMs)
  await closed
  clearTimeout(idle)
  clearTimeout(last)
}
