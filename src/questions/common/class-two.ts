import { classTwo, classTwoLimitA } from '../../tables/class-two'
import { exactly } from './printing'
import type { Step } from './question'

/** What a Class 2 dc supply may give at a voltage of 3 to 60 V, W; `undefined` above that. */
const classTwoLimitW = (voltageV: number): number | undefined => {
  const limitA = classTwoLimitA(voltageV)
  return limitA === undefined ? undefined : limitA * voltageV
}

/** Whether a supply of this rating, W, is more than a Class 2 supply may give at its voltage. */
export function isPastClassTwo(ratingW: number, voltageV: number): boolean {
  const limitW = classTwoLimitW(voltageV)
  return limitW !== undefined && ratingW > limitW * (1 + 1e-9)
}

/** The working of the Class 2 limit at a voltage of 3 to 60 V, under the label `classTwo`. */
export function classTwoStep(voltageV: number): Step {
  const { lowVoltage, highVoltage } = classTwo
  const low = voltageV <= lowVoltage.upToV
  return {
    id: 'classTwo',
    formula: low
      ? `${lowVoltage.limitA} A up to ${lowVoltage.upToV} V`
      : `${highVoltage.limitVA} VA / V above ${lowVoltage.upToV} V`,
    substituted: low ? exactly(voltageV, 'V') : `${highVoltage.limitVA} VA / ${exactly(voltageV, 'V')}`,
    result: exactly(classTwoLimitA(voltageV) ?? 0, 'A'),
    source: low ? lowVoltage.source : highVoltage.source,
  }
}
