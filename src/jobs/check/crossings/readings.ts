import { alongTheTape } from '../../../questions/along-the-tape'
import type { Figure } from '../../../questions/common/answer'
import { printValue } from '../../../questions/common/printing'
import { meterCheck } from '../../../questions/meter-check'
import { type Asked, ask, figureOf, lacking } from '../ask'
import type { CheckedJob, Place } from '../checked-job'
import { gatheredFor } from '../gathered/all'
import { asOneCable, feedPlace, onlyFeed, tellsFeeds } from '../gathered/feeds'
import { type Run, runsOf } from '../runs'
import { figureLabels, say } from '../words'
import { type Crossing, type Finding, missingFacts, unanswered, waiting } from './crossing'

const readingFacts = ['driverOpen', 'driverLoaded', 'tapeStart', 'tapeEnd', 'measuredCurrent']

/** Whether the tape of a place is fed as `meter-check` has it: by one cable, at its start, at its rated voltage. */
const isPlain = (job: CheckedJob, place: Place): boolean =>
  (tellsFeeds(job, place) ? onlyFeed(job, place) !== undefined : feedPlace(job, place) === 'one-end') &&
  !['trunk', 'sourceVoltage'].some((field) => job.at(place).has(field))

/** What is not told of the one cable: a driver beside its tape has none. */
function untoldOf(job: CheckedJob, place: Place): string[] {
  const only = onlyFeed(job, place)
  if (!only) return ['feedDistance', 'gauge'].filter((field) => !job.at(place).has(field))
  return only.distance === undefined || only.gauge !== undefined ? [] : ['gauge']
}

/**
 * What the meter should read. Where the question that judges readings can say it, it is asked, so that what is written
 * on the sheet and what is measured are held against the same figures.
 */
function expected(job: CheckedJob, run: Run): Finding {
  return isPlain(job, run.place) ? ofOneFeed(job, run) : ofItsFeeds(job, run)
}

function ofOneFeed(job: CheckedJob, { place, voltage }: Run): Finding {
  const feed = asOneCable(job, place)
  const untold = untoldOf(job, place)
  // What a sound run reads does not depend on what was read; before anything was, the rated voltage stands for it.
  const isRead = readingFacts.some((field) => job.at(place).has(field))
  const asked = ask(job, meterCheck, place, {
    ...feed,
    given: { ...feed.given, ...(voltage && !isRead ? { driverLoaded: voltage.typed } : {}) },
  })
  const inputs = isRead ? asked.raw : omit(asked.raw, 'driverLoaded')
  const put: Asked = { ...asked, raw: inputs }
  if (untold.length > 0) {
    const others = lacking(asked, job).missing.filter(
      ({ field }) => field !== 'driverLoaded' && field !== 'tapeEnd',
    )
    return waiting(put, place, [...others, ...missingFacts(untold)])
  }
  if (!asked.answered.ok) return unanswered(put, job)
  const { answer } = asked.answered
  const driver = voltsAtDriver(voltage?.value ?? 0, job)
  const figures = ['expectedStart', 'expectedEnd', 'expectedCurrent'].map((id) => figureOf(answer, id))
  const [start, end, current] = figures.map((figure) => figure?.text ?? '') as [string, string, string]
  return {
    place,
    state: 'info',
    sentences: [say('readings.feed', { driver: driver.text, start, end, current })],
    question: meterCheck.id,
    inputs,
    uses: asked.uses,
    figures: [driver, ...figures],
  }
}

const omit = ({ ...raw }: Record<string, unknown>, input: string): Record<string, unknown> => {
  delete raw[input]
  return raw
}

const voltsAtDriver = (value: number, job: CheckedJob): Figure => ({
  id: 'expectedDriver',
  label: figureLabels.expectedDriver,
  value,
  unit: 'V',
  text: printValue(value, 'V', job.system),
})

/** Several feeds, a shared cable or a trimmed driver: what the tape solved like this has at its driver and at its lowest. */
function ofItsFeeds(job: CheckedJob, { place }: Run): Finding {
  const asked = ask(job, alongTheTape, place, gatheredFor(job, alongTheTape, place))
  if (!asked.answered.ok) return unanswered(asked, job)
  const { answer } = asked.answered
  const driver = voltsAtDriver(Number(answer.inputs.sourceVoltage?.value), job)
  const [lowest, current] = [figureOf(answer, 'lowestVoltage'), figureOf(answer, 'current')]
  const said = { driver: driver.text, lowest: lowest?.text ?? '', current: current?.text ?? '' }
  return {
    place,
    state: 'info',
    sentences: [lowest ? say('readings.feeds', said) : answer.headline],
    question: alongTheTape.id,
    inputs: asked.raw,
    uses: asked.uses,
    figures: [driver, lowest, current],
  }
}

/** Every run that can be measured once its cable is known; where no cable is known, one row asks for it. */
function findings(job: CheckedJob): Finding[] {
  const all = runsOf(job)
    .filter(({ isRest }) => !isRest)
    .map((run) => expected(job, run))
  const begun = ['feedDistance', 'feeds'].some((field) =>
    job.places.some((place) => job.own(place).has(field)),
  )
  const [first] = all
  if (begun || all.some(({ state }) => state !== 'not-asked')) return all
  return first ? [{ ...first, place: null }] : []
}

export const readings: Crossing = { id: 'readings', stage: 'prove', findings }
