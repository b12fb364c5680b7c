import { Validator } from '@seriousme/openapi-schema-validator'
import { beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/jobs/log/identifier'
import { appWithJobs, type Body } from './jobs'

let home: Awaited<ReturnType<typeof appWithJobs>>
const send = (path: string, body?: unknown, status?: number): Promise<Body> => home.send(path, body, status)

beforeAll(async () => {
  home = await appWithJobs()
})

const begun = async (): Promise<string> => {
  const id = newId()
  await send('/api/jobs', { id, name: 'Hall ceiling', place: 'First floor' }, 201)
  return id
}

const factsOf = (job: Body): Record<string, unknown> =>
  Object.fromEntries(
    job.known.map(({ field, where, current }: Body) => [where ? `${field}@${where}` : field, current?.value]),
  )

describe('the API of jobs', () => {
  it('begins a job once, however often it is asked', async () => {
    const id = await begun()
    const again = await send('/api/jobs', { id, name: 'Another name' })
    expect(again.job.name).toBe('Hall ceiling')
    const listed = await send('/api/jobs')
    expect(listed.jobs.filter((job: Body) => job.id === id)).toHaveLength(1)
  })

  it('remembers what was asked and does not ask for it again', async () => {
    const id = await begun()
    const first = await send(`/api/jobs/${id}/ask`, { text: 'what gauge for 40 feet at 24 volts, 60 watts' })
    expect(first.kind).toBe('answer')
    expect(first.remembered).toEqual([])
    const second = await send(`/api/jobs/${id}/ask`, {
      text: 'how far will 4.4 watts a foot tape run on a 96 watt driver',
    })
    expect(second.kind).toBe('answer')
    expect(second.answer.question).toBe('tape-reach')
    expect(second.answer.inputs.voltage).toMatchObject({ value: 24, from: 'job' })
    expect(second.answer.inputs.tapePower.from).toBe('given')
    const job = await send(`/api/jobs/${id}`)
    expect(factsOf(job)).toEqual({
      feedDistance: '40 ft',
      voltage: '24 V',
      load: '60 W',
      tapePower: '4.4 W/ft',
      driverPower: '96 W',
    })
    expect(job.known[0].current.provenance).toMatchObject({ from: 'answer', entryId: first.entry })
    expect(job.thread.map(({ said }: Body) => said)).toHaveLength(2)
    expect(job.thread[0].version.calculators).toMatch(/^\d+\.\d+\.\d+\+[0-9a-f]{8}$/)
  })

  it('still asks for what nobody has told', async () => {
    const id = await begun()
    await send(`/api/jobs/${id}/facts`, { field: 'voltage', value: '24 V' })
    const reply = await send(`/api/jobs/${id}/ask`, { text: 'what gauge for 40 feet' })
    expect(reply.kind).toBe('ask-back')
    expect(reply.missing[0].field).toBe('load')
  })

  it('does not let what is known stand in for what was said unclearly', async () => {
    const id = await begun()
    await send(`/api/jobs/${id}/facts`, { field: 'voltage', value: '24 V' })
    const text = 'tape could be 12 or 24 volt, 3 W/ft, 60 W driver, how far will it run'
    const reply = await send(`/api/jobs/${id}/ask`, { text })
    expect(reply.kind).toBe('ask-back')
    expect(reply.missing[0].field).toBe('voltage')
  })

  it.each([
    ['new', '12 V'],
    ['known', '24 V'],
  ])('asks which of two values holds, and keeps the %s one', async (which, kept) => {
    const id = await begun()
    await send(`/api/jobs/${id}/ask`, { text: 'what gauge for 40 feet at 24 volts, 60 watts' })
    const asked = await send(`/api/jobs/${id}/ask`, { text: 'and at 12 volts?' })
    expect(asked.answer.inputs.voltage).toMatchObject({ value: 12, from: 'given' })
    expect(asked.contradicting).toMatchObject([{ field: 'voltage', value: '12 V' }])
    expect(factsOf(await send(`/api/jobs/${id}`)).voltage).toBe('24 V')
    const body = { entry: asked.entry, field: 'voltage', which }
    const settled = await send(`/api/jobs/${id}/settle`, body)
    expect(factsOf(settled).voltage).toBe(kept)
    const voltage = settled.known.find(({ field }: Body) => field === 'voltage')
    expect(voltage.contested).toEqual([])
    expect(voltage.history).toHaveLength(2)
    const again = await send(`/api/jobs/${id}/settle`, body)
    expect(again.known).toEqual(settled.known)
  })

  it('keeps a value for a part beside that of the whole job', async () => {
    const id = await begun()
    await send(`/api/jobs/${id}/ask`, { text: 'what gauge for 40 feet at 24 volts, 60 watts' })
    const text = 'what gauge for 10 feet at 12 volts, 20 watts'
    const asked = await send(`/api/jobs/${id}/ask`, { text, where: 'North shelf' })
    expect(asked.contradicting.map(({ field }: Body) => field).sort()).toEqual([
      'feedDistance',
      'load',
      'voltage',
    ])
    const body = { entry: asked.entry, field: 'voltage', which: 'here' }
    const settled = await send(`/api/jobs/${id}/settle`, body)
    expect(factsOf(settled)).toMatchObject({ voltage: '24 V', 'voltage@North shelf': '12 V' })
  })

  it('lets a new value for the same part take the place of the old one', async () => {
    const id = await begun()
    const where = 'North shelf'
    await send(`/api/jobs/${id}/ask`, { where, text: 'what gauge for 40 feet at 24 volts, 60 watts' })
    const asked = await send(`/api/jobs/${id}/ask`, { where, text: 'make it 50 feet' })
    const body = { entry: asked.entry, field: 'feedDistance', which: 'here' }
    const settled = await send(`/api/jobs/${id}/settle`, body)
    const distance = settled.known.find(({ field }: Body) => field === 'feedDistance')
    expect(distance.current.value).toBe('50 ft')
    expect(distance.contested).toEqual([])
  })

  it('remembers a device of which nothing is said but that it is there', async () => {
    const id = await begun()
    const text = 'octagon 4 x 2-1/8 with a 14/3 and a 14/2 and one dimmer, does it fit'
    const asked = await send(`/api/jobs/${id}/ask`, { text })
    const figureOf = (answer: Body) => answer.figures.find((figure: Body) => figure.id === 'required')
    // Five conductors and all grounds as one at 2.00 in³ of 14 AWG, clamps 2.00, one device 4.00: NEC 314.16(B).
    expect(figureOf(asked.answer).value).toBeCloseTo(18 * 16.387064, 6)
    const board = await send(`/api/jobs/${id}/check`)
    const row = board.rows.find((each: Body) => each.id === 'box-fill')
    expect(figureOf(row.answer)).toEqual(figureOf(asked.answer))
    const page = await (await home.app.request(`/q/box-fill?${new URLSearchParams(row.inputs)}`)).text()
    expect(page).toContain('18.00 in³')
    expect(page).toContain('name="devices.0" value="{}"')
  })

  it('does the same thing once when a request comes twice', async () => {
    const id = await begun()
    const body = { id: newId(), text: 'what gauge for 40 feet at 24 volts, 60 watts' }
    const [one, two] = [await send(`/api/jobs/${id}/ask`, body), await send(`/api/jobs/${id}/ask`, body)]
    expect(two).toEqual(one)
    const fact = { id: newId(), field: 'breaker', value: '15 A' }
    await send(`/api/jobs/${id}/facts`, fact)
    await send(`/api/jobs/${id}/facts`, fact)
    const job = await send(`/api/jobs/${id}`)
    expect(job.thread).toHaveLength(1)
    expect(job.known.find(({ field }: Body) => field === 'breaker').history).toHaveLength(1)
  })

  it('changes a fact and keeps what it was', async () => {
    const id = await begun()
    await send(`/api/jobs/${id}/facts`, { field: 'voltage', value: '24 V' })
    const job = await send(`/api/jobs/${id}/facts`, { field: 'voltage', value: '12 V' })
    const [voltage] = job.known
    expect(voltage.current.value).toBe('12 V')
    expect(voltage.history.map(({ value, withdrawnAt }: Body) => [value, withdrawnAt !== null])).toEqual([
      ['24 V', true],
      ['12 V', false],
    ])
    const forgot = await send(`/api/jobs/${id}/forget`, { field: 'voltage' })
    expect(forgot.known[0].current).toBeNull()
    expect(forgot.known[0].history).toHaveLength(2)
  })

  it('takes an answer of a form, the job filling in the rest', async () => {
    const id = await begun()
    await send(`/api/jobs/${id}/facts`, { field: 'voltage', value: '24 V' })
    const reply = await send(`/api/jobs/${id}/entries`, {
      question: 'feed-gauge',
      inputs: { distance: '40 ft', load: '60 W' },
    })
    expect(reply.answer.figures[0]).toMatchObject({ id: 'gauge', value: 14 })
    expect(reply.remembered).toEqual(['voltage'])
  })

  it('moves a job to another log as one file', async () => {
    const id = await begun()
    await send(`/api/jobs/${id}/ask`, { text: 'what gauge for 40 feet at 24 volts, 60 watts' })
    const file = await send(`/api/jobs/${id}/export`)
    const other = await appWithJobs()
    expect(await other.send('/api/jobs/import', file)).toMatchObject({ jobId: id, added: 5 })
    expect(await other.send('/api/jobs/import', file)).toMatchObject({ added: 0 })
    expect(await other.send(`/api/jobs/${id}`)).toEqual(await send(`/api/jobs/${id}`))
  })

  it('fills in a line of POST /api/ask from a job, and keeps nothing there', async () => {
    const id = await begun()
    await send(`/api/jobs/${id}/facts`, { field: 'voltage', value: '24 V' })
    const reply = await send('/api/ask', { text: 'what gauge for 40 feet, 60 watts', job: id })
    expect(reply.answer.inputs.voltage.from).toBe('job')
    expect((await send(`/api/jobs/${id}`)).thread).toEqual([])
  })

  it.each([
    ['a job without a name', '/api/jobs', { name: '' }, 422],
    ['an id that is none', '/api/jobs', { id: '1', name: 'x' }, 422],
    ['a field nobody knows', '/api/jobs', { name: 'x', colour: 'red' }, 422],
    ['an id that cannot be one', '/api/jobs/nonsense/ask', { text: 'hello' }, 404],
    ['a job that is not there', `/api/jobs/${newId()}/ask`, { text: 'hello' }, 404],
    ['no file of a job', '/api/jobs/import', { format: 'something' }, 422],
  ])('refuses %s', async (_, path, body, status) => {
    const refused = await send(path, body, status)
    expect(refused.title).toBeTruthy()
    expect(JSON.stringify(refused)).not.toMatch(/\bat .*:\d+:\d+/)
  })

  it('describes itself as valid OpenAPI', async () => {
    const validator = new Validator()
    const result = await validator.validate(await send('/openapi.json'))
    expect(result.errors ?? []).toEqual([])
    expect(Object.keys((await send('/openapi.json')).paths)).toContain('/api/jobs/{id}/ask')
  })

  it.each([
    ['voltage', '24', /unit/],
    ['voltage', '240 V', /between 3 V and 60 V/],
    ['nothing of the kind', '1', /./],
  ])('refuses %s of %s as a fact, and says why', async (field, value, why) => {
    const id = await begun()
    const refused = await send(`/api/jobs/${id}/facts`, { field, value }, 422)
    expect(refused.errors[0].message).toMatch(why)
    expect((await send(`/api/jobs/${id}`)).known).toEqual([])
  })
})
