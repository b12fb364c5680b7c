import { describe, expect, it } from 'vitest'
import { flickerCategory, flickerLimits, percentModulation } from '../../src/calculators/steady-light'

describe('flicker against IEEE 1789-2015 (from memory)', () => {
  // Low risk 0.08·f, no effect 0.0333·f between 90 Hz and 1250 / 3000 Hz: the standard's figure 20.
  it.each([
    [100, 8, 3.33],
    [120, 9.6, 4.0],
    [300, 24, 9.99],
    [1000, 80, 33.3],
    [1250, 100, 41.63],
    [3000, 100, 99.9],
  ])('at %i Hz allows %f %% at low risk and %f %% without effect', (frequencyHz, lowRisk, noEffect) => {
    const limits = flickerLimits(frequencyHz)
    expect(limits.lowRiskPercent).toBeCloseTo(lowRisk, 9)
    // The standard rounds one thirtieth to 0.0333, a tenth of a per cent of its value.
    expect(Math.abs(limits.noEffectPercent / noEffect - 1)).toBeLessThan(1.1e-3)
  })

  it('allows 0.025·f and 0.01·f below 90 Hz', () => {
    expect(flickerLimits(60).lowRiskPercent).toBeCloseTo(1.5, 12)
    expect(flickerLimits(60).noEffectPercent).toBeCloseTo(0.6, 12)
    expect(flickerLimits(89.99).lowRiskPercent).toBeCloseTo(2.25, 3)
    expect(flickerLimits(90).lowRiskPercent).toBeCloseTo(7.2, 12)
  })

  it('takes pulse-width modulation (100 %) as low risk from 1250 Hz and as without effect from 3000 Hz', () => {
    expect(flickerCategory(1249, 100)).toBe('above')
    expect(flickerCategory(1250, 100)).toBe('low-risk')
    expect(flickerCategory(2999, 100)).toBe('low-risk')
    expect(flickerCategory(3000, 100)).toBe('no-effect')
  })

  it('takes a filament lamp on 60 Hz mains, about 7 %, as low risk (IEEE 1789-2015, from memory)', () => {
    expect(flickerCategory(120, 7)).toBe('low-risk')
  })

  it('has percent flicker as 100·(A − B)/(A + B) (IES Lighting Handbook)', () => {
    expect(percentModulation(3, 1)).toBe(50)
    expect(percentModulation(5, 0)).toBe(100)
    expect(percentModulation(1.096, 0.904)).toBeCloseTo(9.6, 9)
  })
})
