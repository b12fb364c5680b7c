import type { Answer, Figure } from '../../../questions/common/answer'
import { printValue } from '../../../questions/common/printing'
import { type Judged, verdictOfOne } from '../../../questions/common/verdict'
import { framingHole } from '../../../questions/framing-hole'
import { holeFit } from '../../../questions/hole-fit'
import { ask, figureOf, numberOf } from '../ask'
import { type CheckedJob, type Place, read } from '../checked-job'
import type { RowState } from '../row'
import { worstState } from '../rows'
import { fieldOf } from '../runs'
import { figureLabels, say } from '../words'
import { type Crossing, type Finding, unanswered } from './crossing'

type Part = { state: RowState; sentence: string }

const holeField = fieldOf<number>(framingHole, 'holeDiameter')

/** A hole that was bored, or is meant to be, against the bundle and the bit that it asks for. */
function inHole(fit: Answer, holeM: number, job: CheckedJob): Part {
  const [bit, bundle] = [figureOf(fit, 'bit'), figureOf(fit, 'bundle')]
  const text = {
    bit: bit?.text ?? '',
    bundle: bundle?.text ?? '',
    hole: printValue(holeM, 'm', job.system, 'down'),
  }
  const isWide = (figureM: number | undefined) => figureM !== undefined && figureM <= holeM * (1 + 1e-9)
  if (isWide(numberOf(fit, 'bit')))
    return { state: 'holds', sentence: say('cable-through-hole.passes', text) }
  // It goes in, but with less air around it than the bit leaves.
  if (isWide(numberOf(fit, 'bundle')))
    return { state: 'tight', sentence: say('cable-through-hole.snug', text) }
  return { state: 'fails', sentence: say('cable-through-hole.small', text) }
}

/** The bit that the bundle asks for against the largest hole that the member may have. */
function inMember(fit: Answer, framing: Answer): Part {
  const [bit, largest] = [figureOf(fit, 'bit'), figureOf(framing, 'largestHole')]
  if (!bit) {
    const bundle = figureOf(fit, 'bundle')?.text ?? ''
    return { state: 'fails', sentence: say('cable-through-hole.noBit', { bundle }) }
  }
  if (!largest)
    return {
      state: framing.verdict === 'fails' ? 'fails' : 'not-asked',
      sentence: say('cable-through-hole.noFigure', {}),
    }
  const judged: Judged = {
    id: 'largestHole',
    value: Number(bit.value),
    limit: Number(largest.value),
    sense: 'at-most',
    unit: 'm',
  }
  const state = verdictOfOne(judged)
  const text = { bit: bit.text, largest: largest.text }
  return {
    state,
    sentence: say(state === 'fails' ? 'cable-through-hole.notAllowed' : 'cable-through-hole.allowed', text),
  }
}

function finding(job: CheckedJob, place: Place): Finding {
  const [cables, timber] = [ask(job, holeFit, place), ask(job, framingHole, place)]
  const uses = [...cables.uses, ...timber.uses]
  if (!cables.answered.ok) return { ...unanswered(cables, job), uses }
  if (!timber.answered.ok) return { ...unanswered(timber, job), uses }
  const [fit, framing] = [cables.answered.answer, timber.answered.answer]
  const holeM = read(holeField, job.at(place).get('holeDiameter'), job)
  const parts = [...(holeM === undefined ? [] : [inHole(fit, holeM, job)]), inMember(fit, framing)]
  const hole: Figure | undefined =
    holeM === undefined
      ? undefined
      : {
          id: 'holeDiameter',
          label: figureLabels.holeDiameter,
          value: holeM,
          unit: 'm',
          text: printValue(holeM, 'm', job.system, 'down'),
        }
  return {
    place,
    state: worstState([...parts.map(({ state }) => state), framing.verdict]),
    sentences: [
      ...parts.map(({ sentence }) => sentence),
      ...(framing.verdict === 'fails' ? [framing.headline] : []),
    ],
    question: framingHole.id,
    inputs: timber.raw,
    uses,
    figures: [figureOf(fit, 'bundle'), figureOf(fit, 'bit'), figureOf(framing, 'largestHole'), hole],
  }
}

const tells = (job: CheckedJob, place: Place, fields: readonly string[]): boolean =>
  fields.some((field) => job.at(place).has(field))

const tellMember = ['member', 'memberDepth', 'memberUse']

/** The cables of a place against the timber they go through: where both are told, and one of them of that very place. */
export const cableThroughHole: Crossing = {
  id: 'cable-through-hole',
  stage: 'way',
  findings: (job) =>
    job.places
      .filter((place) => tells(job, place, ['bundle']) && tells(job, place, tellMember))
      .filter((place) => ['bundle', 'holeDiameter', ...tellMember].some((field) => job.own(place).has(field)))
      .map((place) => finding(job, place)),
}
