import { printValue } from '../../questions/common/printing'
import type { Question } from '../../questions/common/question'
import { cutPlan } from '../../questions/cut-plan'
import { driverSize } from '../../questions/driver-size'
import { tapeReach } from '../../questions/tape-reach'
import { type Asked, ask, type Gathered, nothingGathered, numberOf } from './ask'
import { type CheckedJob, type Place, read, typed } from './checked-job'
import { feedsOf } from './feeds'
import {
  type Driver,
  driverPlace,
  driversBehind,
  driversOf,
  fieldOf,
  type Run,
  runsOf,
  type Told,
  toldNumber,
} from './runs'
import { inWords, say } from './words'

/** A place as it is called in a sentence. */
export const placeName = (place: Place): string => place ?? say('wholeJob', {})

/** "Long hall 52.8 W and stairs 35.2 W" */
export const runsText = (runs: readonly Run[], job: CheckedJob): string =>
  inWords(
    runs.map(({ place, watts }) =>
      watts === undefined || runs.length === 1
        ? placeName(place)
        : say('run', { place: placeName(place), amount: printValue(watts, 'W', job.system, 'up') }),
    ),
  )

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)

const isSame = (one: number, other: number): boolean => Math.abs(one - other) <= 1e-9 * Math.abs(one)

/** What is the same in every run; `undefined` where they differ or one does not say. */
const agreed = (told: readonly (Told | undefined)[]): Told | undefined =>
  told.reduce((one, other) => (one && other && isSame(one.value, other.value) ? one : undefined))

/** Watts of all these runs; `instead` says of which it is not known. */
function loadOf(runs: readonly Run[]): { loadW: number } | { instead: NonNullable<Gathered['instead']> } {
  const unknown = runs.filter(({ watts }) => watts === undefined)
  if (unknown.length === 0) return { loadW: sum(runs.map(({ watts = 0 }) => watts)) }
  const label = driverSize.words.fields.tapePower?.label ?? ''
  const labels = unknown.map(({ place }) => say('missing.at', { label, place: placeName(place) }))
  return {
    instead: {
      state: 'not-asked',
      sentence: say('missing', { labels: labels.join('; ') }),
      missing: labels.map((each) => ({ field: 'tapePower', label: each })),
    },
  }
}

/** The driver whose size is asked at a place. */
const driverAt = (job: CheckedJob, place: Place): Driver | undefined =>
  driversOf(job).find((driver) => driver.place === place)

const claimOfRating = ({ ratings, ratingsW }: Driver): Record<string, unknown> =>
  ratingsW.length === 1 ? { claim: { figure: 'rating', value: String(ratings[0]) } } : {}

/** The tape of every part that has no driver of its own, and the driver that is there as the claim. */
function forDriverSize(job: CheckedJob, place: Place): Gathered {
  const driver = driverAt(job, place)
  if (!driver) return nothingGathered
  const { runs, facts } = driver
  const claim = claimOfRating(driver)
  const isItsOwn = runs.every((run) => run.place === place)
  if (isItsOwn) return { given: claim, sources: facts }
  const sources = [...facts, ...runs.flatMap((run) => run.facts)]
  const tape = tapeOf(runs, job)
  if ('instead' in tape) return { given: {}, sources, instead: tape.instead }
  return {
    given: { ...tape.given, ...claim },
    sources,
    said: [say('gathered.runs', { runs: runsText(runs, job) })],
  }
}

/** Several runs as the inputs of one driver: their lengths where all are of the same tape, else their watts. */
function tapeOf(
  runs: readonly Run[],
  job: CheckedJob,
): { given: Record<string, unknown> } | { instead: NonNullable<Gathered['instead']> } {
  const told = runs.flatMap(({ voltage }) => voltage ?? [])
  const [voltage] = told
  if (voltage && !agreed(told)) {
    const voltages = inWords([...new Set(told.map(({ value }) => printValue(value, 'V', job.system)))])
    return { instead: { state: 'fails', sentence: say('voltages.differ', { voltages }) } }
  }
  const load = loadOf(runs)
  if ('instead' in load) return load
  const tapePower = agreed(runs.map((run) => run.tapePower))
  const byLength = runs.every(({ lengths, lengthsM = [], watts = 0 }) => {
    const tapeW = (tapePower?.value ?? 0) * sum(lengthsM)
    return lengths.length > 0 && isSame(tapeW, watts)
  })
  const tape =
    tapePower && byLength
      ? { tapePower: tapePower.typed, tapeLength: runs.flatMap(({ lengths }) => lengths) }
      : { load: typed(load.loadW, 'W') }
  return { given: { ...(voltage ? { voltage: voltage.typed } : {}), ...tape } }
}

/** What the question assumes where nobody says. */
const assumedOf = (question: Question, input: string): number =>
  question.inputs[input]?.assume?.({}) as number

/** An input of a question at a place: as told, else as assumed. */
const toldOrAssumed = (job: CheckedJob, place: Place, question: Question, input: string): number =>
  read(fieldOf<number>(question, input), job.at(place).get(input), job) ?? assumedOf(question, input)

/** What a driver draws from the line, W: for its tape where that is known, else at its full rating. */
export function lineWatts(job: CheckedJob, driver: Driver): { watts: number[]; asked: Asked } {
  const asked = askDriverSize(job, driver.place)
  const inputW = asked.answered.ok ? numberOf(asked.answered.answer, 'inputPower') : undefined
  const efficiency = toldOrAssumed(job, driver.place, driverSize, 'efficiency') / 100
  return { watts: inputW === undefined ? driver.ratingsW.map((each) => each / efficiency) : [inputW], asked }
}

/** `driver-size` as the job's tape and driver put it at a place. */
export const askDriverSize = (job: CheckedJob, place: Place): Asked =>
  ask(job, driverSize, place, forDriverSize(job, place))

export const tellDimmer = ['dimmerRating', 'dimmerCurrentRating']
export const tellBreaker = ['breaker']

/** Every driver behind a dimmer, by its rating: a dimmer has to stand what they may come to draw. */
export function driversOnDimmer(job: CheckedJob, place: Place): Gathered & { drivers: Driver[] } {
  const drivers = driversBehind(job, place, tellDimmer).filter(({ ratings }) => ratings.length > 0)
  const ratings = drivers.flatMap((driver) => driver.ratings)
  if (ratings.length === 0) return { ...nothingGathered, drivers }
  const efficiency = toldOrAssumed(job, place, driverSize, 'efficiency')
  const isLowVoltage = job.at(place).get('dimmerKind')?.value === 'low-voltage-pwm'
  const list = inWords(ratings.map(String))
  const percent = printValue(efficiency, '%', job.system)
  return {
    drivers,
    given: { drivers: ratings, ...(isLowVoltage ? {} : { efficiency: typed(efficiency, '%') }) },
    sources: drivers.flatMap(({ facts }) => facts),
    said: [
      say('gathered.drivers', { drivers: list }),
      ...(isLowVoltage ? [] : [say('gathered.efficiency', { efficiency: percent })]),
    ],
  }
}

/** What each driver on a circuit draws from the line. */
export function driversOnCircuit(job: CheckedJob, place: Place): Gathered & { drivers: Driver[] } {
  const drawn = driversBehind(job, place, tellBreaker).map((driver) => ({
    driver,
    ...lineWatts(job, driver),
  }))
  const drawing = drawn.filter(({ watts }) => watts.length > 0)
  const drivers = drawing.map(({ driver }) => driver)
  if (drawing.length === 0) return { ...nothingGathered, drivers }
  const inputs = drawing.flatMap(({ watts }) => watts)
  const print = inputs.map((each) => printValue(each, 'W', job.system, 'up'))
  return {
    drivers,
    given: { added: inputs.map((each) => typed(each, 'W')) },
    sources: drawing.flatMap(({ driver, asked }) => [...driver.facts, ...asked.uses]),
    said: [say('gathered.inputs', { drivers: String(inputs.length), inputs: inWords(print) })],
  }
}

const forDimmerFit = (job: CheckedJob, place: Place): Gathered =>
  job.at(place).has('drivers') ? nothingGathered : driversOnDimmer(job, place)

const forCircuitRoom = (job: CheckedJob, place: Place): Gathered =>
  job.at(place).has('added') ? nothingGathered : driversOnCircuit(job, place)

const cutLength = fieldOf<number>(cutPlan, 'cutLength')

/** The runs as openings, where none were measured. */
function forCutPlan(job: CheckedJob, place: Place): Gathered {
  const runs = runsOf(job).filter(({ lengths }) => lengths.length > 0)
  if (place !== null || job.at(place).has('openings') || runs.length === 0) return nothingGathered
  const openings = runs.flatMap(({ lengths }) => lengths)
  const list = inWords(openings.map(String))
  const cut = agreed(runs.map((run) => toldNumber(cutLength, job.at(run.place).get('cutLength'), job)))
  return {
    given: { openings, ...(cut ? { cutLength: cut.typed } : {}) },
    sources: runs.flatMap((run) => run.facts.filter(({ field }) => field === 'tapeLength')),
    said: [say('gathered.openings', { openings: list })],
  }
}

/** The watts of all the tape, where parts have any. */
function forRunningCost(job: CheckedJob): Gathered {
  const runs = runsOf(job)
  if (runs.every(({ place }) => place === null) && job.own(null).has('load')) return nothingGathered
  if (runs.length === 0) return nothingGathered
  const sources = runs.flatMap(({ facts }) => facts)
  const load = loadOf(runs)
  if ('instead' in load) return { given: {}, sources, instead: load.instead }
  const print = printValue(load.loadW, 'W', job.system, 'up')
  return {
    given: { load: typed(load.loadW, 'W') },
    sources,
    said: [say('gathered.load', { load: print })],
  }
}

/** The driver of a place, and the tape of other parts that hangs on it too. */
function sharedDriver(job: CheckedJob, place: Place): { driver: Driver | undefined; others: Run[] } {
  const driver = driverAt(job, driverPlace(job, place))
  const runs = driver?.runs ?? []
  const isRun = place !== null || runs.some((run) => run.place === place)
  return { driver, others: isRun ? runs.filter((run) => run.place !== place) : [] }
}

/** The tape's length as the claim; of a driver that other parts share, what they leave of it. */
function forTapeReach(job: CheckedJob, place: Place): Gathered {
  const run = runsOf(job).find((each) => each.place === place)
  const claim = run?.lengths.length === 1 ? { claim: { figure: 'reach', value: String(run.lengths[0]) } } : {}
  const own = { given: claim, sources: run?.facts.filter(({ field }) => field === 'tapeLength') ?? [] }
  const { driver, others } = sharedDriver(job, place)
  const [ratingW, ...further] = driver?.ratingsW ?? []
  if (!driver || ratingW === undefined || further.length > 0 || others.length === 0) return own
  const sources = [...own.sources, ...driver.facts, ...others.flatMap(({ facts }) => facts)]
  const load = loadOf(others)
  if ('instead' in load) return { given: {}, sources, instead: load.instead }
  const limit = toldOrAssumed(job, place, tapeReach, 'driverLoadLimit') / 100
  const restW = ratingW - load.loadW / limit
  const print = (watts: number) => printValue(watts, 'W', job.system, 'down')
  const said = { rating: print(ratingW), others: runsText(others, job) }
  const least = fieldOf<number>(tapeReach, 'driverPower').range?.min ?? 0
  if (restW < least) {
    return { given: {}, sources, instead: { state: 'fails', sentence: say('shared.nothing', said) } }
  }
  return {
    given: { ...claim, driverPower: typed(restW, 'W') },
    sources,
    said: [say('shared.rest', { ...said, rest: print(restW) })],
  }
}

/** The feeds, where only the way to the tape and its cable were told; a driver that is shared is judged elsewhere. */
function forAlongTheTape(job: CheckedJob, place: Place): Gathered {
  const feeds = feedsOf(job, place)
  const { others } = sharedDriver(job, place)
  if (others.length === 0) return feeds
  const places = inWords(others.map((run) => placeName(run.place)))
  return {
    ...feeds,
    without: ['driverPower'],
    said: [
      ...(feeds.said ?? []),
      ...(job.at(place).has('driverPower') ? [say('shared.left', { places })] : []),
    ],
  }
}

/** The cable that is there, as the claim. */
function forFeedGauge(job: CheckedJob, place: Place): Gathered {
  const fact = job.at(place).get('gauge')
  return fact && typeof fact.value === 'string'
    ? { given: { claim: { figure: 'gauge', value: fact.value } }, sources: [fact] }
    : nothingGathered
}

const gatherers: Readonly<Record<string, (job: CheckedJob, place: Place) => Gathered>> = {
  'driver-size': forDriverSize,
  'tape-reach': forTapeReach,
  'feed-gauge': forFeedGauge,
  'along-the-tape': forAlongTheTape,
  'dimmer-fit': forDimmerFit,
  'circuit-room': forCircuitRoom,
  'cut-plan': forCutPlan,
  'running-cost': forRunningCost,
}

/** What a question takes from other parts of the job, or in another shape than the job has it. */
export const gatheredFor = (job: CheckedJob, question: Question, place: Place): Gathered =>
  gatherers[question.id]?.(job, place) ?? nothingGathered
