import { once } from 'node:events'
import { Agent, get } from 'node:http'
import { connect, type Socket } from 'node:net'
import { networkInterfaces } from 'node:os'
import { setTimeout as pause } from 'node:timers/promises'
import { Hono } from 'hono'
import { afterEach, describe, expect, it } from 'vitest'
import { type Limits, type Listener, openListener, usualLimits } from '../../src/doors/listener'
import { openMetrics } from '../../src/doors/metrics'
import { temporaryFolder } from '../jobs/log/built'
import { standing } from './standing'

/** Attacks on the connection itself, against a real listener; the items are of OWASP ASVS 4.0.3, from memory. */

const folder = temporaryFolder()
let count = 0
const listeners: Listener[] = []
const sockets: Socket[] = []

afterEach(async () => {
  for (const socket of sockets.splice(0)) socket.destroy()
  await Promise.all(listeners.splice(0).map((listener) => listener.stop()))
})

async function listening(
  limits: Partial<Limits> = {},
  fetch?: Parameters<typeof openListener>[0]['fetch'],
): Promise<{ port: number; figures: () => Promise<string> }> {
  count += 1
  const { app } = standing(`${folder}/${count}`)
  const metrics = openMetrics(false)
  const all = { ...usualLimits, idleStoppingMs: 10, checkingMs: 50, ...limits }
  const opened = { fetch: fetch ?? app.fetch, host: '0.0.0.0', port: 0, proxied: false, metrics, limits: all }
  const listener = await openListener(opened)
  listeners.push(listener)
  const shown = new Hono().get('/', metrics.show)
  return { port: listener.port, figures: async () => (await shown.request('/')).text() }
}

async function connected(port: number, host = '127.0.0.1'): Promise<Socket> {
  const socket = connect(port, host)
  socket.on('error', () => undefined)
  sockets.push(socket)
  await once(socket, 'connect')
  return socket
}

/** Sends bytes as they are, and gives what comes back until the connection is closed or nothing more comes. */
async function answerTo(port: number, bytes: string | Buffer, quietMs = 300): Promise<string> {
  const socket = await connected(port)
  let answer = ''
  let last = Date.now()
  socket.on('data', (chunk) => {
    answer += chunk.toString('latin1')
    last = Date.now()
  })
  socket.write(bytes)
  while (!socket.destroyed && Date.now() - last < quietMs) await pause(10)
  socket.destroy()
  return answer
}

const statusOf = (answer: string): string => answer.split(' ')[1] ?? ''

const isHealthy = async (port: number): Promise<boolean> =>
  (await fetch(`http://127.0.0.1:${port}/healthz`)).ok

describe('who sends letter by letter', () => {
  it('[slowloris] is cut off while the headers come, and keeps nobody else waiting', async () => {
    const { port } = await listening({ headersMs: 400, requestMs: 1000 })
    const slow = await Promise.all(Array.from({ length: 60 }, () => connected(port)))
    const closed = Promise.all(slow.map((socket) => once(socket, 'close')))
    for (const socket of slow) socket.write('GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n')
    const letters = setInterval(() => {
      for (const socket of slow) if (!socket.destroyed) socket.write('x')
    }, 50)
    expect(await isHealthy(port)).toBe(true)
    for (const socket of slow) socket.resume()
    await closed
    clearInterval(letters)
    expect(await isHealthy(port)).toBe(true)
  })

  it('[slow body] is cut off while the body comes', async () => {
    const { port } = await listening({ headersMs: 300, requestMs: 500 })
    const socket = await connected(port)
    const head =
      'POST /api/ask HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: 60000\r\n\r\n'
    socket.write(head)
    const letters = setInterval(() => socket.destroyed || socket.write('x'), 50)
    socket.resume()
    await once(socket, 'close')
    clearInterval(letters)
    expect(await isHealthy(port)).toBe(true)
  })

  it('[silence] is cut off when nothing comes at all', async () => {
    const { port } = await listening({ silenceMs: 300 })
    const socket = await connected(port)
    socket.resume()
    await once(socket, 'close')
  })

  it('[slow reader] is cut off when it takes nothing', async () => {
    const large = () => new Response('x'.repeat(32 * 1024 * 1024))
    const { port } = await listening({ silenceMs: 500 }, large)
    const socket = await connected(port)
    socket.pause()
    socket.write('GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n')
    await pause(1500)
    const closed = once(socket, 'close')
    socket.resume()
    await closed
    expect(socket.bytesRead).toBeLessThan(32 * 1024 * 1024)
  })
})

describe('who sends too much', () => {
  it('[headers] is refused with 431', async () => {
    const { port } = await listening()
    const answer = await answerTo(
      port,
      `GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX: ${'x'.repeat(17_000)}\r\n\r\n`,
    )
    expect(statusOf(answer)).toBe('431')
  })

  it('[address] is refused with 431', async () => {
    const { port } = await listening()
    const answer = await answerTo(port, `GET /${'x'.repeat(17_000)} HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n`)
    expect(statusOf(answer)).toBe('431')
  })

  it('[12.1.1, body] is refused with 413 before the body is read, told or not told how long it is', async () => {
    const { port } = await listening()
    const head =
      'POST /pair HTTP/1.1\r\nHost: 127.0.0.1\r\nOrigin: http://127.0.0.1\r\nContent-Type: application/x-www-form-urlencoded\r\n'
    expect(statusOf(await answerTo(port, `${head}Content-Length: 10000000\r\n\r\ncode=x`))).toBe('413')
    const chunk = `1000\r\n${'x'.repeat(4096)}\r\n`
    expect(statusOf(await answerTo(port, `${head}Transfer-Encoding: chunked\r\n\r\n${chunk}${chunk}`))).toBe(
      '413',
    )
  })

  it('[connections] gets no more of them than there are, and everybody else gets in again afterwards', async () => {
    const { port, figures } = await listening({ connections: 20 })
    const all = await Promise.all(Array.from({ length: 20 }, () => connected(port)))
    const more = await connected(port)
    more.resume()
    await once(more, 'close')
    expect(await figures()).toContain('ladderside_turned_away_total{why="too-many-connections"} 1')
    for (const socket of all) socket.destroy()
    await pause(100)
    expect(await isHealthy(port)).toBe(true)
  })

  // Where a machine has no address but its loopback ones, it cannot be another machine's.
  const own = Object.values(networkInterfaces())
    .flatMap((each) => each ?? [])
    .find(({ internal, family }) => !internal && family === 'IPv4')?.address

  it.runIf(own)('[connections] of one other machine gets a part of them only', async () => {
    const { port } = await listening({ connectionsOfANetwork: 5 })
    const all = await Promise.all(Array.from({ length: 8 }, () => connected(port, own)))
    await pause(200)
    for (const socket of all) socket.resume()
    await pause(50)
    expect(all.filter((socket) => socket.destroyed || socket.readableEnded)).toHaveLength(3)
    expect(await isHealthy(port)).toBe(true)
    for (const socket of all) socket.destroy()
    await pause(100)
    expect((await fetch(`http://${own}:${port}/healthz`)).ok).toBe(true)
  })

  it('[pipelining] of thousands of requests on one connection is answered or turned away, and others get in', async () => {
    const { port, figures } = await listening()
    const bytes = 'GET /healthz HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n'.repeat(3000)
    const flood = answerTo(port, bytes, 1000)
    expect(await isHealthy(port)).toBe(true)
    const statuses = [...(await flood).matchAll(/HTTP\/1\.1 (\d+)/g)].map(([, status]) => status)
    expect(new Set(statuses).size).toBeGreaterThan(0)
    expect(statuses.every((status) => status === '200' || status === '503')).toBe(true)
    expect(await figures()).toContain('ladderside_waiting_requests 0')
    expect(await isHealthy(port)).toBe(true)
  })
})

describe('who sends what is no request', () => {
  const host = 'Host: 127.0.0.1\r\n'
  const broken: [string, string | Buffer, RegExp][] = [
    ['noise', Buffer.from(Array.from({ length: 256 }, (_, byte) => byte)), /^(400|)$/],
    ['a request of TLS', Buffer.from('160301020001', 'hex'), /^(400|)$/],
    ['no host', 'GET / HTTP/1.1\r\n\r\n', /^400$/],
    ['two hosts', `GET / HTTP/1.1\r\n${host}Host: elsewhere.example\r\n\r\n`, /^(400|421|401)$/],
    ['a host that is none', 'GET / HTTP/1.1\r\nHost: a b\r\n\r\n', /^400$/],
    ['a host with a way in it', 'GET / HTTP/1.1\r\nHost: 127.0.0.1/pair?\r\n\r\n', /^400$/],
    ['another host in the target', `GET http://elsewhere.example/ HTTP/1.1\r\n${host}\r\n`, /^421$/],
    ['a backslash in the target', `GET /\\elsewhere.example HTTP/1.1\r\n${host}\r\n`, /^(400|401)$/],
    ['a header of two lines', `GET / HTTP/1.1\r\n${host}X: a\r\n b\r\n\r\n`, /^(400|401)$/],
    ['a zero byte', `GET /\0 HTTP/1.1\r\n${host}\r\n`, /^400$/],
    ['two lengths', `POST /pair HTTP/1.1\r\n${host}Content-Length: 1\r\nContent-Length: 2\r\n\r\nx`, /^400$/],
    [
      'a length and chunks',
      `POST /pair HTTP/1.1\r\n${host}Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n`,
      /^400$/,
    ],
    [
      'chunks of another kind',
      `POST /pair HTTP/1.1\r\n${host}Transfer-Encoding: chunked, identity\r\n\r\n0\r\n\r\n`,
      /^400$/,
    ],
    ['a length below nothing', `POST /pair HTTP/1.1\r\n${host}Content-Length: -1\r\n\r\n`, /^400$/],
    ['a way through', `CONNECT elsewhere.example:443 HTTP/1.1\r\n${host}\r\n`, /^(|400|404|405)$/],
    ['a trace', `TRACE / HTTP/1.1\r\n${host}Cookie: a=b\r\n\r\n`, /^(401|403|404|405)$/],
    [
      'another protocol',
      `GET / HTTP/1.1\r\n${host}Connection: Upgrade\r\nUpgrade: websocket\r\n\r\n`,
      /^401$/,
    ],
    ['HTTP/2 without asking', 'PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n', /^(400|)$/],
    ['a method of nobody', `FROB / HTTP/1.1\r\n${host}\r\n`, /^400$/],
  ]

  it.each(broken)(
    '[%s] gets no stack and nothing else, and the next one is served',
    async (_, bytes, status) => {
      const { port } = await listening()
      const answer = await answerTo(port, bytes)
      expect(statusOf(answer)).toMatch(status)
      expect(answer).not.toMatch(/Error:|node_modules|\.[tj]s:\d|^\s+at /m)
      expect(answer).not.toContain('a=b')
      expect(await isHealthy(port)).toBe(true)
    },
  )

  it('[13.1.1, smuggling] leaves nothing over for the request after it', async () => {
    const { port } = await listening()
    const hidden = `GET /metrics HTTP/1.1\r\n${host}\r\n`
    const bytes = `POST /pair HTTP/1.1\r\n${host}Transfer-Encoding: chunked\r\nContent-Length: ${hidden.length}\r\n\r\n0\r\n\r\n${hidden}`
    const answers = (await answerTo(port, bytes)).match(/HTTP\/1\.1 \d+/g)
    expect(answers).toEqual(['HTTP/1.1 400'])
  })
})

describe('a listener that stops', () => {
  it('answers what was asked, also on connections that it keeps, and takes no new ones', async () => {
    const slow = async () => {
      await pause(300)
      return new Response('done')
    }
    const { port } = await listening({ idleStoppingMs: 200 }, slow)
    const agent = new Agent({ keepAlive: true, maxSockets: 1 })
    const ask = () =>
      new Promise<string>((resolve, reject) => {
        get({ port, agent, host: '127.0.0.1' }, (response) => {
          response.setEncoding('utf8').on('data', (text) => resolve(`${text} ${response.headers.connection}`))
        }).on('error', reject)
      })
    expect(await ask()).toBe('done keep-alive')
    const second = ask()
    await pause(50)
    const [listener] = listeners.splice(0)
    const stopped = listener?.stop()
    expect(await second).toBe('done close')
    await stopped
    await expect(fetch(`http://127.0.0.1:${port}/`)).rejects.toThrow()
    agent.destroy()
  })

  it('answers a request that comes on a kept connection while it stops', async () => {
    const { port } = await listening({ idleStoppingMs: 1000 })
    const socket = await connected(port)
    const request = 'GET /healthz HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n'
    socket.write(request)
    await once(socket, 'data')
    const [listener] = listeners.splice(0)
    const stopped = listener?.stop()
    await pause(100)
    let answer = ''
    socket.on('data', (chunk) => {
      answer += chunk
    })
    socket.write(request)
    await Promise.all([stopped, once(socket, 'close')])
    expect(statusOf(answer)).toBe('200')
    expect(answer.toLowerCase()).toContain('connection: close')
  })
})
