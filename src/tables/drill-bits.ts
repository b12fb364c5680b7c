import * as z from 'zod/mini'
import data from '../../data/drill-bits.json'
import type { System } from '../quantities/systems'
import { sourceId } from './sources'

const positive = z.number().check(z.positive())

const DrillBits = z.strictObject({
  inch: z.array(z.strictObject({ size: z.string(), inches: positive })).check(z.minLength(1)),
  millimetres: z.array(positive).check(z.minLength(1)),
  source: sourceId,
  bundlePercent: z.strictObject({ value: positive.check(z.lte(100)), source: sourceId }),
})

const table = DrillBits.parse(data)

/** A bit, with its size as it is stamped on the shank: `1-1/8` (inches) or `28` (millimetres). */
export type DrillBit = { size: string; diameterM: number }

/** The bits that are commonly sold, smallest first, in inches or in millimetres. */
export const drillBits: Record<System, readonly DrillBit[]> = {
  us: table.inch.map(({ size, inches }) => ({ size, diameterM: inches * 0.0254 })),
  metric: table.millimetres.map((mm) => ({ size: String(mm), diameterM: mm / 1000 })),
}

/** How much of a hole's diameter a bundle may take, and where both tables come from. */
export const drillBitRules = { bundlePercent: table.bundlePercent, source: table.source }
