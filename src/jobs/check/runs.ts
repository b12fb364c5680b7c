import { alongTheTape } from '../../questions/along-the-tape'
import type { Field } from '../../questions/common/fields'
import type { Question } from '../../questions/common/question'
import { driverSize } from '../../questions/driver-size'
import type { FactValue } from '../log/job'
import type { Facts, KnownFact } from '../memory/facts'
import { type CheckedJob, oncePerJob, type Place, read, typedList } from './checked-job'

/** The field of an input, for reading the fact that goes with it. */
export const fieldOf = <T>(question: Question, input: string): Field<T> => {
  const found = question.inputs[input]
  if (!found) throw new Error(`${question.id} has no input "${input}".`)
  return found.field as Field<T>
}

const fields = {
  voltage: fieldOf<number>(driverSize, 'voltage'),
  tapePower: fieldOf<number>(driverSize, 'tapePower'),
  tapeLength: fieldOf<number[]>(driverSize, 'tapeLength'),
  load: fieldOf<number>(driverSize, 'load'),
  driverPower: fieldOf<number>(alongTheTape, 'driverPower'),
}

/** A number in its JSON unit, and as it was typed. */
export type Told = { value: number; typed: FactValue }

/** Tape at one place of the job: one run or several, of the same kind. */
export type Run = {
  place: Place
  /** V */
  voltage: Told | undefined
  /** W/m */
  tapePower: Told | undefined
  lengthsM: number[] | undefined
  /** The lengths as they were typed. */
  lengths: FactValue[]
  /** Its watts as they were told, and as its power and its lengths make them. */
  loadW: number | undefined
  tapeW: number | undefined
  /** What it takes at its rated voltage, W: the larger of both. */
  watts: number | undefined
  /** What it rests on. */
  facts: KnownFact[]
  /** Not a run that was told, but what the tape of the whole job is more than that of its parts. */
  isRest: boolean
}

/** Facts that say that there is tape at the part that has them. */
const tellTape = ['tapeLength', 'tapePower', 'load', 'feedDistance', 'feeds', 'trunk']

const tellsTape = (facts: Facts): boolean => tellTape.some((field) => facts.has(field))

/** The tape that parts of the job have. */
export const partRuns = oncePerJob((job): Run[] =>
  job.parts.flatMap((part) => {
    const run = tellsTape(job.own(part)) ? runAt(job, part) : undefined
    return run ? [run] : []
  }),
)

/** The tape of the whole job as it was told in one; none where a part that tells no length takes it as its own. */
export const wholeRun = oncePerJob((job): Run | undefined => {
  const isTaken = partRuns(job).some(
    ({ place, lengths }) => lengths.length > 0 && !job.own(place).has('tapeLength'),
  )
  return isTaken ? undefined : runAt(job, null)
})

/**
 * The tape of the job, part by part. What was told of the whole job is all of it: where the parts come to less, the
 * rest of it counts too, so that tape that no part has yet is not forgotten.
 */
export const runsOf = oncePerJob((job): Run[] => {
  const [parts, whole] = [partRuns(job), wholeRun(job)]
  if (!whole || parts.length === 0) return whole ? [whole] : parts
  const { watts: wholeW = 0 } = whole
  const restW = wholeW - parts.reduce((sum, { watts = 0 }) => sum + watts, 0)
  const rest: Run = {
    ...whole,
    lengthsM: undefined,
    lengths: [],
    loadW: undefined,
    tapeW: undefined,
    watts: restW,
    isRest: true,
  }
  return restW > 1e-9 * wholeW ? [...parts, rest] : parts
})

function runAt(job: CheckedJob, place: Place): Run | undefined {
  const [facts, own] = [job.at(place), job.own(place)]
  // The watts of the whole job are not those of each part, nor is its length that of watts told of a part.
  const load = own.get('load')
  const length = load && !own.has('tapeLength') ? undefined : facts.get('tapeLength')
  const tapePower = toldNumber(fields.tapePower, facts.get('tapePower'), job)
  const lengthsM = read(fields.tapeLength, length, job)
  const loadW = read(fields.load, load, job)
  if (lengthsM === undefined && loadW === undefined) return undefined
  const tapeW = lengthsM && tapePower && tapePower.value * lengthsM.reduce((sum, each) => sum + each, 0)
  const told = [facts.get('voltage'), facts.get('tapePower'), length, load]
  return {
    place,
    voltage: toldNumber(fields.voltage, facts.get('voltage'), job),
    tapePower,
    lengthsM,
    lengths: lengthsM ? typedList(length) : [],
    loadW,
    tapeW,
    watts: loadW === undefined ? tapeW : Math.max(loadW, tapeW ?? 0),
    facts: told.flatMap((fact) => fact ?? []),
    isRest: false,
  }
}

/** What a fact says to a field of numbers. */
export function toldNumber(
  field: Field<number>,
  fact: KnownFact | undefined,
  job: CheckedJob,
): Told | undefined {
  const value = read(field, fact, job)
  return fact && value !== undefined ? { value, typed: fact.value } : undefined
}

/** A driver, or what is to become of one, with the tape that hangs on it. */
export type Driver = {
  /** Where its rating was told; null also where it is not known yet. */
  place: Place
  /** One rating; more only where several drivers were told in one place. */
  ratingsW: number[]
  ratings: FactValue[]
  runs: Run[]
  facts: KnownFact[]
}

/** The drivers of the job, each with its tape: the shared one's is that of every part without one of its own. */
export const driversOf = oncePerJob((job): Driver[] => {
  const runs = runsOf(job)
  const withOwn = job.parts.filter((part) => job.own(part).has('driverPower'))
  return [null, ...withOwn]
    .map((place) =>
      driverAt(
        job,
        place,
        runs.filter((run) => driverPlace(job, run.place) === place),
      ),
    )
    .filter(({ ratings, runs: fed }) => ratings.length > 0 || fed.length > 0)
})

function driverAt(job: CheckedJob, place: Place, runs: Run[]): Driver {
  const fact = job.own(place).get('driverPower')
  const told = typedList(fact).map((value) => ({
    value,
    watts: fact && read(fields.driverPower, { ...fact, value }, job),
  }))
  const usable = told.filter(({ watts }) => watts !== undefined)
  return {
    place,
    ratingsW: usable.map(({ watts = 0 }) => watts),
    ratings: usable.map(({ value }) => value),
    runs,
    facts: fact && usable.length > 0 ? [fact] : [],
  }
}

/**
 * Where the driver is told that several parts share: with the whole job, or at the one part that has a driver and no
 * tape, the closet that it sits in.
 */
const sharedPlace = oncePerJob((job): Place => {
  const tape = new Set(runsOf(job).map(({ place }) => place))
  const closets = job.parts.filter((part) => job.own(part).has('driverPower') && !tape.has(part))
  const [closet = null, ...further] = closets
  return job.own(null).has('driverPower') || further.length > 0 ? null : closet
})

/** Where the driver of a part is told: at the part itself, or where the shared one is. */
export const driverPlace = (job: CheckedJob, place: Place): Place =>
  place !== null && job.own(place).has('driverPower') ? place : sharedPlace(job)

/** The drivers behind one thing (a dimmer, a breaker) that is told at `place` by any of these facts. */
export function driversBehind(job: CheckedJob, place: Place, tells: readonly string[]): Driver[] {
  const hasOwn = (part: Place) => part !== null && tells.some((field) => job.own(part).has(field))
  const drivers = driversOf(job)
  if (place === null) return drivers.filter((driver) => !hasOwn(driver.place))
  const of = driverPlace(job, place)
  return drivers.filter((driver) => driver.place === of)
}
