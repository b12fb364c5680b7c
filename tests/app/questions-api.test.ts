import { Validator } from '@seriousme/openapi-schema-validator'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answerSchema } from '../../src/app/answer-schema'
import { createApp } from '../../src/app/app'
import { described } from '../../src/app/described'
import { questions } from '../../src/questions/registry'

const app = createApp({ described })

const ask = (id: string, body: unknown, raw = false) =>
  app.request(`/api/questions/${id}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: raw ? (body as string) : JSON.stringify(body),
  })

type Problem = {
  status: number
  title: string
  errors: { field: string; message: string; example?: string }[]
}

const errorsOf = async (id: string, body: unknown): Promise<Problem['errors']> => {
  const response = await ask(id, body)
  expect(response.status).toBe(422)
  expect(response.headers.get('content-type')).toBe('application/problem+json')
  return ((await response.json()) as Problem).errors
}

describe('POST /api/questions/:id', () => {
  it('answers "40 ft, 24 V, 60 W" with 14 AWG', async () => {
    const response = await ask('feed-gauge', { distance: '40 ft', voltage: '24 V', load: '60 W' })
    expect(response.status).toBe(200)
    const answer = answerSchema.parse(await response.json())
    expect(answer.figures.find(({ id }) => id === 'gauge')).toMatchObject({ value: 14, unit: 'AWG' })
    expect(answer.room.length).toBeGreaterThan(3)
    expect(answer.working.length).toBeGreaterThan(3)
    expect(answer.localCode).toMatch(/authority/)
  })

  it('names every faulty field at once, each with an example', async () => {
    const errors = await errorsOf('feed-gauge', {
      distance: '-40 ft',
      voltage: 40,
      load: '40 V',
      colour: 'red',
    })
    expect(errors.map(({ field }) => field).sort()).toEqual(['colour', 'distance', 'load', 'voltage'])
    for (const { field, example } of errors) if (field !== 'colour') expect(example).toBeTruthy()
  })

  it.each([
    ['a negative length', { distance: '-40 ft', voltage: '24 V', load: '60 W' }, 'distance'],
    ['a number without a unit', { distance: '40', voltage: '24 V', load: '60 W' }, 'distance'],
    ['the wrong kind of unit', { distance: '40 V', voltage: '24 V', load: '60 W' }, 'distance'],
    ['ten kilobytes of junk', { distance: 'x'.repeat(10_240), voltage: '24 V', load: '60 W' }, 'distance'],
    ['line voltage', { distance: '40 ft', voltage: '120 V', load: '60 W' }, 'voltage'],
    ['a claim of no size', { distance: '40 ft', voltage: '24 V', load: '60 W', claim: '17 AWG' }, 'claim'],
    [
      'a claim on no figure',
      { distance: '40 ft', voltage: '24 V', load: '60 W', claim: { figure: 'x', value: '1 V' } },
      'claim',
    ],
  ])('refuses %s by the name of its field', async (_, body, field) => {
    const errors = await errorsOf('feed-gauge', body)
    expect(errors.map((error) => error.field)).toEqual([field])
    expect(errors[0]?.message.length).toBeGreaterThan(20)
  })

  it('asks for what is missing when nothing is given', async () => {
    const fields = (await errorsOf('feed-gauge', {})).map(({ field }) => field)
    expect(fields).toEqual(['distance', 'voltage', 'load'])
  })

  it('says plainly what is no question, no JSON, too large or the wrong method', async () => {
    expect((await ask('feed-gauges', {})).status).toBe(404)
    expect((await ask('feed-gauge', '{"distance": ', true)).status).toBe(400)
    expect((await ask('feed-gauge', `"${'x'.repeat(70_000)}"`, true)).status).toBe(413)
    expect((await app.request('/api/questions/feed-gauge')).status).toBe(405)
    for (const body of [[], null, 'text', 7, true]) expect((await ask('feed-gauge', body)).status).toBe(422)
  })
})

describe('every question', () => {
  const oddText = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 260 }),
    fc.constantFrom(
      '40 ft',
      '24 V',
      '60 W',
      '1e999 m',
      '-1 A',
      '12 V',
      '0 ft',
      '16 AWG',
      '1.5 mm2',
      'yes',
      'true',
      '3',
      'iec',
      'both-ends',
      '2 x 14/2',
      '1/0 ft',
      '50 %',
    ),
  )
  const oddValue = fc.oneof(
    { weight: 4, arbitrary: oddText },
    { weight: 2, arbitrary: fc.jsonValue() },
    { weight: 1, arbitrary: fc.array(oddText, { maxLength: 4 }) },
  )

  it.each(questions.map(({ id }) => id))('%s turns no input into a fault of the server', async (id) => {
    const question = questions.find((each) => each.id === id)
    const fields = [
      ...Object.keys(question?.inputs ?? {}),
      'claim',
      'extra',
      '__proto__',
      'feeds.0.at',
      'a.b.c',
    ]
    const body = fc.dictionary(fc.constantFrom(...fields), oddValue, { maxKeys: 8 })
    await fc.assert(
      fc.asyncProperty(body, async (odd) => {
        const response = await ask(id, odd)
        expect([200, 422]).toContain(response.status)
        const said = (await response.json()) as Problem
        if (response.status === 422) expect(said.errors.every(({ message }) => message.length > 0)).toBe(true)
        else answerSchema.parse(said)
      }),
      { numRuns: 1000 },
    )
  })
})

describe('what is said of the API', () => {
  it('lists every question with its inputs and figures', async () => {
    const listed = (await (await app.request('/api/questions')).json()) as {
      id: string
      inputs: { properties: object }
      figures: object[]
    }[]
    expect(listed.map(({ id }) => id)).toEqual(questions.map(({ id }) => id))
    for (const { inputs, figures } of listed) {
      expect(Object.keys(inputs.properties).length).toBeGreaterThan(3)
      expect(figures.length).toBeGreaterThan(1)
    }
  })

  it('is a valid OpenAPI 3.1 description, by a validator outside the project', async () => {
    const response = await app.request('/openapi.json')
    const validator = new Validator()
    const result = await validator.validate((await response.json()) as Record<string, unknown>)
    expect(result.errors ?? []).toEqual([])
    expect(result.valid).toBe(true)
    expect(validator.version).toBe('3.1')
  })

  it('tells whether it is well', async () => {
    expect(await (await app.request('/healthz')).json()).toMatchObject({ status: 'ok' })
  })

  it('allows no inline script or style, and nobody to frame it', async () => {
    const policy = (await app.request('/')).headers.get('content-security-policy') ?? ''
    expect(policy).toContain("default-src 'none'")
    expect(policy).not.toMatch(/unsafe/)
    expect(policy).toContain("frame-ancestors 'none'")
    for (const path of ['/', '/q/feed-gauge?distance=40+ft&voltage=24+V&load=60+W']) {
      const page = await (await app.request(path)).text()
      expect(page).not.toMatch(/<script(?![^>]*\bsrc=)/)
      expect(page).not.toMatch(/ style="| on[a-z]+="/)
    }
  })
})
