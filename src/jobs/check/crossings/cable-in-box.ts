import { type ConductorSize, printConductorSize } from '../../../quantities/conductor-size'
import { boxFill } from '../../../questions/box-fill'
import { circuitRoom } from '../../../questions/circuit-room'
import type { Figure } from '../../../questions/common/answer'
import { printValue } from '../../../questions/common/printing'
import type { Cable } from '../../../tables/cable-codes'
import { conductors } from '../../../tables/conductors'
import { ask, figureOf } from '../ask'
import { type CheckedJob, type Place, read } from '../checked-job'
import type { RowState } from '../row'
import { missingText, worstState } from '../rows'
import { fieldOf } from '../runs'
import { figureLabels, say } from '../words'
import { type Crossing, type Finding, missingFacts, unanswered } from './crossing'

type GivenConductor = { gauge: ConductorSize; kind?: string }

const fields = {
  boxCables: fieldOf<Cable[]>(boxFill, 'cables'),
  conductors: fieldOf<GivenConductor[]>(boxFill, 'conductors'),
  breaker: fieldOf<number>(circuitRoom, 'breaker'),
}

const grounds = ['ground', 'isolated-ground']

/**
 * The thinnest conductor of the branch circuit in a box, with the largest breaker ahead of it, A: NFPA 70-2023
 * 240.4(D) and table 310.16. Thinner ones than that table has carry no branch circuit, and grounds are sized by another.
 */
function thinnestIn(job: CheckedJob, place: Place): { size: ConductorSize; mostA: number } | undefined {
  const facts = job.at(place)
  const cables = (read(fields.boxCables, facts.get('boxCables'), job) ?? []).map(({ gauge }) => gauge)
  const single = (read(fields.conductors, facts.get('conductors'), job) ?? [])
    .filter(({ kind, gauge }) => gauge.unit === 'AWG' && !grounds.includes(kind ?? ''))
    .map(({ gauge }) => gauge.value)
  const [row] = conductors.awg
    .filter(({ gauge, limitedSupplyOnly }) => !limitedSupplyOnly && [...cables, ...single].includes(gauge))
    .sort((one, other) => one.overcurrentA - other.overcurrentA)
  return row && { size: { value: row.gauge, unit: 'AWG' }, mostA: row.overcurrentA }
}

/** The breaker against the thinnest conductor: each size has its breaker, so that one of just that rating holds. */
function protection(job: CheckedJob, place: Place, breakerA: number | undefined) {
  const thinnest = thinnestIn(job, place)
  if (!thinnest || breakerA === undefined) return undefined
  const limit = printValue(thinnest.mostA, 'A', job.system)
  const figure: Figure = {
    id: 'breakerAtMost',
    label: figureLabels.breakerAtMost,
    value: thinnest.mostA,
    unit: 'A',
    text: limit,
  }
  const text = {
    size: printConductorSize(thinnest.size),
    breaker: printValue(breakerA, 'A', job.system),
    limit,
  }
  const holds = breakerA <= thinnest.mostA * (1 + 1e-9)
  const state: RowState = holds ? 'holds' : 'fails'
  return {
    state,
    figure,
    sentence: say(holds ? 'cable-in-box.protected' : 'cable-in-box.unprotected', text),
  }
}

/** What is in a box against its volume, and its conductors against the breaker ahead of them. */
function finding(job: CheckedJob, place: Place): Finding {
  const asked = ask(job, boxFill, place)
  const breaker = job.at(place).get('breaker')
  const breakerA = read(fields.breaker, breaker, job)
  const guarded = protection(job, place, breakerA)
  const uses = [...asked.uses, ...(breaker ? [breaker] : [])]
  if (!asked.answered.ok) {
    const open = { ...unanswered(asked, job), uses }
    return guarded?.state === 'fails'
      ? { ...open, state: 'fails', sentences: [guarded.sentence, ...open.sentences] }
      : open
  }
  const { answer } = asked.answered
  const [required, volume] = [figureOf(answer, 'required'), figureOf(answer, 'boxVolume')]
  const missing = breakerA === undefined ? missingFacts(['breaker']) : []
  const states: RowState[] = [answer.verdict, ...(guarded ? [guarded.state] : [])]
  if (missing.length > 0) states.push('not-asked')
  return {
    place,
    state: worstState(states),
    sentences: [
      say('cable-in-box.fill', { required: required?.text ?? '', volume: volume?.text ?? '' }),
      ...(guarded ? [guarded.sentence] : []),
      ...(missing.length > 0 ? [missingText(missing)] : []),
    ],
    question: boxFill.id,
    inputs: asked.raw,
    uses,
    figures: [required, volume, guarded?.figure],
    ...(missing.length > 0 ? { missing } : {}),
  }
}

const tellBox = ['box', 'boxCables', 'conductors']

/** Under IEC there is no rule for boxes, and no table here ties a size in one to a breaker. */
const hasRule = (job: CheckedJob): boolean => job.at(null).get('rules')?.value !== 'iec'

export const cableInBox: Crossing = {
  id: 'cable-in-box',
  stage: 'look',
  findings: (job) =>
    hasRule(job)
      ? job.places
          .filter((place) => tellBox.some((field) => job.own(place).has(field)))
          .map((place) => finding(job, place))
      : [],
}
