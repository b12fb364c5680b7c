import * as z from 'zod/mini'
import data from '../../data/driver-sizes.json'
import { sourceId } from './sources'

const DriverSizes = z.strictObject({
  ratingsW: z.array(z.number().check(z.positive())).check(
    z.minLength(1),
    z.refine((ratings) => ratings.every((rating, i) => i === 0 || rating > (ratings[i - 1] ?? 0)), {
      error: 'must rise',
    }),
  ),
  source: sourceId,
})

/** The ratings in which constant-voltage drivers are commonly sold, W, smallest first. */
export const driverSizes = DriverSizes.parse(data)
