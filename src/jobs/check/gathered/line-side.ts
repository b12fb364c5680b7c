import { printValue } from '../../../questions/common/printing'
import { inWords } from '../../../questions/common/shared-words'
import { driverSize } from '../../../questions/driver-size'
import { type Asked, type Gathered, nothingGathered, numberOf } from '../ask'
import { type CheckedJob, type Place, typed } from '../checked-job'
import { type Driver, driversBehind } from '../runs'
import { say } from '../words'
import { toldOrAssumed } from './assumed'
import { askDriverSize } from './driver-size'

/** What a driver draws from the line, W: for its tape where that is known, else at its full rating. */
export function lineWatts(job: CheckedJob, driver: Driver): { watts: number[]; asked: Asked } {
  const asked = askDriverSize(job, driver.place)
  const inputW = asked.answered.ok ? numberOf(asked.answered.answer, 'inputPower') : undefined
  const efficiency = toldOrAssumed(job, driver.place, driverSize, 'efficiency') / 100
  return { watts: inputW === undefined ? driver.ratingsW.map((each) => each / efficiency) : [inputW], asked }
}

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
    said: [say('gathered.inputs', { inputs: inWords(print) })],
  }
}

export const forDimmerFit = (job: CheckedJob, place: Place): Gathered =>
  job.at(place).has('drivers') ? nothingGathered : driversOnDimmer(job, place)

export const forCircuitRoom = (job: CheckedJob, place: Place): Gathered =>
  job.at(place).has('added') ? nothingGathered : driversOnCircuit(job, place)
