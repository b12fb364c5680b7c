import { readFileSync } from 'node:fs'
import { request as plainRequest } from 'node:http'
import { createServer, request, type Server } from 'node:https'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Listener, openListener } from '../../src/doors/listener'
import { openMetrics } from '../../src/doors/metrics'
import { temporaryFolder } from '../jobs/log/built'
import { type Standing, standing } from './standing'

/*
 * The server behind a proxy that ends HTTPS and does what src/doors/deploy/Caddyfile does: keeps the host, writes
 * X-Forwarded-Proto anew, and puts the address of whoever asked behind what X-Forwarded-For said.
 */

const folder = temporaryFolder()
const fixture = (name: string) => readFileSync(join(import.meta.dirname, 'fixtures', name))
const certificate = fixture('test-only-certificate.pem')

let server: Standing
let listener: Listener
let proxy: Server
let port = 0

beforeAll(async () => {
  server = standing(folder, { proxied: true, name: 'lights.example', host: '127.0.0.1' })
  const metrics = openMetrics(false)
  listener = await openListener({
    fetch: server.app.fetch,
    host: '127.0.0.1',
    port: 0,
    proxied: true,
    metrics,
  })
  proxy = createServer({ key: fixture('test-only-key.pem'), cert: certificate }, (incoming, outgoing) => {
    const said = incoming.headers['x-forwarded-for']
    const headers = {
      ...incoming.headers,
      'x-forwarded-proto': 'https',
      'x-forwarded-for': said ? `${said}, 203.0.113.5` : '203.0.113.5',
    }
    const { method, url: path } = incoming
    const passed = plainRequest(
      { port: listener.port, host: '127.0.0.1', method, path, headers },
      (answer) => {
        outgoing.writeHead(answer.statusCode ?? 502, answer.headers)
        answer.pipe(outgoing)
      },
    )
    incoming.pipe(passed)
  })
  await new Promise<void>((resolve) => proxy.listen(0, '127.0.0.1', resolve))
  port = (proxy.address() as AddressInfo).port
})

afterAll(async () => {
  proxy.close()
  proxy.closeAllConnections()
  await listener.stop()
})

type Answer = { status: number; headers: Record<string, string | string[] | undefined>; text: string }

/** Asks through the proxy by TLS, the certificate checked. */
const ask = (path: string, headers: Record<string, string> = {}, body?: string): Promise<Answer> =>
  new Promise((resolve, reject) => {
    const sent = request(
      {
        host: '127.0.0.1',
        port,
        path,
        method: body === undefined ? 'GET' : 'POST',
        headers: { host: `lights.example:${port}`, ...headers },
        servername: 'lights.example',
        ca: certificate,
      },
      (response) => {
        let text = ''
        response.setEncoding('utf8').on('data', (chunk) => {
          text += chunk
        })
        response.on('end', () =>
          resolve({ status: response.statusCode ?? 0, headers: response.headers, text }),
        )
      },
    )
    sent.on('error', reject)
    sent.end(body)
  })

const own = () => ({
  origin: `https://lights.example:${port}`,
  'content-type': 'application/x-www-form-urlencoded',
})

describe('behind a proxy that ends HTTPS', () => {
  it('[9.1.1, 3.4.1, 3.4.4] pairs by HTTPS, with a cookie that is bound to it, and answers the device', async () => {
    const code = server.book.newCode(new Date())
    const paired = await ask('/pair', own(), `code=${code}&name=Phone`)
    expect([paired.status, paired.headers.location]).toEqual([303, '/devices'])
    const [cookie = ''] = paired.headers['set-cookie'] ?? []
    expect(cookie).toMatch(/^__Host-ladderside-device=.*; Secure/)
    const kept = { cookie: cookie.split(';')[0] ?? '' }
    expect((await ask('/devices', kept)).text).toContain('Phone')
    const line = 'text=what+gauge+for+40+feet+at+24+volts%2C+60+watts'
    expect((await ask('/ask', { ...own(), ...kept }, line)).text).toContain('14 AWG')
    const elsewhere = { ...own(), ...kept, origin: 'https://elsewhere.example' }
    expect((await ask('/ask', elsewhere, line)).status).toBe(403)
    const plain = { ...own(), ...kept, origin: `http://lights.example:${port}` }
    expect((await ask('/ask', plain, line)).status).toBe(403)
  })

  it('[2.2.1] counts tries by the address that the proxy saw, whatever else is claimed', async () => {
    const tries: number[] = []
    for (let claimed = 1; claimed <= 6; claimed += 1) {
      const headers = { ...own(), 'x-forwarded-for': `10.0.0.${claimed}` }
      tries.push((await ask('/pair', headers, 'code=AAAA-AAAA')).status)
    }
    expect(tries).toEqual([422, 422, 422, 422, 422, 429])
  })

  it('[4.1.3] shows its figures to no visitor, though the proxy is on this machine', async () => {
    expect((await ask('/metrics', { 'x-forwarded-for': '127.0.0.1' })).status).toBe(401)
    const here = await fetch(`http://127.0.0.1:${listener.port}/metrics`)
    expect(here.status).toBe(200)
  })

  it('[9.1.1] pairs nobody who comes round the proxy by a plain connection', async () => {
    const at = `http://127.0.0.1:${listener.port}`
    const code = server.book.newCode(new Date())
    const body = new URLSearchParams({ code })
    const answer = await fetch(`${at}/pair`, { method: 'POST', headers: { origin: at }, body })
    expect([answer.status, answer.headers.get('set-cookie')]).toEqual([403, null])
  })

  it('without being told of a proxy, believes none', async () => {
    const alone = standing(join(folder, 'alone'), { host: '127.0.0.1' })
    const metrics = openMetrics(false)
    const opened = { fetch: alone.app.fetch, host: '127.0.0.1', port: 0, proxied: false, metrics }
    const other = await openListener(opened)
    const at = `http://127.0.0.1:${other.port}`
    const headers = { 'x-forwarded-proto': 'https', origin: at.replace('http:', 'https:') }
    const body = new URLSearchParams({ code: alone.book.newCode(new Date()) })
    expect((await fetch(`${at}/pair`, { method: 'POST', headers, body })).status).toBe(403)
    await other.stop()
  })
})
