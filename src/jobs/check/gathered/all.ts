import type { Question } from '../../../questions/common/question'
import { type Gathered, nothingGathered } from '../ask'
import type { CheckedJob, Place } from '../checked-job'
import { forDriverSize } from './driver-size'
import { forCircuitRoom, forDimmerFit } from './line-side'
import { forAlongTheTape, forFeedGauge, forTapeReach } from './one-part'
import { forCutPlan, forRunningCost } from './whole-job'

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
