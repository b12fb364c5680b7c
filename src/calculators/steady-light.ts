import { within } from './limit'

/** Where a flicker stands against IEEE 1789-2015. */
export type FlickerCategory = 'no-effect' | 'low-risk' | 'above'

/** The most modulation that a frequency allows, % (0–100). */
export type FlickerLimits = { lowRiskPercent: number; noEffectPercent: number }

/**
 * The greatest modulation of low risk and of no observable effect at a frequency of the light.
 *
 * IEEE 1789-2015, recommended practices 1 and 2: low risk 0.025·f below 90 Hz, 0.08·f from 90 Hz, any from 1250 Hz;
 * no effect 0.01·f below 90 Hz, f/30 from 90 Hz (the standard prints 0.0333·f), any from 3000 Hz.
 *
 * @param frequencyHz of the light, > 0: twice the mains frequency for mains ripple, the pulse frequency for PWM
 */
export function flickerLimits(frequencyHz: number): FlickerLimits {
  const slow = frequencyHz < 90
  return {
    lowRiskPercent: Math.min(100, (slow ? 0.025 : 0.08) * frequencyHz),
    noEffectPercent: Math.min(100, slow ? 0.01 * frequencyHz : frequencyHz / 30),
  }
}

/**
 * Modulation from the greatest and least light of a cycle: 100·(max − min)/(max + min), IEEE 1789-2015 (Michelson
 * contrast, also "percent flicker").
 *
 * @param max in any unit of light, > min
 * @param min in the same unit, >= 0
 */
export function percentModulation(max: number, min: number): number {
  return (100 * (max - min)) / (max + min)
}

/**
 * The category of a light that is modulated so much, so often.
 *
 * @param frequencyHz of the light, > 0
 * @param modulationPercent of the light, 0–100; PWM below full output is 100
 */
export function flickerCategory(frequencyHz: number, modulationPercent: number): FlickerCategory {
  const { lowRiskPercent, noEffectPercent } = flickerLimits(frequencyHz)
  if (within(modulationPercent, noEffectPercent)) return 'no-effect'
  return within(modulationPercent, lowRiskPercent) ? 'low-risk' : 'above'
}
