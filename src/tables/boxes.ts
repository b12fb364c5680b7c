import * as z from 'zod/mini'
import data from '../../data/boxes.json'
import { sourceId } from './sources'

const positive = z.number().check(z.positive())

const Boxes = z.strictObject({
  boxes: z
    .array(
      z.strictObject({
        code: z.string(),
        shape: z.enum(['octagon', 'square', 'device']),
        sizesIn: z.array(positive).check(z.minLength(2), z.maxLength(3)),
        volumeIn3: positive,
      }),
    )
    .check(z.minLength(1)),
  masonry: z
    .array(z.strictObject({ depth: z.string(), depthIn: positive, volumePerGangIn3: positive }))
    .check(z.minLength(1)),
  cast: z
    .array(
      z.strictObject({
        shape: z.enum(['FS', 'FD']),
        singleVolumeIn3: positive,
        multipleVolumePerGangIn3: positive,
      }),
    )
    .check(z.minLength(1)),
  boxSource: sourceId,
  allowances: z
    .array(z.strictObject({ gauge: z.int().check(z.positive()), volumeIn3: positive }))
    .check(z.minLength(1)),
  allowanceSource: sourceId,
  cableGrounds: z.strictObject({ largestGauge: z.int().check(z.positive()), source: sourceId }),
})

/** Box volumes (NEC table 314.16(A)) and the volume allowance of each AWG (table 314.16(B)(1)), thinnest first. */
export const boxes = Boxes.parse(data)

/**
 * The volume allowance of one conductor, in³ (NFPA 70-2023, table 314.16(B)(1)).
 *
 * @param gauge AWG number; thinner than 18 counts as 18, the thinnest the table knows
 * @returns in³; `undefined` for a size that is not in the table (thicker than 6, or an odd number)
 *
 * @example allowanceIn3(14) // 2
 */
export function allowanceIn3(gauge: number): number | undefined {
  const thinnest = boxes.allowances[0]?.gauge ?? gauge
  const counted = gauge === 20 || gauge === 22 ? thinnest : gauge
  return boxes.allowances.find((row) => row.gauge === counted)?.volumeIn3
}

/**
 * The gauge of the grounding conductor built into a cable: as its wires, but never thicker than 10 AWG.
 *
 * @param gauge AWG number of the cable's insulated wires
 */
export function cableGroundGauge(gauge: number): number {
  return Math.max(gauge, boxes.cableGrounds.largestGauge)
}
