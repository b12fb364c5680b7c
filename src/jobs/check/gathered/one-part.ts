import { printValue } from '../../../questions/common/printing'
import { tapeReach } from '../../../questions/tape-reach'
import { type Gathered, nothingGathered } from '../ask'
import { type CheckedJob, type Place, typed } from '../checked-job'
import { type Driver, driverPlace, fieldOf, type Run, runsOf } from '../runs'
import { inWords, say } from '../words'
import { toldOrAssumed } from './assumed'
import { driverAt } from './driver-size'
import { feedsOf } from './feeds'
import { loadOf, placeName, runsText } from './tape'

/** The driver of a place, and the tape of other parts that hangs on it too. */
function sharedDriver(job: CheckedJob, place: Place): { driver: Driver | undefined; others: Run[] } {
  const driver = driverAt(job, driverPlace(job, place))
  const runs = driver?.runs ?? []
  const isRun = place !== null || runs.some((run) => run.place === place)
  return { driver, others: isRun ? runs.filter((run) => run.place !== place) : [] }
}

/** The tape's length as the claim; of a driver that other parts share, what they leave of it. */
export function forTapeReach(job: CheckedJob, place: Place): Gathered {
  const run = runsOf(job).find((each) => each.place === place)
  const claim = run?.lengths.length === 1 ? { claim: { figure: 'reach', value: String(run.lengths[0]) } } : {}
  const own = { given: claim, sources: run?.facts.filter(({ field }) => field === 'tapeLength') ?? [] }
  const { driver, others } = sharedDriver(job, place)
  const [ratingW, ...further] = driver?.ratingsW ?? []
  if (!driver || ratingW === undefined || further.length > 0) return own
  const sources = [...own.sources, ...driver.facts, ...others.flatMap(({ facts }) => facts)]
  if (others.length === 0) {
    const isElsewhere = driver.place !== null && driver.place !== place
    return isElsewhere ? { given: { ...claim, driverPower: driver.ratings[0] }, sources } : own
  }
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
export function forAlongTheTape(job: CheckedJob, place: Place): Gathered {
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
export function forFeedGauge(job: CheckedJob, place: Place): Gathered {
  const fact = job.at(place).get('gauge')
  return fact && typeof fact.value === 'string'
    ? { given: { claim: { figure: 'gauge', value: fact.value } }, sources: [fact] }
    : nothingGathered
}
