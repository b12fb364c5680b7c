import type { Question } from '../../../questions/common/question'
import { type Gathered, nothingGathered } from '../ask'
import type { CheckedJob, Place } from '../checked-job'
import { partRuns } from '../runs'
import { forDriverSize } from './driver-size'
import { asOneCable } from './feeds'
import { forCircuitRoom, forDimmerFit } from './line-side'
import { forAlongTheTape, forFeedGauge, forTapeReach } from './one-part'
import { forCutPlan, forRunningCost } from './whole-job'

const gatherers: Readonly<Record<string, (job: CheckedJob, place: Place) => Gathered>> = {
  'driver-size': forDriverSize,
  'tape-reach': forTapeReach,
  'feed-gauge': forFeedGauge,
  'along-the-tape': forAlongTheTape,
  'meter-check': asOneCable,
  'dimmer-fit': forDimmerFit,
  'circuit-room': forCircuitRoom,
  'cut-plan': forCutPlan,
  'running-cost': forRunningCost,
}

/** What a question takes from other parts of the job, or in another shape than the job has it. */
export function gatheredFor(job: CheckedJob, question: Question, place: Place): Gathered {
  const gathered = gatherers[question.id]?.(job, place) ?? nothingGathered
  if (place !== null || partRuns(job).length === 0 || !isOfOneRun(question)) return gathered
  return { ...gathered, without: [...(gathered.without ?? []), 'tapeLength', 'load'] }
}

/** A question about one run: where parts have tape, what was told of the whole job is no run, but the sum of them. */
const isOfOneRun = ({ inputs: { tapeLength } }: Question): boolean =>
  tapeLength !== undefined && tapeLength.field.kind !== 'list'
