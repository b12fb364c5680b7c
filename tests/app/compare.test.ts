import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { createApp } from '../../src/app/app'
import { comparisonSchema } from '../../src/app/comparison-schema'
import { newId } from '../../src/jobs/log/identifier'
import { questions } from '../../src/questions/registry'
import { exampleOf } from '../questions/examples'
import { appWithJobs } from './jobs'

const app = createApp()

const load = { distance: '40 ft', voltage: '24 V', load: '60 W' }
const side = (name: string, typed: Record<string, string>) =>
  Object.entries(typed).map(([field, value]) => [`${name}.${field}`, value])
const queryOf = (a: Record<string, string>, b?: Record<string, string>, more: Record<string, string> = {}) =>
  new URLSearchParams([...side('a', a), ...(b ? side('b', b) : []), ...Object.entries(more)])
const open = (query: URLSearchParams, question = 'feed-gauge') => app.request(`/compare/${question}?${query}`)
const ask = (query: URLSearchParams, question = 'feed-gauge') =>
  app.request(`/api/compare/${question}?${query}`)

describe('GET /api/compare/:question', () => {
  it('sends both answers and what differs', async () => {
    const response = await ask(queryOf(load, { ...load, allowedDrop: '5 %' }))
    expect(response.status).toBe(200)
    const said = comparisonSchema.parse(await response.json())
    expect(said.differs).toBe(true)
    expect(said.inputs.map(({ field }) => field)).toEqual(['allowedDrop'])
    expect(said.figures.find(({ id }) => id === 'drop')?.difference).toMatchObject({
      unit: 'V',
      text: '+0.37 V',
    })
  })

  it('names every fault by its side', async () => {
    const response = await ask(queryOf({ ...load, distance: '40' }, { ...load, voltage: '120 V', x: '1' }))
    expect(response.status).toBe(422)
    const { errors } = (await response.json()) as { errors: { field: string }[] }
    expect(errors.map(({ field }) => field).sort()).toEqual(['a.distance', 'b.voltage', 'b.x'])
  })

  it('knows no other question and no other method', async () => {
    expect((await ask(queryOf(load), 'feed-gauges')).status).toBe(404)
    expect((await open(queryOf(load), 'feed-gauges')).status).toBe(404)
    const posted = await app.request('/api/compare/feed-gauge', { method: 'POST' })
    expect([posted.status, posted.headers.get('allow')]).toEqual([405, 'GET'])
  })

  it.each(questions.map((question) => [question.id, question] as const))(
    '%s: what it sends is what its description promises',
    async (id, question) => {
      const typed = flat(exampleOf(question))
      const response = await ask(queryOf(typed, { ...typed, units: 'metric' }), id)
      const said = comparisonSchema.parse(await response.json())
      expect(said.inputs.map(({ field }) => field)).toContain('units')
    },
  )

  it('turns no query into a fault of the server', async () => {
    const name = fc.constantFrom(
      ...['a.distance', 'b.distance', 'a.load', 'b.current', 'b.claim.value', 'b.claim', 'a.__proto__', 'b.'],
      ...['vary', 'varied', 'side', 'add', 'remove', 'distance', 'load', 'claim.value', 'a.units', 'b.rules'],
    )
    const value = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 40 }),
      fc.constantFrom('40 ft', '60 W', 'a', 'load', 'distance,load', 'claim', '16 AWG', 'feeds.0'),
    )
    const fields = fc.dictionary(name, value, { maxKeys: 10 })
    await fc.assert(
      fc.asyncProperty(fields, async (odd) => {
        const query = new URLSearchParams(odd)
        expect([200, 303, 422]).toContain((await open(query)).status)
        expect([200, 422]).toContain((await ask(query)).status)
      }),
      { numRuns: 1000 },
    )
  })
})

const flat = (inputs: object, prefix = ''): Record<string, string> =>
  Object.fromEntries(
    Object.entries(inputs).flatMap(([key, value]) =>
      typeof value === 'object'
        ? Object.entries(flat(value, `${prefix}${key}.`))
        : [[`${prefix}${key}`, String(value)]],
    ),
  )

/** Where the form that changes something leads. */
const sent = async (query: URLSearchParams): Promise<URLSearchParams> => {
  const response = await open(query)
  expect(response.status).toBe(303)
  return new URL(response.headers.get('location') ?? '', 'http://localhost').searchParams
}

describe('GET /compare/:question', () => {
  it('turns what its form sends into an address of two variants, the rest kept', async () => {
    const { load: _, ...kept } = load
    const form = { side: 'b', varied: 'load', load: '90 W' }
    expect(await sent(queryOf(load, kept, form))).toEqual(queryOf(load, { ...kept, load: '90 W' }))
  })

  it('an emptied field is one that nobody gave', async () => {
    const a = { ...load, allowedDrop: '5 %' }
    expect(await sent(queryOf(a, load, { side: 'b', varied: 'allowedDrop', allowedDrop: '' }))).toEqual(
      queryOf(a, load),
    )
  })

  it('offers what stands in place of a field instead of it, not beside it', async () => {
    const page = await (await open(queryOf(load, undefined, { vary: 'tapePower' }))).text()
    expect(page).toContain('name="tapePower"')
    expect(page).toContain('name="tapeLength"')
    expect(page).toContain('name="b.distance"')
    expect(page).not.toContain('name="b.load"')
  })

  it('says the fault beside its side and still shows the other', async () => {
    const response = await open(queryOf(load, { ...load, distance: '40' }))
    expect(response.status).toBe(422)
    const page = await response.text()
    expect(page).toContain('Use 14 AWG')
    expect(page).toMatch(/id="distance-fault"/)
    expect(page).toContain('name="a.distance" value="40 ft"')
  })

  it('a link of a whole answer leads to it', async () => {
    const page = await (await app.request('/q/feed-gauge?distance=40+ft&voltage=24+V&load=60+W')).text()
    const address = /href="(\/compare\/[^"]+)"/.exec(page)?.[1]?.replaceAll('&amp;', '&') ?? ''
    const compared = await app.request(address)
    expect(compared.status).toBe(200)
    expect(await compared.text()).toContain('vary=distance')
  })
})

describe('comparing inside a job', () => {
  it('puts what the job fills in into the address, which then stands without the job', async () => {
    const home = await appWithJobs()
    const id = newId()
    await home.send('/api/jobs', { id, name: 'Long hall' }, 201)
    await home.send(`/api/jobs/${id}/facts`, { field: 'voltage', value: '24 V' })
    await home.send(`/api/jobs/${id}/facts`, { field: 'load', value: '60 W' })
    const question = await (await home.app.request(`/q/feed-gauge?distance=40+ft&job=${id}`)).text()
    const link = /href="(\/compare\/[^"]+)"/.exec(question)?.[1]?.replaceAll('&amp;', '&') ?? ''
    const filled = await home.app.request(link)
    expect(filled.status).toBe(303)
    const address = filled.headers.get('location') ?? ''
    const { searchParams } = new URL(address, 'http://localhost')
    expect(Object.fromEntries(searchParams)).toEqual(Object.fromEntries(queryOf(load)))
    expect((await app.request(address)).status).toBe(200)
  })
})
