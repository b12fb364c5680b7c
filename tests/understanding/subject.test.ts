import { describe, expect, it } from 'vitest'
import { replyTo } from '../../src/app/reply'
import { type Reply, scoreReply, type Utterance } from './score'
import { linesOf, workingSets } from './sets'

const lines = ['examples', ...workingSets].flatMap(linesOf)

/** A question before, of each kind that the sets follow. */
const befores = [
  ...new Map(
    lines.flatMap(({ following }) => (following ? [[following.question, following] as const] : [])),
  ).values(),
]

const scored = (line: Utterance, before?: Utterance['following']) =>
  scoreReply(line, replyTo(line.text, before).reply as Reply)

// Expected: what the line means alone. What was asked before it, of another kind, has no part in a whole question.
describe('a whole question after another one', () => {
  const whole = lines.filter(
    (line) => line.kind === 'answer' && line.following === undefined && scored(line).exact,
  )

  it('is read as if it stood alone', () => {
    const swallowed = whole.flatMap((line, index) => {
      const others = befores.filter(({ question }) => question !== line.question)
      const before = others[index % others.length]
      return scored(line, before).exact ? [] : [`${line.text}, after ${before?.question}`]
    })
    expect(befores.length).toBe(16)
    expect(whole.length).toBeGreaterThan(1000)
    expect(swallowed).toEqual([])
  })
})
