import { describe, expect, it } from 'vitest'
import { readLine } from '../../src/understanding/line'
import { isVague } from '../../src/understanding/vague'

// Judged by hand: does a colleague who hears only this know which sum is meant?

describe('isVague', () => {
  it.each([
    'is it enough',
    'will sixty watts be ok',
    'how far can I go',
    'the dimmer and the breaker, are they ok',
  ])('says that "%s" may be several questions', (text) => {
    expect(isVague(readLine(text))).toBe(true)
  })

  it.each(['how full is this box with 14/2', 'what gauge for 40 ft', '120 Hz, is it seen', '24 V, 60 W'])(
    'leaves "%s" to the questions',
    (text) => {
      expect(isVague(readLine(text))).toBe(false)
    },
  )

  it('does not count a room or a date as a number', () => {
    expect(isVague(readLine('room 12, is it enough'))).toBe(true)
  })
})
