import { circuitRoom } from '../../../questions/circuit-room'
import { ask, figureOf, heavier } from '../ask'
import type { CheckedJob, Place } from '../checked-job'
import { driversOnCircuit as gather, tellBreaker } from '../gathered/line-side'
import { say } from '../words'
import { type Crossing, type Finding, missingFacts, unanswered, waiting } from './crossing'

/** What the drivers draw from the line against what is left on their circuit. */
function finding(job: CheckedJob, place: Place): Finding {
  const gathered = gather(job, place)
  const asked = heavier(ask(job, circuitRoom, place, gathered), ask(job, circuitRoom, place), 'used')
  const isTold = job.at(place).has('added')
  if (gathered.drivers.length === 0 && !isTold) return waiting(asked, place, missingFacts(['driverPower']))
  if (!asked.answered.ok) return unanswered(asked, job)
  const { answer } = asked.answered
  const [used, allowed] = [figureOf(answer, 'used'), figureOf(answer, 'allowed')]
  const added = asked.answered.answer.inputs.added?.text ?? ''
  const fails = answer.verdict === 'fails'
  // Whatever else is on the circuit comes on top: without it nobody can say that there is room.
  const isUntold = !fails && !job.at(place).has('existing')
  return {
    place,
    state: isUntold ? 'not-asked' : answer.verdict,
    sentences: [
      say(fails ? 'drivers-on-circuit.over' : 'drivers-on-circuit.fits', {
        added,
        used: used?.text ?? '',
        allowed: allowed?.text ?? '',
      }),
      ...(isUntold ? [say('drivers-on-circuit.ifEmpty', {})] : []),
    ],
    question: circuitRoom.id,
    inputs: asked.raw,
    uses: asked.uses,
    figures: [used, allowed],
    ...(isUntold ? { missing: missingFacts(['existing']) } : {}),
  }
}

export const driversOnCircuit: Crossing = {
  id: 'drivers-on-circuit',
  stage: 'switch',
  findings: (job) =>
    job.places
      .filter((place) => tellBreaker.some((field) => job.own(place).has(field)))
      .map((place) => finding(job, place)),
}
