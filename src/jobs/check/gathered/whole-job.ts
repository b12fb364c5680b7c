import { printValue } from '../../../questions/common/printing'
import { inWords } from '../../../questions/common/shared-words'
import { cutPlan } from '../../../questions/cut-plan'
import { type Gathered, nothingGathered } from '../ask'
import { type CheckedJob, type Place, typed } from '../checked-job'
import { fieldOf, runsOf, toldNumber } from '../runs'
import { say } from '../words'
import { agreed, loadOf, loadSaid, wholeSaid } from './tape'

const cutLength = fieldOf<number>(cutPlan, 'cutLength')

/** The runs as openings, where none were measured. */
export function forCutPlan(job: CheckedJob, place: Place): Gathered {
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
export function forRunningCost(job: CheckedJob): Gathered {
  const runs = runsOf(job)
  const isTold = runs.every(({ place, loadW, watts }) => place === null && loadW === watts)
  if (isTold && job.own(null).has('load')) return nothingGathered
  if (runs.length === 0) return nothingGathered
  const sources = runs.flatMap(({ facts }) => facts)
  const load = loadOf(runs)
  if ('instead' in load) return { given: {}, sources, instead: load.instead }
  const print = printValue(load.loadW, 'W', job.system, 'up')
  return {
    given: { load: typed(load.loadW, 'W') },
    sources,
    said: [say('gathered.load', { load: print }), ...loadSaid(runs, job), ...wholeSaid(job)],
  }
}
