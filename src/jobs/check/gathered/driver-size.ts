import { driverSize } from '../../../questions/driver-size'
import { type Asked, ask, type Gathered, nothingGathered } from '../ask'
import { type CheckedJob, oncePerJob, type Place } from '../checked-job'
import { type Driver, driversOf } from '../runs'
import { say } from '../words'
import { loadSaid, runsText, tapeOf, wholeSaid } from './tape'

/** The driver whose size is asked at a place. */
export const driverAt = (job: CheckedJob, place: Place): Driver | undefined =>
  driversOf(job).find((driver) => driver.place === place)

const claimOfRating = ({ ratings, ratingsW }: Driver): Record<string, unknown> =>
  ratingsW.length === 1 ? { claim: { figure: 'rating', value: String(ratings[0]) } } : {}

/** The tape of every part that has no driver of its own, and the driver that is there as the claim. */
export function forDriverSize(job: CheckedJob, place: Place): Gathered {
  const driver = driverAt(job, place)
  if (!driver) return nothingGathered
  const { runs, facts } = driver
  const claim = claimOfRating(driver)
  const isItsOwn = runs.every((run) => run.place === place && !run.isRest)
  if (isItsOwn) return { given: claim, sources: facts, said: loadSaid(runs, job) }
  const sources = [...facts, ...runs.flatMap((run) => run.facts)]
  const tape = tapeOf(runs, job)
  if ('instead' in tape) return { given: {}, sources, instead: tape.instead }
  return {
    given: { ...tape.given, ...claim },
    sources,
    said: [
      say('gathered.runs', { runs: runsText(runs, job) }),
      ...loadSaid(runs, job),
      ...(place === null ? wholeSaid(job) : []),
    ],
  }
}

const asking = oncePerJob((job) => {
  const known = new Map<Place, Asked>()
  return (place: Place): Asked => {
    const asked = known.get(place) ?? ask(job, driverSize, place, forDriverSize(job, place))
    known.set(place, asked)
    return asked
  }
})

/** `driver-size` as the job's tape and driver put it at a place. */
export const askDriverSize = (job: CheckedJob, place: Place): Asked => asking(job)(place)
