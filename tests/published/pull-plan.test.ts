import { expect, test } from 'vitest'
import { type PullInput, pullPlan } from '../../src/calculators/pull'

const foot = 0.3048
const given = (feet: number[], rest: Partial<PullInput> = {}): PullInput => ({
  rules: 'nec',
  legs: feet.map((length) => ({ lengthM: length * foot })),
  endSlackM: foot,
  slackPercent: 10,
  ...rest,
})

// By hand: 60 ft · 1.10 + 2 · 0.5 ft = 67 ft, two of which do not go on 100 ft; 4 · 67 = 268 ft would go on three.
test('four legs of 60 ft take four spools of 100 ft, not three', () => {
  const plan = pullPlan(given([60, 60, 60, 60], { endSlackM: foot / 2, spoolM: 100 * foot }))
  expect(plan.allowed).toBe(true)
  expect(plan.cableM / foot).toBeCloseTo(268, 9)
  expect(plan.spools?.count).toBe(4)
  expect(plan.spools?.leftM.map((left) => Number((left / foot).toFixed(6)))).toEqual([33, 33, 33, 33])
})

// By hand: 18 + 7.25 + 31 = 56.25 ft, · 1.1 = 61.875, and three times two feet of ends.
test('three legs in feet and inches', () => {
  const plan = pullPlan(given([18, 7.25, 31], { spoolM: 500 * foot, rodLengthM: 6 * foot }))
  expect(plan.cableM / foot).toBeCloseTo(67.875, 9)
  expect(plan.spools).toMatchObject({ count: 1, proven: true })
  // 31 ft · 1.1 = 34.1 ft, of 6 ft rods: six.
  expect(plan.rods).toBe(6)
})

// By hand: 44 + 26 and 36 + 34 ft fill two spools of 70 ft to the last inch; no one-by-one filling in this order does.
test('spools are packed exactly', () => {
  const plan = pullPlan(
    given([36, 26, 34, 44], { endSlackM: 0, slackPercent: 0, rules: 'iec', spoolM: 70 * foot }),
  )
  expect(plan.spools).toMatchObject({ count: 2, proven: true })
})

// NEC 300.14, from memory: 6 in at a box; nothing at a tape end, nothing of the kind under iec.
test('free cable at a box', () => {
  const plan = (endIn: number, rest: Partial<PullInput> = {}) =>
    pullPlan(given([10], { endSlackM: endIn * 0.0254, ...rest }))
  expect(plan(5.9).reasons).toEqual(['short-at-box'])
  expect(plan(6).allowed).toBe(true)
  expect(plan(0, { rules: 'iec' }).allowed).toBe(true)
  expect(plan(0, { legs: [{ lengthM: 3, from: 'tape', to: 'tape' }] }).allowed).toBe(true)
})

test('a leg longer than a spool has no plan', () => {
  const plan = pullPlan(given([10, 120], { spoolM: 100 * foot }))
  expect(plan).toMatchObject({
    allowed: false,
    reasons: ['leg-longer-than-spool'],
    spools: null,
    tooLong: [1],
  })
})
