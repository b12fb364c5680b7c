import * as z from 'zod/mini'
import data from '../../data/light-targets.json'

const percent = z.number().check(z.gt(0), z.lte(100))

const lightTargets = z.strictObject({
  note: z.string(),
  targets: z.array(
    z
      .strictObject({
        id: z.string(),
        place: z.string(),
        luxFrom: z.number().check(z.positive()),
        luxTo: z.number().check(z.positive()),
        source: z.string(),
      })
      .check(z.refine((row) => row.luxFrom <= row.luxTo, 'luxFrom must not exceed luxTo')),
  ),
  covers: z.array(
    z.strictObject({
      id: z.enum(['none', 'frosted', 'opal']),
      passesPercent: percent,
      source: z.string(),
    }),
  ),
  maintained: z.array(
    z.strictObject({ id: z.enum(['clean', 'dusty-workshop']), percent, source: z.string() }),
  ),
})

const tables = lightTargets.parse(data)

/** Light wanted on the work, maintained, in lux, by place or task; each row names its source. */
export const lightTargetRows = tables.targets

/** What each kind of cover lets pass, %. */
export const coverRows = tables.covers

/** What is left of a new tape's light between cleanings and over its life, %. */
export const maintainedRows = tables.maintained

export type LightTarget = (typeof lightTargetRows)[number]
export type Cover = (typeof coverRows)[number]['id']
