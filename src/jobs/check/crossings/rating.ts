import type { Figure } from '../../../questions/common/answer'
import { printValue } from '../../../questions/common/printing'
import type { CheckedJob } from '../checked-job'
import type { Driver } from '../runs'
import { figureLabels } from '../words'

/** The rating of the driver that is there; `undefined` where none, or more than one, was told. */
export function ratingFigure({ ratingsW: [value, ...further] }: Driver, job: CheckedJob): Figure | undefined {
  if (value === undefined || further.length > 0) return undefined
  const text = printValue(value, 'W', job.system, 'down')
  return { id: 'driverPower', label: figureLabels.driverPower, value, unit: 'W', text }
}
