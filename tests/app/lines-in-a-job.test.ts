import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type Memory, replyTo } from '../../src/app/reply'
import type { KnownFact } from '../../src/jobs/memory/facts'
import { fillFromFacts } from '../../src/jobs/memory/fill'
import { questions } from '../../src/questions/registry'

type Line = { text: string; following?: Parameters<typeof replyTo>[1] }

const lines: Line[] = ['examples', 'work']
  .flatMap((set) => readFileSync(`tests/understanding/utterances-${set}.jsonl`, 'utf8').trim().split('\n'))
  .map((line) => JSON.parse(line))

/** A job that knows something of every input of every question: the examples of their forms. */
const knowsAll = new Map(
  questions.flatMap((question) =>
    Object.entries(question.words.fields).flatMap(([input, { example }]): [string, KnownFact][] => {
      const field = question.inputs[input]?.fact ?? input
      if (example === undefined || field === 'rules' || field === 'units') return []
      return [[field, { field, where: null, value: example, id: field, at: '', contested: [] }]]
    }),
  ),
)

const from = (facts: ReadonlyMap<string, KnownFact>): Memory => {
  return (question, given) => fillFromFacts(question, given, facts)
}

describe('a line asked in a job', () => {
  it.each(lines.map((line) => [line.text, line] as const))('%s', (_, { text, following }) => {
    const alone = replyTo(text, following).reply
    expect(replyTo(text, following, false, from(new Map())).reply).toEqual(alone)
    const { reply, remembered } = replyTo(text, following, false, from(knowsAll))
    // What was said stays what it was; the job only fills in beside it, and says so.
    expect(reply.reading).toEqual(alone.reading)
    if (alone.kind === 'choose' || alone.kind === 'out-of-reach') expect(reply).toEqual(alone)
    for (const [field, { from: source }] of Object.entries(reply.answer?.inputs ?? {})) {
      expect([field, source === 'job']).toEqual([field, remembered.includes(field)])
      if (Object.hasOwn(alone.reading?.inputs ?? {}, field)) expect([field, source]).toEqual([field, 'given'])
    }
  })
})
