import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, it } from 'vitest'
import { replyTo } from '../../src/app/reply'
import { type Reply, type Score, scoreReply, type Utterance } from './score'

const linesOf = (file: string): Utterance[] =>
  readFileSync(new URL(file, import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Utterance)

const scored = (line: Utterance): Score => scoreReply(line, replyTo(line.text, line.following).reply as Reply)

// The lines and what they mean come with the task (shared examples), not from the code.
describe('the example lines', () => {
  it.each(linesOf('utterances-examples.jsonl'))('$text', (line) => {
    expect(scored(line)).toMatchObject({ exact: true, silentWrong: false, why: [] })
  })
})

// Written by somebody who did not know the code; tuned on.
describe.each(['work', 'work2', 'work3', 'work4', 'held2', 'work5', 'work6'])(
  'the lines to work with: %s',
  (set) => {
    let lines: ({ text: string } & Score)[] = []
    beforeAll(() => {
      lines = linesOf(`utterances-${set}.jsonl`).map((line) => ({ text: line.text, ...scored(line) }))
    })

    it('reads at least 95 % of them exactly', () => {
      const missed = lines.filter(({ exact }) => !exact).map(({ text }) => text)
      expect(missed.length, missed.join('\n')).toBeLessThanOrEqual(lines.length * 0.05)
    })

    it('is never wrong in silence', () => {
      expect(lines.filter(({ silentWrong }) => silentWrong).map(({ text }) => text)).toEqual([])
    })

    it('names every number that it leaves aside', () => {
      const unnamed = lines.filter(({ leftOver }) => leftOver.named < leftOver.listed)
      expect(unnamed.map(({ text }) => text)).toEqual([])
    })
  },
)
