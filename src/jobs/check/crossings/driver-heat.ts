import type { Figure } from '../../../questions/common/answer'
import { driverSize } from '../../../questions/driver-size'
import { figureOf } from '../ask'
import { type CheckedJob, read } from '../checked-job'
import { askDriverSize } from '../gathered/driver-size'
import { loadSaid } from '../gathered/tape'
import { type Driver, driversOf, fieldOf } from '../runs'
import { say } from '../words'
import { type Crossing, type Finding, missingFacts, unanswered, waiting } from './crossing'
import { ratingFigure } from './rating'

/** The line on a driver's label: all of its output up to one temperature, a share of it at the line's end. */
const line = ['fullOutputTo', 'derateAt', 'derateTo']

/** The air where a driver sits against what its label gives there, and that against its tape. */
function finding(driver: Driver, job: CheckedJob): Finding {
  const { place } = driver
  const facts = job.at(place)
  const plain = askDriverSize(job, place)
  const asked = { ...plain, uses: [...plain.uses, ...driver.facts] }
  const ambient = temperature('ambient', driver, job)
  const full = temperature('fullOutputTo', driver, job)
  if (!ambient) return waiting(asked, place, missingFacts(['ambient']), [say('driver-heat.noAmbient', {})])
  const untold = line.filter((field) => !facts.has(field))
  if (!full || untold.length > 0) {
    const what = say('driver-heat.noLine', { ambient: ambient.text })
    return waiting(asked, place, missingFacts(untold), [what])
  }
  const rating = ratingFigure(driver, job)
  if (!rating) return waiting(asked, place, missingFacts(['driverPower']))
  if (!asked.answered.ok) return unanswered(asked, job)
  const { answer } = asked.answered
  const [load, needed] = [figureOf(answer, 'load'), figureOf(answer, 'needed')]
  const state = answer.claim?.verdict ?? answer.verdict
  const text = {
    ambient: ambient.text,
    full: full.text,
    load: load?.text ?? '',
    needed: needed?.text ?? '',
    rating: rating.text,
  }
  const compared = state === 'fails' ? 'driver-heat.over' : 'driver-heat.gives'
  return {
    place,
    state,
    // Past the end of its line a driver has no figures: then the answer itself says so.
    sentences: [needed ? say(compared, text) : answer.headline, ...loadSaid(driver.runs, job)],
    question: asked.question.id,
    inputs: asked.raw,
    uses: asked.uses,
    figures: [ambient, full, load, needed, rating],
  }
}

function temperature(
  input: 'ambient' | 'fullOutputTo',
  { place }: Driver,
  job: CheckedJob,
): Figure | undefined {
  const field = fieldOf<number>(driverSize, input)
  const value = read(field, job.at(place).get(input), job)
  const label = driverSize.words.fields[input]?.label ?? input
  return value === undefined
    ? undefined
    : { id: input, label, value, unit: 'degC', text: field.text(value, job.system) }
}

/** Every driver of which something is told; where nothing is, one row asks for the air around them. */
function findings(job: CheckedJob): Finding[] {
  const drivers = driversOf(job).filter(({ ratings }) => ratings.length > 0)
  const told = drivers.filter(({ place }) => ['ambient', ...line].some((field) => job.at(place).has(field)))
  const [first] = drivers
  if (told.length > 0) return told.map((driver) => finding(driver, job))
  return first ? [{ ...finding(first, job), place: null }] : []
}

export const driverHeat: Crossing = { id: 'driver-heat', stage: 'size', findings }
