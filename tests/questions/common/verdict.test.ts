import { describe, expect, it } from 'vitest'
import { type Judged, use, verdictOf, verdictOfOne } from '../../../src/questions/common/verdict'

const atMost = (value: number, limit: number): Judged => ({
  id: 'x',
  value,
  limit,
  sense: 'at-most',
  unit: 'V',
})
const atLeast = (value: number, limit: number): Judged => ({
  id: 'x',
  value,
  limit,
  sense: 'at-least',
  unit: 'V',
})

// The rules of the design: tight above 0.9 of an upper limit, and below a lower limit divided by 0.9;
// a limit holds up to a billionth beyond it.
describe('the verdict', () => {
  it.each([
    [atMost(0.9, 1), 'holds'],
    [atMost(0.901, 1), 'tight'],
    [atMost(1, 1), 'tight'],
    [atMost(1 + 5e-10, 1), 'tight'],
    [atMost(1 + 5e-9, 1), 'fails'],
    [atLeast(100, 90), 'holds'],
    [atLeast(99, 90), 'tight'],
    [atLeast(90, 90), 'tight'],
    [atLeast(89.9, 90), 'fails'],
    [atMost(0, 0), 'holds'],
    [atMost(1, 0), 'fails'],
  ] as const)('of %o is %s', (judged, verdict) => {
    expect(verdictOfOne(judged)).toBe(verdict)
  })

  it('is the worst of all, and only information when nothing is judged', () => {
    expect(verdictOf([atMost(0.5, 1), atMost(0.95, 1)])).toBe('tight')
    expect(verdictOf([atMost(2, 1), atMost(0.95, 1)])).toBe('fails')
    expect(verdictOf([])).toBe('info')
  })

  it('counts a limit that leaves nothing as used without end', () => {
    expect(use(atMost(1, 0))).toBe(Number.POSITIVE_INFINITY)
    expect(use(atLeast(0, 1))).toBe(Number.POSITIVE_INFINITY)
  })
})
