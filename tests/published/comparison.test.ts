import { describe, expect, it } from 'vitest'
import { compareAnswers } from '../../src/questions/common/comparison'
import { feedGauge } from '../../src/questions/feed-gauge'

/** Ohms of 1000 ft, uncoated stranded copper at 75 °C: NFPA 70-2023, chapter 9, table 8. */
const ohmPerKft = { 14: 3.14, 16: 4.99 }

const answer = (raw: object) => {
  const answered = feedGauge.answer(raw)
  if (!answered.ok) throw new Error(answered.errors.map(({ message }) => message).join(' '))
  return answered.answer
}

const load = { distance: '40 ft', voltage: '24 V', load: '60 W' }
// Under 3 % it takes 14 AWG, under 5 % 16 AWG does.
const comparison = compareAnswers(
  feedGauge,
  answer({ ...load, allowedDrop: '3 %' }),
  answer({ ...load, allowedDrop: '5 %' }),
)
const figure = (id: string) => comparison.figures.find((each) => each.id === id)

describe('sixteen or fourteen, on the same load over the same distance', () => {
  it('compares these two', () => {
    expect(figure('gauge')).toMatchObject({ a: { value: 14 }, b: { value: 16 } })
    expect(figure('current')).toMatchObject({ same: true, a: { value: 2.5 } })
  })

  // drop = 2 · L · I · R' (Ohm's law over both conductors), so at one current the drops are as the resistances.
  it.each(['drop', 'dropPercent', 'loss'])('%s: the two are as the resistances of their conductors', (id) => {
    const { a, b } = figure(id) ?? {}
    expect(Number(b?.value) / Number(a?.value)).toBeCloseTo(ohmPerKft[16] / ohmPerKft[14], 6)
  })

  it('says the difference of the drops: 2 · 40 ft · 2.5 A · (4.99 − 3.14) Ω/kft', () => {
    expect(figure('drop')?.difference?.value).toBeCloseTo(0.37, 6)
    expect(figure('drop')?.difference?.text).toBe('+0.37 V')
    expect(figure('farEndVoltage')?.difference?.text).toBe('−0.37 V')
    // 0.37 V of 24 V.
    expect(figure('dropPercent')?.difference?.text).toBe('+1.54 percentage points')
  })
})
