import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { flickerCategory, flickerLimits, percentModulation } from '../../src/calculators/steady-light'

const frequencies = fc.double({ min: 1, max: 100_000, noNaN: true })
const severity = { 'no-effect': 0, 'low-risk': 1, above: 2 }

describe('flicker', () => {
  it('is never worse at a higher frequency, nor better with more modulation', () => {
    fc.assert(
      fc.property(frequencies, fc.double({ min: 0, max: 100, noNaN: true }), (frequencyHz, modulation) => {
        const here = severity[flickerCategory(frequencyHz, modulation)]
        expect(severity[flickerCategory(frequencyHz * 1.5, modulation)]).toBeLessThanOrEqual(here)
        expect(severity[flickerCategory(frequencyHz, modulation / 2)]).toBeLessThanOrEqual(here)
      }),
      { numRuns: 1000 },
    )
  })

  it('has no effect only where it is also of low risk, and no limit above 100 %', () => {
    fc.assert(
      fc.property(frequencies, (frequencyHz) => {
        const { lowRiskPercent, noEffectPercent } = flickerLimits(frequencyHz)
        expect(noEffectPercent).toBeLessThanOrEqual(lowRiskPercent)
        expect(lowRiskPercent).toBeLessThanOrEqual(100)
      }),
      { numRuns: 1000 },
    )
  })

  it('has the same modulation in any unit of light', () => {
    expect(percentModulation(300, 200)).toBeCloseTo(percentModulation(0.3, 0.2), 12)
  })

  it('meets a limit that it equals', () => {
    expect(flickerCategory(120, 9.6)).toBe('low-risk')
    expect(flickerCategory(120, 4)).toBe('no-effect')
  })
})
