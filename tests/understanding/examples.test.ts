import { beforeAll, describe, expect, it } from 'vitest'
import { replyTo } from '../../src/app/reply'
import { type Reply, type Score, scoreReply, type Utterance } from './score'
import { hardSets, linesOf, workingSets } from './sets'

const scored = (line: Utterance): Score => scoreReply(line, replyTo(line.text, line.following).reply as Reply)

// The lines and what they mean come with the task (shared examples), not from the code.
describe('the example lines', () => {
  it.each(linesOf('examples'))('$text', (line) => {
    expect(scored(line)).toMatchObject({ exact: true, silentWrong: false, why: [] })
  })
})

// Written by somebody who did not know the code; tuned on.
describe.each([
  ...workingSets.map((set) => ({ set, least: 0.95 })),
  ...hardSets.map((set) => ({ set, least: 0.85 })),
])('the lines to work with: $set', ({ set, least }) => {
  let lines: ({ text: string } & Score)[] = []
  beforeAll(() => {
    lines = linesOf(set).map((line) => ({ text: line.text, ...scored(line) }))
  })

  it(`reads at least ${least * 100} % of them exactly`, () => {
    const missed = lines.filter(({ exact }) => !exact).map(({ text }) => text)
    expect(missed.length, missed.join('\n')).toBeLessThanOrEqual(lines.length * (1 - least))
  })

  it('is never wrong in silence', () => {
    expect(lines.filter(({ silentWrong }) => silentWrong).map(({ text }) => text)).toEqual([])
  })

  it('names every number that it leaves aside', () => {
    const unnamed = lines.filter(({ leftOver }) => leftOver.named < leftOver.listed)
    expect(unnamed.map(({ text }) => text)).toEqual([])
  })
})
