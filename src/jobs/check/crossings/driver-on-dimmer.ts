import { dimmerFit } from '../../../questions/dimmer-fit'
import { ask, figureOf, heavier, numberOf } from '../ask'
import { type CheckedJob, type Place, typed } from '../checked-job'
import { driversOnDimmer, lineWatts, tellDimmer } from '../gathered/line-side'
import type { RowState } from '../row'
import { worstState } from '../rows'
import type { Driver } from '../runs'
import { say } from '../words'
import { type Crossing, type Finding, missingFacts, unanswered, waiting } from './crossing'

/** Dimmers for which it does not matter by what a driver dims. */
const anyDriver = ['switch', 'low-voltage-pwm']

/** The facts of how a dimmer dims that are not told yet. */
function untoldKinds(job: CheckedJob, place: Place): string[] {
  const facts = job.at(place)
  const kind = facts.get('dimmerKind')?.value
  const needed = typeof kind === 'string' && anyDriver.includes(kind) ? [] : ['dimmerKind', 'driverDimming']
  return needed.filter((field) => !facts.has(field))
}

/** What the drivers draw with the tape that they have: a dimmer's least load is held against that, not their ratings. */
function leastLoad(job: CheckedJob, place: Place, drivers: readonly Driver[]) {
  const facts = job.at(place)
  const drawn = drivers.map((driver) => lineWatts(job, driver))
  const known = drawn.every(({ asked }) => asked.answered.ok)
  if (!facts.has('dimmerMinimum') || facts.get('dimmerKind')?.value === 'low-voltage-pwm' || !known)
    return undefined
  const watts = drawn.flatMap((each) => each.watts)
  const asked = ask(job, dimmerFit, place, {
    given: { drivers: watts.map((each) => typed(each, 'W')) },
    without: ['efficiency'],
    sources: drawn.flatMap((each) => each.asked.uses),
  })
  if (!asked.answered.ok) return undefined
  const { answer } = asked.answered
  const minimum = answer.limits.find(({ id }) => id === 'minimum')
  const said = { load: figureOf(answer, 'load')?.text ?? '', minimum: minimum?.text ?? '' }
  const isMet = figureOf(answer, 'minimumMet')?.value === 'yes'
  return { uses: asked.uses, isMet, sentence: say('driver-on-dimmer.minimum', said) }
}

/** The drivers behind one dimmer: their load, the way they dim, and what the tape really draws. */
function finding(job: CheckedJob, place: Place): Finding {
  const gathered = driversOnDimmer(job, place)
  const asked = heavier(ask(job, dimmerFit, place, gathered), ask(job, dimmerFit, place), 'load')
  const told = asked.answered.ok ? asked.answered.answer.inputs.drivers : undefined
  if (gathered.drivers.length === 0 && !told) return waiting(asked, place, missingFacts(['driverPower']))
  if (!asked.answered.ok) return unanswered(asked, job)
  const { answer } = asked.answered
  const untold = untoldKinds(job, place)
  const least = leastLoad(job, place, gathered.drivers)
  const [load, allowed] = [figureOf(answer, 'load'), figureOf(answer, 'allowed')]
  const isOver = (numberOf(answer, 'load') ?? 0) > (numberOf(answer, 'allowed') ?? 0) * (1 + 1e-9)
  const text = {
    drivers: told?.text ?? '',
    load: load?.text ?? '',
    allowed: allowed?.text ?? '',
  }
  const states: RowState[] = [answer.verdict]
  if (untold.length > 0) states.push('not-asked')
  if (least && !least.isMet) states.push('fails')
  return {
    place,
    state: worstState(states),
    sentences: [
      ...(isOver ? [] : [say('driver-on-dimmer.fits', text)]),
      // By how much it is over, or what would match, is for the question to say.
      ...(answer.verdict === 'fails' ? [answer.headline] : []),
      ...(least && !least.isMet ? [least.sentence] : []),
      ...(untold.length > 0 ? [say('driver-on-dimmer.noKind', {})] : []),
    ],
    question: dimmerFit.id,
    inputs: asked.raw,
    uses: [...asked.uses, ...(least?.uses ?? [])],
    figures: [load, allowed],
    ...(untold.length > 0 ? { missing: missingFacts(untold) } : {}),
  }
}

export const driverOnDimmer: Crossing = {
  id: 'driver-on-dimmer',
  stage: 'switch',
  findings: (job) =>
    job.places
      .filter((place) => tellDimmer.some((field) => job.own(place).has(field)))
      .map((place) => finding(job, place)),
}
