import * as z from 'zod/mini'
import data from '../../data/breakers.json'
import { sourceId } from './sources'

const RuleBook = z.strictObject({
  sizesA: z.array(z.number().check(z.positive())).check(z.minLength(1)),
  continuousPercent: z.number().check(z.positive(), z.lte(100)),
  sizesSource: sourceId,
  continuousSource: sourceId,
})

const Breakers = z.strictObject({
  nec: RuleBook,
  iec: RuleBook,
  lowVoltageLighting: z.strictObject({ breakerAtMostA: z.number().check(z.positive()), source: sourceId }),
})

/** Breakers of small circuits, smallest first, and how much of one a continuous load may take, by rule book. */
export const breakers = Breakers.parse(data)
