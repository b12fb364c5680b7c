import type { System } from '../../quantities/systems'
import type { CheckedJob } from '../check/checked-job'
import type { Known } from '../log/job-view'
import { labelOf, orderOf, textOf } from './known-words'
import type { FittedPart } from './sheet'
import { inWords, placeName, say } from './sheet-words'

/** Facts that stand elsewhere on the sheet, or that say nothing of what was fitted. */
const elsewhere = new Set([
  'rules',
  'units',
  'madeBy',
  'madeOn',
  'driverOpen',
  'driverLoaded',
  'tapeStart',
  'tapeEnd',
  'measuredCurrent',
  'meterPercent',
  'meterVolts',
  'clampPercent',
  'clampAmps',
])

/** What is known of each part of the job, in the order of the work; what is contested says so. */
export const fittedOf = (job: CheckedJob, known: readonly Known[]): FittedPart[] =>
  job.places.flatMap((place) => {
    const facts = known
      .filter(({ field, where }) => where === place && !elsewhere.has(field))
      .sort((one, other) => orderOf(one.field) - orderOf(other.field))
      .flatMap((each) => factOf(each, job.system))
    return facts.length > 0 ? [{ where: placeName(place), facts }] : []
  })

function factOf(known: Known, system: System): FittedPart['facts'] {
  const { field, current } = known
  if (current === null) return []
  const others = othersOf(known, system)
  const contested = others.length > 0 ? say('contested', { values: inWords(others) }) : ''
  return [{ label: labelOf(field), text: textOf(field, current.value, system), contested }]
}

/** What else is said of a fact and reads otherwise: 480 in says the same as 40 ft. */
export function othersOf({ field, current, contested }: Known, system: System): string[] {
  const said = current && textOf(field, current.value, system)
  const others = contested.map(({ value }) => textOf(field, value, system))
  return [...new Set(others)].filter((text) => text !== said)
}
