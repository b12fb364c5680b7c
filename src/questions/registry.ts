import { alongTheTape } from './along-the-tape'
import { boxFill } from './box-fill'
import { circuitRoom } from './circuit-room'
import { knowTitles, type Question } from './common/question'
import { cutPlan } from './cut-plan'
import { dimmerFit } from './dimmer-fit'
import { driverSize } from './driver-size'
import { feedGauge } from './feed-gauge'
import { framingHole } from './framing-hole'
import { holeFit } from './hole-fit'
import { meterCheck } from './meter-check'
import { pullPlan } from './pull-plan'
import { runningCost } from './running-cost'
import { sharedNeutral } from './shared-neutral'
import { steadyLight } from './steady-light'
import { tapeReach } from './tape-reach'
import { taskLight } from './task-light'

/** Every question, in the order of the work. A new one takes one line here. */
export const questions: readonly Question[] = [
  boxFill,
  tapeReach,
  driverSize,
  feedGauge,
  alongTheTape,
  taskLight,
  steadyLight,
  dimmerFit,
  circuitRoom,
  sharedNeutral,
  holeFit,
  framingHole,
  pullPlan,
  cutPlan,
  meterCheck,
  runningCost,
]

const byId = new Map(questions.map((question) => [question.id, question]))

/** The question with this id, if there is one. */
export const questionById = (id: string): Question | undefined => byId.get(id)

knowTitles(Object.fromEntries(questions.map(({ id, words }) => [id, words.title])))
