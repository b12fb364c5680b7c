import { printValue } from '../../../questions/common/printing'
import { inWords } from '../../../questions/common/shared-words'
import { tapeReach } from '../../../questions/tape-reach'
import type { Gathered } from '../ask'
import { type CheckedJob, type Place, typed } from '../checked-job'
import { type Driver, driverPlace, fieldOf, type Run, runsOf } from '../runs'
import { say } from '../words'
import { toldOrAssumed } from './assumed'
import { driverAt } from './driver-size'
import { asOneCable, feedsOf, noCable, onlyFeed } from './feeds'
import { loadOf, loadSaid, runName, runsText } from './tape'

/** The driver of a place, and the tape of other parts that hangs on it too. */
function sharedDriver(job: CheckedJob, place: Place): { driver: Driver | undefined; others: Run[] } {
  const driver = driverAt(job, driverPlace(job, place))
  const runs = driver?.runs ?? []
  const isRun = place !== null || runs.some((run) => run.place === place && !run.isRest)
  return { driver, others: isRun ? runs.filter((run) => run.place !== place || run.isRest) : [] }
}

/** The tape's length as the claim; of a driver that other parts share, what they leave of it. */
export function forTapeReach(job: CheckedJob, place: Place): Gathered {
  const run = runsOf(job).find((each) => each.place === place && !each.isRest)
  const claim = run?.lengths.length === 1 ? { claim: { figure: 'reach', value: String(run.lengths[0]) } } : {}
  const cable = asOneCable(job, place)
  const lengths = run?.facts.filter(({ field }) => field === 'tapeLength') ?? []
  const own = { given: { ...cable.given, ...claim }, sources: [...lengths, ...(cable.sources ?? [])] }
  const { driver, others } = sharedDriver(job, place)
  const [ratingW, ...further] = driver?.ratingsW ?? []
  if (!driver || ratingW === undefined || further.length > 0) return own
  const sources = [...own.sources, ...driver.facts, ...others.flatMap(({ facts }) => facts)]
  if (others.length === 0) {
    const isElsewhere = driver.place !== null && driver.place !== place
    return isElsewhere ? { given: { ...own.given, driverPower: driver.ratings[0] }, sources } : own
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
    given: { ...own.given, driverPower: typed(restW, 'W') },
    sources,
    said: [say('shared.rest', { ...said, rest: print(restW) })],
  }
}

/** The feeds, where only the way to the tape and its cable were told; a driver that is shared is judged elsewhere. */
export function forAlongTheTape(job: CheckedJob, place: Place): Gathered {
  const feeds = feedsOf(job, place)
  const { others } = sharedDriver(job, place)
  if (others.length === 0) return feeds
  const places = inWords(others.map(runName))
  return {
    ...feeds,
    without: ['driverPower'],
    said: [
      ...(feeds.said ?? []),
      ...(job.at(place).has('driverPower') ? [say('shared.left', { places })] : []),
    ],
  }
}

/** The way of the only feed, and the cable that is there as the claim. */
export function forFeedGauge(job: CheckedJob, place: Place): Gathered {
  const only = onlyFeed(job, place)
  const fact = only ? only.fact : job.at(place).get('gauge')
  const gauge = only ? only.gauge : fact?.value
  const claim = typeof gauge === 'string' ? { claim: { figure: 'gauge', value: gauge } } : {}
  const distance = only ? { distance: only.distance ?? noCable } : {}
  const said = loadSaid(
    runsOf(job).filter((run) => run.place === place),
    job,
  )
  return { given: { ...distance, ...claim }, said, ...(fact ? { sources: [fact] } : {}) }
}
