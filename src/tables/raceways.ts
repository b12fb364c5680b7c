import * as z from 'zod/mini'
import data from '../../data/raceways.json'
import { sourceId } from './sources'

const positive = z.number().check(z.positive())
const percent = positive.check(z.lte(100))

const Raceways = z.strictObject({
  emt: z.array(z.strictObject({ tradeSize: z.string(), innerDiameterIn: positive })).check(z.minLength(1)),
  emtSource: sourceId,
  fillPercent: z.strictObject({ one: percent, two: percent, more: percent, nipple: percent }),
  fillSource: sourceId,
  jamRatio: z.strictObject({ from: positive, to: positive, source: sourceId }),
  jamWidening: z.strictObject({ factor: positive, source: sourceId }),
})

const table = Raceways.parse(data)
const metresPerInch = 0.0254

/** One size of electrical metallic tubing. */
export type Raceway = { tradeSize: string; innerDiameterM: number }

/** Electrical metallic tubing, smallest first (NEC chapter 9 table 4). */
export const emt: readonly Raceway[] = table.emt.map(({ tradeSize, innerDiameterIn }) => ({
  tradeSize,
  innerDiameterM: innerDiameterIn * metresPerInch,
}))

/** How full a raceway may be (NEC chapter 9 table 1), the jam ratio, and where each comes from. */
export const racewayRules = {
  fillPercent: table.fillPercent,
  jamRatio: table.jamRatio,
  jamWidening: table.jamWidening,
  emtSource: table.emtSource,
  fillSource: table.fillSource,
}
