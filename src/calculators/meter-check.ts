import { type Circuit, type ReadingId, type Readings, readingIds, readingsIn } from './meter-circuit'
import {
  type Fit,
  fitExplanations,
  type MeterCheckInputs,
  readingDeviation,
  soundCircuit,
} from './meter-explanations'

export type { Circuit, ReadingId, Readings } from './meter-circuit'
export { readingIds, voltagesAlong } from './meter-circuit'
export type {
  Estimate,
  ExplanationId,
  FaultSize,
  MeterAccuracy,
  MeterCheckInputs,
} from './meter-explanations'
export { readingDeviation } from './meter-explanations'

export type Finding = Fit & {
  /** From the explanation ranked first by more than 2; for the first itself, from all others. */
  toldApart: boolean
}

export type TellingReading = {
  reading: ReadingId
  /** How far the explanations still in question differ there, in standard deviations of the meter. */
  apart: number
}

export type MeterCheck = {
  /** Likeliest first. */
  findings: [Finding, ...Finding[]]
  /** Readings that would help to tell the first from those close to it, most telling first. */
  wouldTell: TellingReading[]
  /** A sound installation, just as designed, and what it reads. */
  sound: Circuit
  expected: Readings
  /** How much better the best fault explains the readings than a sound installation, as a difference of scores. */
  faultLead: number
  /** Whether even the best explanation lies further from the readings than chance allows (three deviations). */
  unexplained: boolean
}

const TOLD_APART = 2
/** What a fault must be ahead by to be named before `as-designed`. */
export const PRESUMED_SOUND = 5

/**
 * What a meter's readings say about an installation: every explanation that they might have, ranked by misfit plus
 * 2 for each free quantity (Akaike, IEEE Transactions on Automatic Control 19, 1974). A sound installation is
 * presumed: since any of some five faults may fit a little better by chance, a fault comes before `as-designed`
 * only when it is ahead by more than 5, which calls less than one sound installation in twenty faulty.
 */
export function meterCheck(inputs: MeterCheckInputs): MeterCheck {
  const byScore = fitExplanations(inputs).sort((a, b) => a.score - b.score) as [Fit, ...Fit[]]
  const ranked = presumeSound(byScore)
  const [first, ...others] = ranked
  const close = others.filter((fit) => fit.score - first.score <= TOLD_APART)
  const sound = soundCircuit(inputs)
  const soundFit = ranked.find(({ id }) => id === 'as-designed')
  const taken = readingIds.filter((id) => inputs.readings[id] !== undefined).length
  return {
    findings: [
      { ...first, toldApart: close.length === 0 },
      ...others.map((each) => ({ ...each, toldApart: !close.includes(each) })),
    ],
    wouldTell: close.length > 0 ? tellingReadings(inputs, [first, ...close]) : [],
    sound,
    expected: readingsIn(sound),
    faultLead: soundFit ? soundFit.score - byScore[0].score : 0,
    unexplained: first.misfit > taken + 3 * Math.sqrt(2 * taken),
  }
}

function presumeSound(ranked: [Fit, ...Fit[]]): [Fit, ...Fit[]] {
  const [best] = ranked
  const innocent = ranked.find(
    (each) => each.id === 'as-designed' && each.score - best.score <= PRESUMED_SOUND,
  )
  return innocent ? [innocent, ...ranked.filter((each) => each !== innocent)] : ranked
}

function tellingReadings({ readings, accuracy }: MeterCheckInputs, close: readonly Fit[]): TellingReading[] {
  return readingIds
    .filter((reading) => readings[reading] === undefined)
    .map((reading) => {
      const values = close.map(({ predicted }) => predicted[reading])
      const spread = Math.max(...values) - Math.min(...values)
      return {
        reading,
        apart: spread / readingDeviation(reading, Math.max(...values.map(Math.abs)), accuracy),
      }
    })
    .filter(({ apart }) => apart > 1)
    .sort((a, b) => b.apart - a.apart)
}
