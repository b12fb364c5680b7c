import type { System } from '../../quantities/systems'
import { inWords } from '../../questions/common/shared-words'
import type { CheckedJob } from '../check/checked-job'
import { stages } from '../check/order'
import type { Known } from '../log/job-view'
import { factKind, factKinds, factLabel, printFact } from '../memory/fact-book'
import type { FittedPart } from './sheet'
import { placeName, say } from './sheet-words'

/** Facts that stand elsewhere on the sheet: how it is written, and what the meter read. */
const elsewhere = new Set([
  'rules',
  'units',
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

/** What is handed over with the job was not fitted; what is contested is shown wherever it belongs. */
const isFitted = (known: Known, system: System): boolean =>
  othersOf(known, system).length > 0 ||
  (!elsewhere.has(known.field) && factKind(known.field)?.stage !== 'hand-over')

/** What is known of each part of the job, in the order of the work; what is contested says so. */
export const fittedOf = (job: CheckedJob, known: readonly Known[]): FittedPart[] =>
  job.places.flatMap((place) => {
    const facts = known
      .filter((each) => each.where === place && isFitted(each, job.system))
      .sort((one, other) => inOrder(one.field, other.field))
      .flatMap((each) => factOf(each, job.system))
    return facts.length > 0 ? [{ where: placeName(place), facts }] : []
  })

/** Where a fact stands in the order of the work; one that nothing uses comes last. */
function orderOf(field: string): number {
  const kind = factKind(field)
  const stage = kind ? stages.indexOf(kind.stage) : stages.length
  return stage * factKinds.length + (kind ? factKinds.indexOf(kind) : 0)
}

const inOrder = (one: string, other: string): number => orderOf(one) - orderOf(other)

function factOf(known: Known, system: System): FittedPart['facts'] {
  const { field, current } = known
  if (current === null) return []
  const others = othersOf(known, system)
  const contested = others.length > 0 ? say('contested', { values: inWords(others) }) : ''
  return [{ label: factLabel(field), text: printFact(field, current.value, system), contested }]
}

/** What else is said of a fact and reads otherwise: 480 in says the same as 40 ft. */
export function othersOf({ field, current, contested }: Known, system: System): string[] {
  const said = current && printFact(field, current.value, system)
  const others = contested.map(({ value }) => printFact(field, value, system))
  return [...new Set(others)].filter((text) => text !== said)
}
