import { Validator } from '@seriousme/openapi-schema-validator'
import { beforeAll, describe, expect, it } from 'vitest'
import { createApp } from '../../src/app/app'
import { described } from '../../src/app/described'
import { sharing } from '../../src/app/sharing'
import { newId } from '../../src/jobs/log/identifier'
import { shareSchema } from '../../src/jobs/share/share'
import { newToken } from '../../src/jobs/share/token'
import { appWithShares } from './shares'

let home: Awaited<ReturnType<typeof appWithShares>>
let jobId = ''

beforeAll(async () => {
  home = await appWithShares()
  jobId = newId()
  await home.send('/api/jobs', { id: jobId, name: 'Long hall', place: 'First floor' }, 201)
  await home.send(`/api/jobs/${jobId}/facts`, { field: 'voltage', value: '24 V' })
})

const share = (body: object = {}, status = 201) => home.send(`/api/jobs/${jobId}/shares`, body, status)
const opened = (address: string) => home.app.request(address)

const posted = (path: string, form: Record<string, string>, headers: Record<string, string> = {}) =>
  home.app.request(`http://localhost${path}`, {
    method: 'POST',
    headers: {
      'content-type': 'application/x-www-form-urlencoded',
      origin: 'http://localhost',
      ...headers,
    },
    body: new URLSearchParams(form).toString(),
  })

const addressIn = (page: string): string => /href="([^"]*\/s\/[^"]+)"/.exec(page)?.[1] ?? ''

describe('a link to the sheet of a job', () => {
  it('shows the job to whoever has it, and no way to change it', async () => {
    const { address, token, share: made } = await share()
    expect(address).toBe(`http://localhost/s/${token}`)
    expect(Date.parse(made.expiresAt) - Date.parse(made.createdAt)).toBeCloseTo(7 * 86_400_000, -4)
    const response = await opened(address)
    expect(response.status).toBe(200)
    const page = await response.text()
    expect(page).toContain('Long hall')
    expect(page).toContain('24 V')
    expect(page).not.toMatch(/<form|href="\/(?!style\.css|icon\.svg|s\/)/)
  })

  it('is had as a PDF where the home makes one, by the same link alone', async () => {
    const { log, shares } = home
    const sheetPdf = async () => new TextEncoder().encode('%PDF-1.7')
    const app = createApp({ log, sharing: sharing(shares), sheetPdf, described })
    const { token, share: made } = await share()
    expect(await (await app.request(`/s/${token}`)).text()).toContain(`/s/${token}/sheet.pdf`)
    const pdf = await app.request(`/s/${token}/sheet.pdf`)
    expect(pdf.headers.get('content-type')).toBe('application/pdf')
    expect(pdf.headers.get('cache-control')).toBe('private, no-store')
    await home.send(`/api/jobs/${jobId}/shares/${made.id}/revoke`, {})
    expect((await app.request(`/s/${token}/sheet.pdf`)).status).toBe(404)
  })

  it('keeps its address to itself: no referrer, no index, no cache', async () => {
    const { address } = await share()
    for (const path of [address, 'http://localhost/s/nothing']) {
      const { headers } = await opened(path)
      expect(headers.get('referrer-policy')).toBe('no-referrer')
      expect(headers.get('x-robots-tag')).toBe('noindex')
      expect(headers.get('cache-control')).toBe('private, no-store')
    }
  })

  it('is answered alike where it never was, ran out or was taken back', async () => {
    const [expired, revoked] = [await share({ hours: 1 }), await share()]
    await home.send(`/api/jobs/${jobId}/shares/${revoked.share.id}/revoke`, {})
    home.clock.add(2 * 3_600_000)
    const said = await Promise.all(
      [expired.token, revoked.token, newToken(), 'x', `${revoked.token}x`].map(async (token) => {
        const response = await opened(`/s/${token}`)
        return [response.status, Object.fromEntries(response.headers), await response.text()]
      }),
    )
    home.clock.add(-2 * 3_600_000)
    expect(said[0]?.[0]).toBe(404)
    expect(new Set(said.map((each) => JSON.stringify(each))).size).toBe(1)
  })

  it('is made once under one id, and taken back only by its own job', async () => {
    const id = newId()
    await share({ id })
    await share({ id }, 409)
    const other = newId()
    await home.send('/api/jobs', { id: other, name: 'Stair' }, 201)
    await home.send(`/api/jobs/${other}/shares/${id}/revoke`, {}, 404)
    const listed = await home.send(`/api/jobs/${jobId}/shares`)
    const own = listed
      .map((each: unknown) => shareSchema.parse(each))
      .find((each: { id: string }) => each.id === id)
    expect(own.revokedAt).toBeNull()
    const taken = await home.send(`/api/jobs/${jobId}/shares/${id}/revoke`, {})
    expect(taken.revokedAt).not.toBeNull()
  })

  it('opens for as long as one of a few choices says', async () => {
    for (const body of [{ hours: 2 }, { hours: '24' }, { hours: 1e9 }, { days: 7 }]) await share(body, 422)
    for (const hours of [1, 24, 168, 720]) {
      const { share: made } = await share({ hours })
      expect(Date.parse(made.expiresAt) - Date.parse(made.createdAt)).toBeCloseTo(hours * 3_600_000, -4)
    }
    await home.send(`/api/jobs/${newId()}/shares`, {}, 404)
  })
})

describe('the page of links', () => {
  it('makes one, shows it this once, and lists it', async () => {
    const id = newId()
    const made = await posted(`/jobs/${jobId}/shares`, { id, hours: '24' })
    expect(made.status).toBe(201)
    expect(made.headers.get('cache-control')).toBe('private, no-store')
    const page = await made.text()
    expect((await opened(addressIn(page))).status).toBe(200)
    const again = await posted(`/jobs/${jobId}/shares`, { id, hours: '24' })
    expect(again.status).toBe(200)
    expect(addressIn(await again.text())).toBe('')
    const later = await (await home.app.request(`/jobs/${jobId}/share`)).text()
    expect(addressIn(later)).toBe('')
    expect(later).toContain(`/shares/${id}/revoke`)
  })

  it('takes one back', async () => {
    const { share: made, address } = await share()
    const taken = await posted(`/jobs/${jobId}/shares/${made.id}/revoke`, {})
    expect([taken.status, taken.headers.get('location')]).toEqual([303, `/jobs/${jobId}/share`])
    expect((await opened(address)).status).toBe(404)
  })

  it('is not worked from another site', async () => {
    const elsewhere = { origin: 'https://elsewhere.example' }
    expect((await posted(`/jobs/${jobId}/shares`, { hours: '24' }, elsewhere)).status).toBe(403)
    const { share: made } = await share()
    expect((await posted(`/jobs/${jobId}/shares/${made.id}/revoke`, {}, elsewhere)).status).toBe(403)
  })

  it('says what is no choice and what is no job', async () => {
    expect((await posted(`/jobs/${jobId}/shares`, { hours: '99999' })).status).toBe(422)
    expect((await posted(`/jobs/${newId()}/shares`, { hours: '24' })).status).toBe(404)
    expect((await home.app.request('/jobs/x/share')).status).toBe(404)
    expect((await home.app.request(`/jobs/${jobId}/shares`)).headers.get('location')).toBe(
      `/jobs/${jobId}/share`,
    )
  })

  it('leads to where others reach the home, where it knows that', async () => {
    const { log, shares } = home
    const app = createApp({
      log,
      sharing: sharing(shares),
      publicAddress: (asked) => asked.replace('localhost', 'ladder.example'),
    })
    const made = await app.request(`/api/jobs/${jobId}/shares`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: '{}',
    })
    expect(((await made.json()) as { address: string }).address).toMatch(/^http:\/\/ladder\.example\/s\//)
  })
})

describe('a home without links', () => {
  it('says that they need the server', async () => {
    const app = createApp({ log: home.log })
    const page = await app.request(`/jobs/${jobId}/share`)
    expect(page.status).toBe(200)
    expect(await page.text()).toContain('needs the server')
    expect((await app.request(`/api/jobs/${jobId}/shares`)).status).toBe(501)
    expect((await app.request(`/s/${newToken()}`)).status).toBe(404)
  })
})

describe('what is said of the links', () => {
  it('is a valid OpenAPI 3.1 description, by a validator outside the project', async () => {
    const description = (await (await home.app.request('/openapi.json')).json()) as { paths: object }
    expect(Object.keys(description.paths)).toContain('/api/jobs/{id}/shares')
    const result = await new Validator().validate(description as Record<string, unknown>)
    expect(result.errors ?? []).toEqual([])
  })
})
