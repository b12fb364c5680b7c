import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import { steadyLight } from '../../src/questions/steady-light'

function answered(raw: object): Answer {
  const result = steadyLight.answer(raw)
  if (!result.ok) throw new Error(JSON.stringify(result.errors))
  return result.answer
}

const refused = (raw: unknown): string[] => {
  const result = steadyLight.answer(raw)
  return result.ok ? [] : result.errors.map(({ field }) => field)
}

const figure = (answer: Answer, id: string) => answer.figures.find((each) => each.id === id)?.value

describe('steady-light', () => {
  // IEEE 1789-2015, recommended practices 1 and 2: 0.08·f and f/30 from 90 Hz, 0.025·f and 0.01·f below.
  it.each([
    [60, 1.5, 0.6],
    [100, 8, 100 / 30],
    [120, 9.6, 4],
    [300, 24, 10],
    [1000, 80, 1000 / 30],
    [1250, 100, 1250 / 30],
    [3000, 100, 100],
    [10_000, 100, 100],
  ])('allows at %i Hz what IEEE 1789-2015 does', (hz, lowRisk, noEffect) => {
    const answer = answered({ frequency: `${hz} Hz`, modulation: '50 %' })
    expect(figure(answer, 'lowRiskLimit')).toBeCloseTo(lowRisk, 9)
    expect(figure(answer, 'noEffectLimit')).toBeCloseTo(noEffect, 9)
  })

  // Pulsed light is modulated by 100 %: low risk from 1250 Hz, no effect from 3000 Hz (IEEE 1789-2015).
  it.each([
    ['200 Hz', 'above', 'fails'],
    ['1249 Hz', 'above', 'fails'],
    ['1250 Hz', 'low-risk', 'holds'],
    ['2999 Hz', 'low-risk', 'holds'],
    ['3 kHz', 'no-effect', 'holds'],
  ])('puts a pulsed light of %s into %s', (frequency, category, verdict) => {
    const answer = answered({ frequency, modulation: '100 %' })
    expect([figure(answer, 'category'), answer.verdict]).toEqual([category, verdict])
  })

  it('takes the two readings in any one unit or none, as numbers or text', () => {
    // Michelson contrast: (100 − 80) / (100 + 80) = 11.1 %, above 9.6 % at 120 Hz
    for (const [max, min] of [
      [100, 80],
      ['100', '80'],
      ['1 V', '800 mV'],
      ['100 fc', '80 fc'],
      ['50 %', '40 %'],
    ]) {
      const answer = answered({ frequency: '120 Hz', max, min })
      expect(figure(answer, 'category')).toBe('above')
      expect(answer.headline).toContain('11.2 %')
    }
  })

  it('reads a decimal comma in metric', () => {
    const answer = answered({ frequency: '100 Hz', max: '1,5', min: '1,4', units: 'metric' })
    expect(answer.inputs.max).toMatchObject({ value: 1.5, from: 'given' })
    expect(answer.inputs.max).not.toHaveProperty('unit')
  })

  it('says what would do when there is too much flicker', () => {
    const answer = answered({ frequency: '120 Hz', modulation: '30 %' })
    expect(answer.headline).toContain('9.6 %')
    // 30 / 0.08 = 375 Hz; the search stops within 0.5 % on the safe side
    expect(answer.headline).toMatch(/37[56] Hz/)
  })

  it('judges a claim on the category', () => {
    const claimed = (value: string) =>
      answered({ frequency: '1 kHz', modulation: '35 %', claim: { figure: 'category', value } })
    const noEffect = claimed('no-effect')
    expect([noEffect.verdict, noEffect.claim?.verdict]).toEqual(['fails', 'fails'])
    // 35 % · 30 = 1050 Hz; and 1000 / 30 = 33.3 %
    expect(noEffect.claim?.wouldHoldIf).toEqual([
      expect.stringMatching(/105[01] Hz/),
      expect.stringContaining('33.3 %'),
    ])
    expect(noEffect.headline).toContain('No, no effect does not hold')
    expect(claimed('low-risk')).toMatchObject({ verdict: 'holds', claim: { verdict: 'holds' } })
    expect(claimed('above').claim?.verdict).toBe('fails')
    expect(answered({ frequency: '120 Hz', modulation: '3.9 %', claim: 'no effect' }).claim?.verdict).toBe(
      'tight',
    )
  })

  it('judges a claim that it is fine, with the reason', () => {
    const claim = { figure: 'verdict', value: 'holds' }
    const fine = answered({ frequency: '120 Hz', modulation: '5 %', claim })
    expect(fine).toMatchObject({ verdict: 'holds', claim: { verdict: 'holds' } })
    expect(fine.claim?.margin).not.toBe('')
    expect(answered({ frequency: '120 Hz', modulation: '50 %', claim }).claim?.verdict).toBe('fails')
  })

  it.each([
    [{}, ['frequency', 'modulation']],
    [{ modulation: '40 %' }, ['frequency']],
    [{ frequency: '120 Hz' }, ['modulation']],
    [{ frequency: '120 Hz', max: 5 }, ['min']],
    [{ frequency: '120 Hz', max: 5, min: 5 }, ['min']],
    [{ frequency: '120 Hz', max: '5 V', min: '4 lx' }, ['min']],
    [{ frequency: '120 Hz', max: -5, min: 'dark' }, ['max', 'min']],
    [{ frequency: '120 Hz', modulation: '40 %', max: 5, min: 4 }, ['max', 'min']],
    [{ frequency: '0.5 Hz', modulation: '140 %', claim: '30 %' }, ['frequency', 'modulation', 'claim']],
    [{ frequency: '120', modulation: 30, colour: 'red' }, ['frequency', 'modulation', 'colour']],
    [null, ['']],
  ])('names every fault of %j', (raw, fields) => {
    expect(refused(raw).sort()).toEqual([...fields].sort())
  })

  it('warns of slow flicker, and of turning machines until there is no effect', () => {
    const texts = (raw: object) =>
      answered(raw)
        .cautions.map(({ text }) => text)
        .join(' ')
    expect(texts({ frequency: '60 Hz', modulation: '1 %' })).toContain('fits and headaches')
    expect(texts({ frequency: '120 Hz', modulation: '8 %' })).toContain('lathe')
    expect(texts({ frequency: '120 Hz', modulation: '3 %' })).not.toContain('lathe')
  })

  it('has true room: the same just inside, changed just outside', () => {
    const numbers = fc.record({
      hz: fc.double({ min: 5, max: 5000, noNaN: true }),
      percent: fc.double({ min: 0.5, max: 100, noNaN: true }),
    })
    fc.assert(
      fc.property(numbers, ({ hz, percent }) => {
        const at = (frequency: number, modulation: number) =>
          figure(
            answered({ frequency: `${frequency} Hz`, modulation: `${Math.min(100, modulation)} %` }),
            'category',
          )
        const answer = answered({ frequency: `${hz} Hz`, modulation: `${percent} %` })
        const now = figure(answer, 'category')
        for (const { field, until } of answer.room) {
          if (!until) continue
          const moved = (value: number) => (field === 'frequency' ? at(value, percent) : at(hz, value))
          expect(moved(until.value)).toBe(now)
          expect(moved(until.value * (field === 'frequency' ? 0.995 : 1.005))).not.toBe(now)
        }
      }),
      { numRuns: 150 },
    )
  })

  it('never throws, whatever it is sent', () => {
    const body = fc.dictionary(
      fc.constantFrom('frequency', 'modulation', 'max', 'min', 'claim', 'rules', 'units', 'other'),
      fc.oneof(fc.constantFrom('120 Hz', '100 %', '5 V', 3, 'no-effect', 'metric', 'iec'), fc.jsonValue()),
    )
    fc.assert(
      fc.property(fc.oneof(body, fc.jsonValue()), (raw) => {
        const result = steadyLight.answer(raw)
        if (!result.ok) for (const error of result.errors) expect(error.message).not.toBe('')
      }),
      { numRuns: 1000 },
    )
  })
})
