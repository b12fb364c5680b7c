import { afterAll, describe, expect, it } from 'vitest'
import { createApp } from '../../src/app/app'
import type { Home } from '../../src/app/home'
import { sharing } from '../../src/app/sharing'
import { reportTo } from '../../src/doors/request-log'
import { newId } from '../../src/jobs/log/identifier'
import { openJobLog } from '../../src/jobs/log/sqlite-job-log'
import { openShares } from '../../src/jobs/share/sqlite-shares'
import { temporaryFolder } from '../jobs/log/built'
import { value } from '../jobs/log/samples'
import { cookieOf, elsewhere, form, home, type Standing, standing } from './standing'

/*
 * Attacks that were tried, each under the item of OWASP ASVS 4.0.3 (level 1) that it goes against. The numbers of the
 * items are from memory. What has to be tried on a real connection is in network.test.ts and proxy.test.ts.
 */

const folder = temporaryFolder()
let count = 0
const fresh = (
  ...more: Parameters<typeof standing> extends [string, ...infer Rest] ? Rest : never
): Standing => {
  count += 1
  return standing(`${folder}/${count}`, ...more)
}

/** All that the server's home can do, so that every route there is stands behind the doors. */
const log = value(await openJobLog({ file: `${folder}/jobs.sqlite` }))
const shares = value(await openShares({ file: `${folder}/jobs.sqlite` }))
const everything: Home = {
  log,
  sharing: sharing(shares),
  sheetPdf: async () => new Uint8Array(),
  publicAddress: () => home,
}
afterAll(async () => {
  await shares.close()
  await log.close()
})

const page = { headers: { accept: 'text/html' } }
const as = (cookie: string, headers: Record<string, string> = {}) => ({ headers: { cookie, ...headers } })

/** Every route that the app has now, a word in the place of each parameter. */
const routesOf = ({ app }: Standing): [string, string][] => {
  const all = app.routes
    .filter(({ path }) => !path.includes('*'))
    .map(({ method, path }) => [method === 'ALL' ? 'PUT' : method, path.replace(/:\w+(\{.*?\})?/g, 'x')])
  return [...new Set(all.map((route) => JSON.stringify(route)))].map((route) => JSON.parse(route))
}

const open = ['/healthz', '/pair', '/style.css', '/icon.svg', '/manifest.webmanifest']
const isOpen = (path: string) => open.includes(path) || path.startsWith('/s/')

describe('getting in without being paired', () => {
  const all = fresh({}, everything)

  it.each(routesOf(all))(
    '[4.1.1, 4.1.3] %s %s is shut, or is one of the few that are open',
    async (method, path) => {
      const { status } = await all.ask(path, { method, headers: { origin: home } })
      if (isOpen(path)) expect(status).not.toBe(401)
      else expect(status).toBe(401)
    },
  )

  it('[4.1.1] what does not exist is shut as well: nobody learns what there is', async () => {
    const answers = await Promise.all(['/nothing', '/q/feed-gauge', '/api/none'].map((path) => all.ask(path)))
    expect(await Promise.all(answers.map((answer) => answer.text()))).toEqual(
      Array(3).fill(await (await all.ask('/')).text()),
    )
  })

  it.each([
    '/pair/',
    '/PAIR/../q/feed-gauge',
    '//pair',
    '/pair%2f..%2fq/feed-gauge',
    '/s',
    '/s/../q/feed-gauge',
    '/s/%2e%2e/q/feed-gauge',
    '/style.css/../openapi.json',
    '/style.css;/openapi.json',
    '/openapi.json?/pair',
    '/openapi.json#/pair',
    '/api/questions/..;/pair',
    '/healthz%00/openapi.json',
    '/metrics',
  ])('[4.1.1, 12.3.1] %s is no way round', async (path) => {
    const { status } = await all.ask(path)
    expect([401, 404]).toContain(status)
  })

  it('[4.1.1] a page leads to the pairing page, anything for programs says 401 as a problem', async () => {
    const led = await all.ask('/q/feed-gauge', page)
    expect([led.status, led.headers.get('location')]).toEqual([303, '/pair'])
    const told = await all.ask('/api/questions', page)
    expect([told.status, told.headers.get('content-type')]).toEqual([401, 'application/problem+json'])
  })

  it.each([
    'x-original-url',
    'x-rewrite-url',
    'x-forwarded-for',
    'x-real-ip',
    'x-http-method-override',
    'authorization',
  ])('[4.1.2] the header %s opens nothing', async (header) => {
    for (const value of ['/pair', '127.0.0.1', 'GET', 'Bearer x']) {
      expect((await all.ask('/q/feed-gauge', { headers: { [header]: value } })).status).toBe(401)
    }
  })
})

describe('guessing a pairing code', () => {
  const wrong = (name = 'x') => form({ code: 'AAAA-AAAA', name })

  it('[2.2.1, 11.1.4] five tries, then even the right one has to wait', async () => {
    const { ask, book } = fresh()
    const statuses: number[] = []
    for (let tries = 0; tries < 6; tries += 1) statuses.push((await ask('/pair', wrong())).status)
    expect(statuses).toEqual([422, 422, 422, 422, 422, 429])
    const right = await ask('/pair', form({ code: book.newCode(new Date()), name: 'x' }))
    expect([right.status, right.headers.get('retry-after'), right.headers.get('set-cookie')]).toEqual([
      429,
      '600',
      null,
    ])
    const other = await ask('/pair', form({ code: book.newCode(new Date()), name: 'x' }), '192.168.7.99')
    expect(other.status).toBe(303)
  })

  it('[2.2.1] another address of the same IPv6 network, or one that is only claimed, is no new start', async () => {
    const { ask } = fresh()
    for (let tries = 0; tries < 5; tries += 1) await ask('/pair', wrong(), `2001:db8:1:2::${tries + 1}`)
    expect((await ask('/pair', wrong(), '2001:db8:1:2:aaaa::1')).status).toBe(429)
    for (let tries = 0; tries < 5; tries += 1) await ask('/pair', wrong(), '192.168.7.40')
    const claimed = form({ code: 'x' }, home, {
      'x-forwarded-for': '192.168.7.41',
      forwarded: 'for=192.168.7.42',
    })
    expect((await ask('/pair', claimed, '192.168.7.40')).status).toBe(429)
  })

  it('[2.2.1] a thousand machines together get no further than a thousand tries', async () => {
    const { ask, book } = fresh()
    for (let machine = 0; machine < 1000; machine += 1) {
      await ask('/pair', wrong(), `10.0.${machine >> 8}.${machine & 255}`)
    }
    const right = form({ code: book.newCode(new Date()), name: 'x' })
    expect((await ask('/pair', right, '10.1.0.0')).status).toBe(429)
  })

  it('[2.7.2, 2.7.3, 2.3.1] an old code, a used one and one of two lets nobody in', async () => {
    const { ask, book } = fresh()
    const old = book.newCode(new Date(Date.now() - 10 * 60_000 - 1))
    expect((await ask('/pair', form({ code: old }))).status).toBe(422)
    const code = book.newCode(new Date())
    const all = await Promise.all(Array.from({ length: 4 }, () => ask('/pair', form({ code }))))
    expect(all.map(({ status }) => status).sort()).toEqual([303, 422, 422, 422])
  })

  it.each([
    [{}],
    [{ code: '' }],
    [{ code: "' or 1=1 --" }],
    [{ code: '%' }],
    [{ code: '\u0000' }],
    [{ code: 'x'.repeat(500) }],
    [{ 'code[]': 'x' }],
    [{ __proto__: 'x', constructor: 'x' }],
  ])('[5.1.3, 5.3.4] %j is a wrong code and nothing more', async (fields) => {
    const { ask, book } = fresh()
    book.newCode(new Date())
    expect((await ask('/pair', form(fields as Record<string, string>))).status).toBe(422)
    expect(book.list(new Date())).toEqual([])
  })

  it('[5.1.1] a code given twice counts once', async () => {
    const { ask, book } = fresh()
    const good = book.newCode(new Date())
    const body = new URLSearchParams([
      ['code', 'AAAA-AAAA'],
      ['code', good],
    ])
    const { status } = await ask('/pair', { method: 'POST', headers: { origin: home }, body })
    expect([303, 422]).toContain(status)
    expect(book.list(new Date())).toHaveLength(status === 303 ? 1 : 0)
  })

  it.each([
    ['multipart/form-data; boundary=x', 'code=x'],
    ['multipart/form-data', '--x'],
    ['application/x-www-form-urlencoded', '%'],
    ['application/json', '{"code":"x"}'],
    ['', '\u0000'],
  ])('[5.1.4] a form of type %j that is none is refused', async (type, body) => {
    const { ask, pair } = fresh()
    const cookie = await pair()
    for (const path of ['/pair', '/ask']) {
      const headers = { origin: home, 'content-type': type, cookie }
      expect((await ask(path, { method: 'POST', headers, body })).status).toBeLessThan(500)
    }
  })

  it('[12.1.1] a body larger than a code and a name is not read', async () => {
    const { ask } = fresh()
    expect((await ask('/pair', form({ code: 'x'.repeat(3000) }))).status).toBe(413)
  })
})

describe('taking over a device', () => {
  it('[3.2.1, 3.2.2, 3.2.3, 3.4.2, 3.4.3, 3.4.5] the token is new, long, and out of reach of scripts and sites', async () => {
    const { ask, book } = fresh()
    const given = form({ code: book.newCode(new Date()) }, home, { cookie: 'ladderside-device=fixed' })
    const header = (await ask('/pair', given)).headers.get('set-cookie') ?? ''
    const [value = '', ...attributes] = header.split('; ')
    expect(attributes.sort()).toEqual(['HttpOnly', 'Max-Age=31536000', 'Path=/', 'SameSite=Lax'])
    const [token = ''] = decodeURIComponent(value.split('=')[1] ?? '').split('.')
    expect(Buffer.from(token, 'base64url')).toHaveLength(32)
  })

  it('[3.4.1, 3.4.4] behind HTTPS it is bound to this host and to HTTPS', async () => {
    const secure = fresh({ proxied: true, name: 'lights.example' })
    const https = 'https://lights.example'
    const given = form({ code: secure.book.newCode(new Date()) }, https)
    const header = (await secure.ask(`${https}/pair`, given)).headers.get('set-cookie') ?? ''
    expect(header).toMatch(/^__Host-ladderside-device=/)
    expect(header.split('; ').slice(1).sort()).toEqual([
      'HttpOnly',
      'Max-Age=31536000',
      'Path=/',
      'SameSite=Lax',
      'Secure',
    ])
    const plain = await secure.ask(
      'http://lights.example/pair',
      form({ code: secure.book.newCode(new Date()) }, 'http://lights.example'),
    )
    expect([plain.status, plain.headers.get('set-cookie')]).toEqual([403, null])
  })

  it('[3.4.4] a cookie without the prefix, which another host may set, is not read behind HTTPS', async () => {
    const secure = fresh({ proxied: true, name: 'lights.example' })
    const https = 'https://lights.example'
    const given = form({ code: secure.book.newCode(new Date()) }, https)
    const cookie = cookieOf(await secure.ask(`${https}/pair`, given))
    expect((await secure.ask(`${https}/devices`, as(cookie))).status).toBe(200)
    expect((await secure.ask(`${https}/devices`, as(cookie.replace('__Host-', '')))).status).toBe(401)
  })

  it('[3.5.3, 4.1.2] a token that was made up, changed, signed elsewhere or not at all lets nobody in', async () => {
    const { ask, pair } = fresh()
    const cookie = await pair()
    expect((await ask('/devices', as(cookie))).status).toBe(200)
    const [name = '', value = ''] = cookie.split('=')
    const [token = '', signature = ''] = decodeURIComponent(value).split('.')
    const flipped = `${token.startsWith('A') ? 'B' : 'A'}${token.slice(1)}`
    const forged = [
      token,
      `${token}.`,
      `${flipped}.${signature}`,
      `${token}.${'A'.repeat(43)}=`,
      `.${signature}`,
      'null.null',
      `${token}.${signature}.${signature}`,
      'x'.repeat(4000),
      '',
    ]
    for (const each of forged) {
      expect((await ask('/devices', as(`${name}=${encodeURIComponent(each)}`))).status).toBe(401)
    }
    expect(
      (await ask('/devices', as(`${name}=${encodeURIComponent(`${flipped}.x`)}; ${cookie}`))).status,
    ).toBe(401)
    const other = fresh()
    expect((await other.ask('/devices', as(cookie))).status).toBe(401)
  })

  it('[3.3.1] what was shut out, by itself or by another, stays out; what it kept opens nothing', async () => {
    const { ask, pair, book } = fresh()
    const [mine, lost] = [await pair('Mine'), await pair('Lost')]
    const [lostDevice, myDevice] = book.list(new Date())
    const revoke = (id = '') => ask(`/devices/${id}/revoke`, form({}, home, { cookie: mine }))
    expect((await revoke(lostDevice?.id)).headers.get('set-cookie')).toBeNull()
    expect((await ask('/devices', as(lost))).status).toBe(401)
    expect((await ask('/devices', as(mine))).status).toBe(200)
    expect((await revoke(myDevice?.id)).status).toBe(303)
    expect((await ask('/devices', as(mine))).status).toBe(401)
  })

  it('[3.3.1] a device is told that it was shut out, so that it takes what it kept away; nobody else is', async () => {
    const { ask, pair, book } = fresh()
    const lost = await pair('Lost')
    const [device] = book.list(new Date())
    book.revoke(device?.id ?? '')
    const said = async (cookie: string) => (await (await ask('/api/jobs', as(cookie))).json()) as object
    expect(await said(lost)).toMatchObject({ status: 401, reason: 'device-shut-out' })
    const other = await pair('Other')
    for (const cookie of ['', `${lost}x`, other.replace(/.$/, 'x')]) {
      expect(await said(cookie)).not.toHaveProperty('reason')
    }
    expect((await ask('/api/questions', as(other))).status).toBe(200)
  })

  it('[3.1.1] no token ever stands in an address or on a page', async () => {
    const { ask, pair } = fresh()
    const cookie = await pair()
    const token = decodeURIComponent(cookie.split('=')[1] ?? '').split('.')[0] ?? ''
    for (const path of ['/', '/devices', '/pair', '/api/questions', '/metrics']) {
      expect(await (await ask(path, as(cookie))).text()).not.toContain(token)
    }
    expect((await ask(`/devices?ladderside-device=${encodeURIComponent(cookie)}`)).status).toBe(401)
  })

  it.each(['x', '1 or 1=1', '../devices', '%00', "x' --", '*'])(
    '[4.2.1, 5.3.4] shutting out %j shuts out nobody',
    async (id) => {
      const { ask, pair, book } = fresh()
      const cookie = await pair()
      const { status } = await ask(
        `/devices/${encodeURIComponent(id)}/revoke`,
        form({ hours: '24' }, home, { cookie }),
      )
      expect(status).toBe(404)
      expect(book.list(new Date())).toHaveLength(1)
    },
  )
})

describe('asking in somebody else’s name', () => {
  const changes: [string, Record<string, string>][] = [
    [
      'a form of another site',
      { origin: 'https://elsewhere.example', 'content-type': 'application/x-www-form-urlencoded' },
    ],
    ['a form of no origin', { origin: 'null', 'content-type': 'application/x-www-form-urlencoded' }],
    ['a form that hides where it comes from', { 'content-type': 'multipart/form-data; boundary=x' }],
    ['text that a form can send', { 'content-type': 'text/plain;charset=utf-8' }],
    ['nothing in particular', {}],
    ['JSON of another site', { origin: 'https://elsewhere.example', 'content-type': 'application/json' }],
    ['another port', { origin: 'http://192.168.7.20:8080', 'content-type': 'application/json' }],
    ['the same name by HTTPS', { origin: 'https://192.168.7.20:3150', 'content-type': 'application/json' }],
    ['a site that a browser calls another', { 'sec-fetch-site': 'cross-site', origin: home }],
    ['a neighbour that a browser calls the same site', { 'sec-fetch-site': 'same-site', origin: home }],
    ['no page at all', { 'sec-fetch-site': 'none', 'content-type': 'application/x-www-form-urlencoded' }],
    ['a word that is none of the four', { 'sec-fetch-site': 'SAME-ORIGIN', origin: home }],
  ]

  it.each(changes)('[4.2.2, 13.2.3, 14.5.2] %s changes nothing', async (_, headers) => {
    const { ask, pair, book } = fresh()
    const cookie = await pair()
    const [device] = book.list(new Date())
    for (const method of ['POST', 'PUT', 'DELETE', 'PATCH']) {
      const asked = { method, headers: { ...headers, cookie }, ...(method === 'POST' ? { body: '' } : {}) }
      expect((await ask(`/devices/${device?.id}/revoke`, asked)).status).toBe(403)
    }
    expect(
      (await ask('/ask', { method: 'POST', body: 'text=x', headers: { ...headers, cookie } })).status,
    ).toBe(403)
    expect(book.list(new Date())).toHaveLength(1)
  })

  it('[4.2.2] nothing is changed by opening a link', async () => {
    const { ask, pair, book } = fresh()
    const cookie = await pair()
    const [device] = book.list(new Date())
    for (const path of [
      `/devices/${device?.id}/revoke`,
      '/devices?revoke',
      `/pair?code=${book.newCode(new Date())}`,
    ]) {
      await ask(path, as(cookie))
    }
    expect(book.list(new Date())).toEqual([device])
  })

  it('[14.5.3] no other site is told that it may read anything', async () => {
    const { ask, pair } = fresh()
    const cookie = await pair()
    for (const origin of ['https://elsewhere.example', 'null', home]) {
      for (const method of ['GET', 'OPTIONS']) {
        const headers = { cookie, origin, 'access-control-request-method': 'POST' }
        const answer = await ask('/api/questions', { method, headers })
        expect([...answer.headers.keys()].filter((name) => name.startsWith('access-control'))).toEqual([])
      }
    }
  })

  it.each([
    'elsewhere.example',
    'localhost.elsewhere.example',
    '127.0.0.1.elsewhere.example',
    'lights.example.',
  ])('[14.5.2] a page whose name %s was pointed here later gets nothing', async (host) => {
    for (const settings of [{}, { locked: false, host: '127.0.0.1' }, { name: 'lights.example' }]) {
      const { ask, pair } = fresh(settings)
      const cookie = settings.locked === false ? '' : await pair().catch(() => '')
      expect((await ask(`http://${host}:3150/`, as(cookie), '127.0.0.1')).status).toBe(421)
    }
  })

  it('[14.5.2] unlocked, it answers to this machine’s own names alone', async () => {
    const { ask } = fresh({ locked: false, host: '127.0.0.1' })
    const statusOf = async (at: string) => (await ask(at, {}, '127.0.0.1')).status
    expect(await statusOf('http://localhost:3150/')).toBe(200)
    expect(await statusOf('http://127.0.0.1:3150/')).toBe(200)
    expect(await statusOf('http://[::1]:3150/')).toBe(200)
    expect(await statusOf('http://192.168.7.20:3150/')).toBe(421)
  })

  it('[5.1.5] it never sends anybody to another site', async () => {
    const { ask } = fresh()
    for (const path of [
      '//elsewhere.example/',
      '/\\elsewhere.example',
      '/?to=//elsewhere.example',
      '/%5celsewhere.example',
    ]) {
      const answer = await ask(`${home}${path}`, {
        headers: { accept: 'text/html', 'x-forwarded-host': 'elsewhere.example' },
      })
      expect(answer.headers.get('location')).toBe('/pair')
    }
  })
})

describe('putting something into a page, or reading something out of an answer', () => {
  const script = '"><script>alert(1)</script><img src=x onerror=alert(1)>'

  it('[5.3.1, 5.3.3] a name or a code with markup in it stays text', async () => {
    const { ask, book } = fresh()
    const cookie = cookieOf(
      await ask('/pair', form({ code: book.newCode(new Date()), name: `${script}\r\nx: y` })),
    )
    const pages = [
      await ask('/devices', as(cookie)),
      await ask(`/pair?code=${encodeURIComponent(script)}`),
      await ask('/pair', form({ code: script, name: script })),
      await ask(`/q/feed-gauge?distance=${encodeURIComponent(script)}`, as(cookie)),
      await ask(`/?text=${encodeURIComponent(script)}`, as(cookie)),
      await ask('/ask', form({ text: script, thread: script }, home, { cookie })),
    ]
    for (const answer of pages) {
      const text = await answer.text()
      expect(text).not.toContain('<script>')
      expect(text).not.toContain('<img')
      expect(answer.headers.get('x')).toBeNull()
    }
  })

  it('[14.4.1–14.4.7, 8.2.1, 14.3.3] every answer has its headers, and tells nothing of what runs here', async () => {
    const all = fresh({}, everything)
    const cookie = await all.pair()
    for (const [method, path] of routesOf(all).filter(([, path]) => !path.endsWith('/revoke'))) {
      const { headers } = await all.ask(path, { method, headers: { cookie, origin: home } })
      const policy = headers.get('content-security-policy') ?? ''
      expect(policy).toContain("default-src 'none'")
      expect(policy).toContain("script-src 'self'")
      expect(policy).toContain("frame-ancestors 'none'")
      expect(policy).toContain("base-uri 'none'")
      expect(policy).not.toMatch(/unsafe|\*|data:|http/)
      expect(headers.get('x-content-type-options')).toBe('nosniff')
      expect(headers.get('referrer-policy')).toBe(path.startsWith('/s/') ? 'no-referrer' : 'same-origin')
      expect(headers.get('strict-transport-security')).toMatch(/max-age=\d{8}/)
      expect(headers.get('server') ?? headers.get('x-powered-by')).toBeNull()
      const type = headers.get('content-type') ?? ''
      if (/^text\/|xml/.test(type)) expect(type.toLowerCase()).toContain('charset=utf-8')
      if (!isOpen(path)) expect([path, headers.get('cache-control')]).toEqual([path, 'no-store'])
    }
  })

  it('[14.4.3] no page holds a script or a style of its own', async () => {
    const { ask, pair } = fresh()
    const cookie = await pair()
    for (const path of [
      '/',
      '/pair',
      '/devices',
      '/q/feed-gauge?distance=40%20ft&voltage=24%20V&load=60%20W',
    ]) {
      const text = await (await ask(path, as(cookie))).text()
      expect(text).not.toMatch(/<script(?![^>]*src=)|<style|\son\w+=|\sstyle=|javascript:/i)
    }
  })

  it('[7.4.1, 14.3.2] a fault of ours shows neither its words nor where it arose, and is logged without its words', async () => {
    const lines: string[] = []
    const { logTo } = await import('../../src/doors/request-log')
    const report = reportTo(logTo({ write: (line: string) => lines.push(line) }, 'faults'))
    const health = () => Promise.reject(new RangeError('the words of a person'))
    const answer = await createApp({ health, report }).request('/healthz')
    expect(answer.status).toBe(500)
    const text = await answer.text()
    expect(text).not.toMatch(/words of a person|RangeError|at |\.ts|node_modules/)
    expect(lines).toHaveLength(1)
    expect(lines[0]).not.toContain('words of a person')
    expect(JSON.parse(lines[0] ?? '')).toMatchObject({ level: 'error', event: 'fault', kind: 'RangeError' })
    expect(lines[0]).toContain('attacks.test')
  })

  it('[7.1.1, 7.1.2, 8.3.1] no line of the log holds a code, a token, a name, an address or a word that was said', async () => {
    const { ask, book, lines } = fresh()
    const code = book.newCode(new Date())
    const cookie = cookieOf(await ask('/pair', form({ code, name: 'Privateword' })))
    await ask('/pair', form({ code: 'Privateword' }))
    await ask(`/pair?code=${code}`, page)
    await ask('/q/feed-gauge?distance=Privateword', as(cookie))
    await ask('/api/questions/Privateword', {
      method: 'POST',
      body: '{"x":"Privateword"}',
      headers: { cookie, origin: home },
    })
    await ask('/Privateword?Privateword', as(cookie, { 'user-agent': 'Privateword' }))
    await ask('/ask', form({ text: 'Privateword' }, home, { cookie }))
    await ask(`/devices/${book.list(new Date())[0]?.id}/revoke`, form({ hours: '24' }, home, { cookie }))
    const log = lines.join('')
    expect(lines.length).toBeGreaterThan(8)
    const token = decodeURIComponent(cookie.split('=')[1] ?? '').split('.')[0] ?? ''
    for (const hidden of ['Privateword', code, token, elsewhere, '192.168']) expect(log).not.toContain(hidden)
    const keys = new Set(lines.flatMap((line) => Object.keys(JSON.parse(line))))
    expect([...keys].sort()).toEqual(['device', 'event', 'level', 'method', 'ms', 'route', 'status', 'time'])
    expect(log).toContain('"route":"/q/:id"')
  })

  it('[4.3.2, 12.3.1, 12.5.1] no file and no folder is served but what the build made', async () => {
    const { ask, pair } = fresh()
    const cookie = await pair()
    const paths = [
      '/package.json',
      '/data/',
      '/data/local/doors.key',
      '/dist/',
      '/..%2fpackage.json',
      '/%2e%2e/%2e%2e/etc/passwd',
      '/....//etc/passwd',
      '/style.css/',
      '/.git/config',
      '/server.js',
      '/prompts/en/doors.yaml',
      '/src/server.ts',
    ]
    for (const path of paths) expect([path, (await ask(path, as(cookie))).status]).toEqual([path, 404])
  })

  it('[13.2.1, 14.5.1] a method that a route has not is refused', async () => {
    const { ask, pair } = fresh()
    const cookie = await pair()
    for (const method of ['PUT', 'DELETE', 'PATCH', 'PROPFIND']) {
      for (const path of ['/', '/devices', '/api/questions/feed-gauge', '/openapi.json']) {
        const { status } = await ask(path, { method, headers: { cookie, origin: home } })
        expect([404, 405]).toContain(status)
      }
    }
  })

  it('[5.1.2, 5.5.3, 13.2.2] JSON with more, deeper or other than asked is a fault of the one who sent it', async () => {
    const { ask, pair } = fresh()
    const cookie = await pair()
    const bodies = [
      '{"__proto__":{"admin":true},"text":"x"}',
      '{"constructor":{"prototype":{"x":1}}}',
      '[]',
      'null',
      '{"text":',
      `${'['.repeat(20_000)}${']'.repeat(20_000)}`,
      '{"text":{"$gt":""}}',
      `{"text":"${'x'.repeat(60_000)}"}`,
    ]
    for (const body of bodies) {
      for (const path of ['/api/ask', '/api/questions/feed-gauge']) {
        const headers = { cookie, origin: home, 'content-type': 'application/json' }
        const { status } = await ask(path, { method: 'POST', body, headers })
        expect([400, 422]).toContain(status)
      }
    }
    expect(({} as { admin?: boolean }).admin).toBeUndefined()
  })
})

describe('a sheet that was shared', () => {
  it('[4.1.3, 7.1.1] opens to whoever has the link, and nothing else does; the link is in no line of the log', async () => {
    const { ask, pair, lines } = fresh({}, everything)
    const cookie = await pair()
    const id = newId()
    const json = { cookie, origin: home, 'content-type': 'application/json' }
    await ask('/api/jobs', { method: 'POST', headers: json, body: JSON.stringify({ id, name: 'Long hall' }) })
    const made = await ask(`/jobs/${id}/shares`, form({ hours: '24' }, home, { cookie }))
    const [link = ''] = /\/s\/[\w-]+/.exec(await made.text()) ?? []
    expect(link.length).toBeGreaterThan(20)
    expect((await ask(link)).status).toBe(200)
    for (const other of [
      `${link}x`,
      link.slice(0, -1),
      `${link}/../../jobs`,
      '/s/',
      `/s/${id}`,
      `/jobs/${id}/sheet`,
    ]) {
      expect([401, 404]).toContain((await ask(other)).status)
    }
    expect(lines.join('')).toContain('"route":"/s/:token"')
    expect(lines.join('')).not.toContain(link.slice(3))
  })

  it.each(['%00', '%0d%0ax:%20y', '%C3%A9', '%2f%2felsewhere.example'])(
    '[5.1.5, 5.3.1] an address with %s in it is no fault of ours, and leads nowhere else',
    async (odd) => {
      const { ask, pair } = fresh({}, everything)
      const answer = await ask(`/jobs/${odd}/shares`, as(await pair()))
      expect(answer.headers.get('location')).toBe(
        `/jobs/${encodeURIComponent(decodeURIComponent(odd))}/share`,
      )
      expect(answer.headers.get('x')).toBeNull()
    },
  )
})

describe('what is for the one who runs it', () => {
  it('[4.1.3] the figures are for a paired device, or for this machine asking itself', async () => {
    const { ask, pair } = fresh()
    const here = 'http://127.0.0.1:3150/metrics'
    expect((await ask('/metrics', as(await pair()))).status).toBe(200)
    expect((await ask(here, {}, '127.0.0.1')).status).toBe(200)
    expect((await ask(here, {}, elsewhere)).status).toBe(401)
    expect((await ask('/metrics', {}, '127.0.0.1')).status).toBe(401)
    const unlocked = fresh({ locked: false, host: '127.0.0.1' })
    expect((await unlocked.ask(here, {}, '127.0.0.1')).status).toBe(200)
  })

  it('[4.1.3] a proxy on this machine does not make its visitors this machine', async () => {
    const { ask } = fresh({ proxied: true, name: 'lights.example' })
    const visitor = { headers: { 'x-forwarded-for': elsewhere } }
    expect((await ask('https://lights.example/metrics', visitor, '127.0.0.1')).status).toBe(401)
  })

  it('[14.3.2] the figures name routes by their pattern, never by what was asked', async () => {
    const { ask, pair } = fresh()
    const cookie = await pair()
    await ask('/q/feed-gauge?distance=Privateword', as(cookie))
    await ask('/Privateword', as(cookie))
    const text = await (await ask('/metrics', as(cookie))).text()
    expect(text).toContain('route="/q/:id"')
    expect(text).not.toContain('Privateword')
  })
})
