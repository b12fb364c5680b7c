import * as z from 'zod/mini'
import data from '../../data/class-two.json'
import { sourceId } from './sources'

const positive = z.number().check(z.positive())

const ClassTwo = z.strictObject({
  lowVoltage: z.strictObject({ upToV: positive, limitA: positive, source: sourceId }),
  highVoltage: z.strictObject({ upToV: positive, limitVA: positive, source: sourceId }),
  wetContact: z.strictObject({ continuousV: positive, pulsedPeakV: positive, source: sourceId }),
  dryPulsedPeakV: positive,
  nameplate: z.strictObject({ lowVoltageW: positive, highVoltageW: positive, source: sourceId }),
})

/** What a Class 2 direct-current supply may give, and the nameplates it is commonly sold with. */
export const classTwo = ClassTwo.parse(data)

/**
 * The greatest current of a Class 2 dc supply (NFPA 70-2023, chapter 9 table 11(B)).
 *
 * @param outputV its greatest output voltage, V, above 0
 * @returns A; `undefined` above 60 V, where no supply of this kind is meant
 *
 * @example classTwoLimitA(12) // 5
 * @example classTwoLimitA(24) // 4.1667
 */
export function classTwoLimitA(outputV: number): number | undefined {
  if (outputV <= classTwo.lowVoltage.upToV) return classTwo.lowVoltage.limitA
  if (outputV <= classTwo.highVoltage.upToV) return classTwo.highVoltage.limitVA / outputV
  return undefined
}

/**
 * The nameplate a Class 2 driver of this voltage is commonly sold with, never above what the table allows.
 *
 * @param outputV output voltage, V, above 0
 * @returns W: 60 up to 20 V (5 A times the voltage where that is less), 96 above
 */
export function classTwoNameplateW(outputV: number): number {
  const { lowVoltage, nameplate } = classTwo
  return outputV <= lowVoltage.upToV
    ? Math.min(nameplate.lowVoltageW, lowVoltage.limitA * outputV)
    : nameplate.highVoltageW
}
