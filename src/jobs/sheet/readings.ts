import { printLength } from '../../quantities/print'
import { alongTheTape } from '../../questions/along-the-tape'
import { printValue } from '../../questions/common/printing'
import type { TapePicture } from '../../questions/common/tape-picture'
import { feedGauge } from '../../questions/feed-gauge'
import { meterCheck } from '../../questions/meter-check'
import { type CheckedJob, type Place, read } from '../check/checked-job'
import { fieldOf } from '../check/runs'
import { numberOf, type SheetAnswer } from './answers'
import { placesText } from './places'
import type { ExpectedReading } from './sheet'
import { say, sheetWords } from './sheet-words'
import { answersTo, type Worked } from './take'

/** How far a meter may be off: part of the reading, %, and a fixed part, in the unit of the reading. */
type Accuracy = { percent: number; fixed: number }

/** The inputs of a meter check that are readings, with the fact each is remembered by. */
const measuredBy = {
  driverOpen: 'driverOpen',
  driverLoaded: 'driverLoaded',
  tapeStart: 'tapeStart',
  tapeEnd: 'tapeEnd',
  current: 'measuredCurrent',
} as const

type Measured = keyof typeof measuredBy

const accuracyOf = (job: CheckedJob, percent: string, fixed: string): Accuracy => ({
  percent: assumedOr(job, percent),
  fixed: assumedOr(job, fixed),
})

/** What the job says of a meter, or what a meter check takes of one. */
function assumedOr(job: CheckedJob, input: string): number {
  const told = read(fieldOf<number>(meterCheck, input), job.at(null).get(input), job)
  return told ?? Number(meterCheck.inputs[input]?.assume?.({}))
}

const voltsOf = (job: CheckedJob): Accuracy => accuracyOf(job, 'meterPercent', 'meterVolts')
const clampOf = (job: CheckedJob): Accuracy => accuracyOf(job, 'clampPercent', 'clampAmps')

/** How the readings are to be taken, and what their ranges are. */
export function howToRead(job: CheckedJob): string {
  const print = (value: number, unit: string) => printValue(value, unit, job.system)
  const [volts, clamp] = [voltsOf(job), clampOf(job)]
  return say('how', {
    percent: print(volts.percent, '%'),
    volts: print(volts.fixed, 'V'),
    clampPercent: print(clamp.percent, '%'),
    amps: print(clamp.fixed, 'A'),
  })
}

/** What should be read to prove the job, part by part, with what was read where somebody told. */
export function readingsOf(worked: Worked): ExpectedReading[] {
  const tapes = answersTo(worked, alongTheTape.id)
  const checks = answersTo(worked, meterCheck.id)
  const isTape = ({ places }: SheetAnswer) =>
    tapes.some((tape) => tape.places.some((place) => places.includes(place)))
  return [
    ...tapes.flatMap((tape) => tapeReadings(worked.job, tape, checks)),
    ...answersTo(worked, feedGauge.id)
      .filter((cable) => !isTape(cable))
      .flatMap((cable) => [
        ...figureReading(worked.job, cable, 'feed-gauge.farEndVoltage'),
        ...figureReading(worked.job, cable, 'feed-gauge.current'),
      ]),
    ...worked.answers.flatMap((answer) => [
      ...figureReading(worked.job, answer, 'driver-size.inputCurrent'),
      ...figureReading(worked.job, answer, 'shared-neutral.neutralAtWorst'),
      ...figureReading(worked.job, answer, 'task-light.luxNew'),
    ]),
  ]
}

/** The readings of a run of tape: with a meter check of the same run those that it expects, its rails being warm. */
function tapeReadings(job: CheckedJob, tape: SheetAnswer, checks: readonly SheetAnswer[]): ExpectedReading[] {
  const picture = tape.answer.picture?.data as TapePicture | undefined
  if (!picture) return []
  const plain = picture.feeds.length === 1 && picture.feeds[0]?.atM === 0 && !picture.trunk
  const check = plain ? checks.find((each) => isOfTheSameFeed(each, tape, picture)) : undefined
  const [first, last] = [picture.points[0], picture.points.at(-1)]
  const start = (check && numberOf(check, 'expectedStart')) ?? first?.voltageV ?? 0
  const end = (check && numberOf(check, 'expectedEnd')) ?? last?.voltageV ?? 0
  const current = (check && numberOf(check, 'expectedCurrent')) ?? numberOf(tape, 'current') ?? 0
  const { voltageV } = picture.source
  const at = (id: Measured, value: number) => measurable(job, tape.places, id, value)
  return [
    at('driverOpen', voltageV),
    at('driverLoaded', voltageV),
    at('tapeStart', start),
    ...(plain ? [] : betweenReadings(job, tape.places, picture)),
    at('tapeEnd', end),
    at('current', current),
  ]
}

/** Whether a meter check is of the same run, with as much cable before it. */
function isOfTheSameFeed(check: SheetAnswer, tape: SheetAnswer, { feeds }: TapePicture): boolean {
  const distanceM = Number(check.answer.inputs.feedDistance?.value ?? 0)
  const isNear = Math.abs(distanceM - (feeds[0]?.distanceM ?? 0)) < 0.01
  return isNear && check.places.some((place) => tape.places.includes(place))
}

/** Feeds along the tape and its lowest point, where the ends alone do not prove it. */
function betweenReadings(
  job: CheckedJob,
  places: SheetAnswer['places'],
  { feeds, lowest, lengthM, units }: TapePicture,
): ExpectedReading[] {
  const isBetween = ({ atM }: { atM: number }) => atM > 0.001 && atM < lengthM - 0.001
  const at = (atM: number) => printLength(atM, units, 'nearest')
  const volts = (reading: string, value: number) =>
    expectedReading(job, places, reading, around(value, voltsOf(job), 'V', job))
  return [
    ...feeds.flatMap((feed, index) =>
      isBetween(feed)
        ? [volts(say('reading.feed', { number: String(index + 1), at: at(feed.atM) }), feed.voltageV)]
        : [],
    ),
    ...(isBetween(lowest) ? [volts(say('reading.tapeLowest', { at: at(lowest.atM) }), lowest.voltageV)] : []),
  ]
}

type Bounds = Pick<ExpectedReading, 'expected' | 'low' | 'high' | 'unit'>

/** A value as a meter may show it. */
function around(value: number, { percent, fixed }: Accuracy, unit: string, job: CheckedJob): Bounds {
  const off = (Math.abs(value) * percent) / 100 + fixed
  const [low, high] = [Math.max(0, value - off), value + off]
  const expected = say('range', {
    low: printValue(low, unit, job.system, 'down'),
    high: printValue(high, unit, job.system, 'up'),
  })
  return { expected, low, high, unit }
}

/** How each figure is to be found by a meter. */
const figureBounds: Readonly<Record<string, (value: number, job: CheckedJob) => Bounds>> = {
  'feed-gauge.farEndVoltage': (value, job) => around(value, voltsOf(job), 'V', job),
  'feed-gauge.current': (value, job) => around(value, clampOf(job), 'A', job),
  'driver-size.inputCurrent': (value, job) => atMost(value, 'A', job),
  'shared-neutral.neutralAtWorst': (value, job) => atMost(value, 'A', job),
  'task-light.luxNew': (value, job) => about(value, 'lx', job),
}

const atMost = (value: number, unit: string, { system }: CheckedJob): Bounds => ({
  expected: say('atMost', { value: printValue(value, unit, system, 'up') }),
  low: null,
  high: value,
  unit,
})

const about = (value: number, unit: string, { system }: CheckedJob): Bounds => ({
  expected: say('about', { value: printValue(value, unit, system, 'down') }),
  low: value,
  high: value,
  unit,
})

/** A reading that a figure of an answer tells; `id` is the question and the figure. */
function figureReading(
  job: CheckedJob,
  answer: SheetAnswer,
  id: keyof typeof sheetWords.readings,
): ExpectedReading[] {
  const [question, figure = ''] = id.split('.')
  const value = question === answer.question ? numberOf(answer, figure) : undefined
  const bounds = figureBounds[id]
  if (value === undefined || !bounds) return []
  return [expectedReading(job, answer.places, sheetWords.readings[id], bounds(value, job))]
}

/** A reading that the job can hold, with what it holds. */
function measurable(
  job: CheckedJob,
  places: SheetAnswer['places'],
  id: Measured,
  value: number,
): ExpectedReading {
  const bounds =
    id === 'current' ? around(value, clampOf(job), 'A', job) : around(value, voltsOf(job), 'V', job)
  const reading = expectedReading(job, places, sheetWords.readings[id], bounds)
  const fact = places.map((place) => job.at(place).get(measuredBy[id])).find(Boolean)
  const found = read(fieldOf<number>(meterCheck, id), fact, job)
  if (found === undefined) return reading
  const { low, high, unit } = reading
  const within = (low === null || found >= low - 1e-9) && (high === null || found <= high + 1e-9)
  const measured = printValue(found, unit, job.system)
  return { ...reading, measured: say(within ? 'within' : 'outside', { measured }), within }
}

const expectedReading = (
  job: CheckedJob,
  places: readonly Place[],
  reading: string,
  bounds: Bounds,
): ExpectedReading => ({ where: placesText(places, job), reading, ...bounds, measured: '', within: null })
