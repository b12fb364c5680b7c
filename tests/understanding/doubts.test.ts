import { describe, expect, it } from 'vitest'
import { understand } from '../../src/understanding/understand'

// A person who hears these cannot write down one number without asking; each says why.

describe('an answer is not given', () => {
  it.each([
    // a bare 40 goes on with the list
    ['how much cable for runs of 25 ft each way, 30 ft and 40, on 250 ft spools', 'pull-plan'],
    // 30 or 40?
    ['what gauge for 30 to 40 ft at 24 V and 60 W', 'feed-gauge'],
    // 15 or 20 A?
    ['could be a 15, could be a 20 amp breaker. room on the circuit for 200 watts more?', 'circuit-room'],
    // how far apart is no distance
    ['what gauge for two strips 12 ft apart at 24 V and 60 W', 'feed-gauge'],
  ])('to "%s"', (text, question) => {
    expect(understand({ text })).toMatchObject({ kind: 'ask-back', question })
  })

  it('leaves a number that a phrase reads alone', () => {
    expect(understand({ text: 'what gauge for a 40 ft run at 24 V and 60 W' }).kind).toBe('answer')
  })
})

describe('what is left over', () => {
  it('is named', () => {
    const { kind, leftOver } = understand({
      text: 'flat 31, the 22nd: what gauge for 40 ft at 24 V and 60 W',
    })
    expect(kind).toBe('answer')
    expect(leftOver.join(' ')).toMatch(/31.*22nd/)
  })
})
