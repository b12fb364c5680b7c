import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readCable } from '../../src/tables/cable-codes'

test.each([
  ['14/3', { count: 1, gauge: 14, insulated: 3, ground: true, groundGauge: 14 }],
  ['2 x 14/2', { count: 2, gauge: 14, insulated: 2, ground: true }],
  ['4x12/2', { count: 4, gauge: 12, insulated: 2 }],
  ['(2) 14/2', { count: 2, gauge: 14, insulated: 2 }],
  ['two 14-2', { count: 2, gauge: 14, insulated: 2 }],
  ['a pair of 14/2', { count: 2, gauge: 14, insulated: 2 }],
  ['a 14/3', { count: 1, gauge: 14, insulated: 3 }],
  ['an 18/2', { count: 1, gauge: 18, insulated: 2 }],
  ['14 / 2', { count: 1, gauge: 14, insulated: 2 }],
  ['14/2 no ground', { gauge: 14, insulated: 2, ground: false }],
  ['2 x 14/2 no ground', { count: 2, ground: false }],
  ['14/2 without a ground', { ground: false }],
  ['14/2 with ground', { ground: true }],
  ['14-2 w/g', { ground: true }],
  ['12/2/2', { gauge: 12, insulated: 4, ground: true, isolatedGround: false }],
  ['12/2 with isolated ground', { insulated: 2, ground: true, isolatedGround: true }],
  ['6/3', { gauge: 6, insulated: 3, groundGauge: 10 }],
  ['8/2', { groundGauge: 10 }],
  ['10/3 NM cable', { gauge: 10, insulated: 3, groundGauge: 10 }],
])('%s', (text, cable) => {
  expect(readCable(text)).toMatchObject({ ok: true, cable })
})

test.each([
  ['cable', 'no-cable'],
  ['14', 'no-cable'],
  ['', 'no-cable'],
  ['13/2', 'no-such-gauge'],
  ['4/3', 'no-such-gauge'],
  ['14/0', 'no-such-cable'],
  ['0 x 14/2', 'no-such-count'],
  ['99 x 14/2', 'no-such-count'],
  ['14/2 purple', 'not-understood'],
])('%s: %s', (text, fault) => {
  expect(readCable(text)).toMatchObject({ ok: false, fault })
})

test('never crashes', () => {
  fc.assert(
    fc.property(
      fc.string({ unit: fc.constantFrom(...'0123456789/- x×agwno()#.'), maxLength: 40 }),
      (text) => {
        expect(typeof readCable(text).ok).toBe('boolean')
      },
    ),
    { numRuns: 2000 },
  )
})
