import { describe, expect, it } from 'vitest'
import { answerSchema } from '../../src/app/answer-schema'
import { createApp } from '../../src/app/app'

const app = createApp()

type Said = {
  kind: string
  reading?: {
    question: string
    inputs: Record<string, { value: unknown; unit?: string; said: string }>
    leftOver: string[]
  }
  answer?: unknown
  missing?: { field: string; prompt: string }[]
  message: string
  explanation?: unknown
}

const post = (body: unknown) =>
  app.request('/api/ask', {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  })

const ask = async (body: unknown): Promise<Said> => (await (await post(body)).json()) as Said

describe('POST /api/ask', () => {
  it('answers one line with its reading and the whole answer', async () => {
    const said = await ask({ text: 'what gauge for forty feet at twenty four volts, sixty watts' })
    expect(said.kind).toBe('answer')
    expect(said.reading?.question).toBe('feed-gauge')
    expect(said.reading?.inputs.distance).toMatchObject({ value: 12.192, unit: 'm', said: 'forty feet' })
    expect(answerSchema.parse(said.answer).headline).toMatch(/14 AWG/)
  })

  it('takes the last reading as it stands to follow it', async () => {
    const first = await ask({ text: 'what gauge for 40 ft at 24 V, 60 W' })
    const next = await ask({
      text: 'and at 12 volts?',
      following: { question: first.reading?.question, inputs: first.reading?.inputs },
    })
    expect(next.reading?.inputs.voltage).toMatchObject({ value: 12, unit: 'V' })
    expect(next.reading?.inputs.distance).toMatchObject({ value: 12.192 })
  })

  it('explains itself when asked to, and only then', async () => {
    expect(
      (await ask({ text: 'what gauge for 40 ft at 24 V, 60 W', explain: true })).explanation,
    ).toBeDefined()
    expect((await ask({ text: 'what gauge for 40 ft at 24 V, 60 W' })).explanation).toBeUndefined()
  })

  it.each([
    [{ text: 'x'.repeat(8001) }, 422],
    [{ text: 'x'.repeat(8000) }, 200],
    [{}, 422],
    [{ text: 7 }, 422],
    [{ text: 'and at 12 V', following: { question: 'no-such-question', inputs: {} } }, 200],
    [
      {
        text: '',
        following: { question: 'feed-gauge', inputs: { distance: null, voltage: { value: 'x' } } },
      },
      200,
    ],
    [{ text: 'hello', extra: 1 }, 422],
  ])('never fails on %o', async (body, status) => {
    expect((await post(body)).status).toBe(status)
  })
})
