import { gunzipSync } from 'node:zlib'
import { Hono } from 'hono'
import { describe, expect, it } from 'vitest'
import { compressed } from '../../src/doors/compressed'

const long = 'The run ends at the last cut mark. '.repeat(100)

const app = new Hono()
app.use(compressed)
app.get('/text', (context) => context.text(long))
app.get('/picture', (context) => context.body(long, 200, { 'content-type': 'image/png' }))
app.get('/packed', (context) =>
  context.body(long, 200, {
    'content-type': 'text/plain',
    'content-encoding': 'br',
    vary: 'accept-encoding',
  }),
)

const asked = (path: string, encoding?: string) =>
  app.request(path, encoding === undefined ? {} : { headers: { 'accept-encoding': encoding } })

// What a cache may keep of it: RFC 9110, 12.5.5.
describe('compression', () => {
  it('says that an answer varies, compressed or not', async () => {
    for (const encoding of [undefined, 'identity', 'gzip'])
      expect((await asked('/text', encoding)).headers.get('vary')).toBe('Accept-Encoding')
  })

  it('compresses for whoever can read it, and for nobody else', async () => {
    const plain = await asked('/text')
    expect(plain.headers.has('content-encoding')).toBe(false)
    expect(await plain.text()).toBe(long)
    const packed = await asked('/text', 'gzip, br')
    expect(packed.headers.get('content-encoding')).toBe('gzip')
    expect(gunzipSync(new Uint8Array(await packed.arrayBuffer())).toString()).toBe(long)
  })

  it('leaves alone what is compressed already', async () => {
    for (const path of ['/picture', '/packed']) {
      const given = await asked(path, 'gzip')
      expect(given.headers.get('content-encoding')).toBe(path === '/packed' ? 'br' : null)
      expect(await given.text()).toBe(long)
    }
    expect((await asked('/picture')).headers.has('vary')).toBe(false)
    expect((await asked('/packed')).headers.get('vary')).toBe('accept-encoding')
  })
})
