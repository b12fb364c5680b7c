import type { ConductorSize } from '../quantities/conductor-size'
import type { Rules } from '../quantities/systems'
import { conductorOhmPerM, type Strands, sizesFor } from './conductor'

/** Added ohms said in other ways: so much more of the same cable, or the whole cable in a thinner size. */
export type AddedResistance = {
  extraLengthM: number
  /** A thinner size of about this resistance in place of the designed one; none without a cable, or far from all. */
  likeSize?: ConductorSize
}

/** About half the step from one size to the next, as a logarithm of their resistances. */
const HALF_A_SIZE = 0.25

/**
 * Says resistance added to a feed as extra cable length or as a thinner size.
 *
 * @param addedOhm in the loop, >= 0, ohm
 * @param distanceM of the feed as designed, one way, m
 * @returns undefined for a size that is not in the tables
 */
export function addedResistanceAs(
  addedOhm: number,
  cable: { size: ConductorSize; strands: Strands; temperatureC: number; distanceM: number; rules: Rules },
): AddedResistance | undefined {
  const { size, strands, temperatureC, distanceM, rules } = cable
  const designed = conductorOhmPerM({ size, strands, temperatureC })
  if (designed === undefined) return undefined
  const extraLengthM = addedOhm / (2 * designed)
  if (distanceM === 0) return { extraLengthM }
  const soughtOhmPerM = designed + addedOhm / (2 * distanceM)
  const thinner = sizesFor(rules).flatMap((other) => {
    const ohmPerM = conductorOhmPerM({ size: other, strands, temperatureC })
    return ohmPerM !== undefined && ohmPerM > designed
      ? [{ size: other, apart: Math.abs(Math.log(ohmPerM / soughtOhmPerM)) }]
      : []
  })
  const nearest = thinner.reduce<(typeof thinner)[number] | undefined>(
    (best, each) => (best && best.apart <= each.apart ? best : each),
    undefined,
  )
  return nearest && nearest.apart <= HALF_A_SIZE ? { extraLengthM, likeSize: nearest.size } : { extraLengthM }
}
