import type { ConductorSize } from '../quantities/conductor-size'
import type { Rules } from '../quantities/systems'
import { conductorOhmPerM, type Strands, sizesFor } from './conductor'
import { type Bounds, leastSquares } from './least-squares'
import { countCutUnits, solveTape, type TapeDesign, type TapeJoint } from './tape-network'

/** What can be measured: the driver with the tape unplugged and at work, both ends of the tape, the current. */
export const readingIds = ['driverOpen', 'driverLoaded', 'tapeStart', 'tapeEnd', 'current'] as const
export type ReadingId = (typeof readingIds)[number]
/** V, and A for the current. */
export type Readings = Record<ReadingId, number>

export type MeterAccuracy = {
  /** Of the reading, %. */
  meterPercent: number
  meterVolts: number
  /** Of the reading, %. */
  clampPercent: number
  clampAmps: number
}

export type MeterCheckInputs = {
  /** The tape as designed, fed at its start; rails at the temperature they have. */
  tape: TapeDesign
  /** Loop resistance of the feed cable as designed, >= 0, ohm. */
  feedOhm: number
  /** At least one. */
  readings: Partial<Readings>
  accuracy: MeterAccuracy
}

export type ExplanationId =
  | 'as-designed'
  | 'feed-resistance'
  | 'rails'
  | 'source-low'
  | 'more-load'
  | 'poor-joint'
  | 'other-voltage'
  | 'reversed'
  | 'no-output'
  | 'open-circuit'

/** How large a fault is: ohms added, volts of the source or of the tape, metres to a break; no unit: a multiple. */
export type FaultSize = { value: number; unit?: 'ohm' | 'V' | 'm' }

export type Finding = {
  id: ExplanationId
  /** None for a fault that just is or is not. */
  size?: FaultSize
  /** Where the joint or break is, from the tape's start, m; 0 for a break ahead of the tape. */
  atM?: number
  /** Only with a reading of the driver unplugged: whether it is the load that pulls the source down. */
  sags?: boolean
  /** Squared distance from the readings in standard deviations, with what the priors charge. */
  misfit: number
  /** Misfit, and 2 for each free quantity (Akaike's criterion): the lower the likelier. */
  score: number
  /** From the explanation ranked first by more than 2; for the first itself, from all others. */
  toldApart: boolean
  /** What each reading would be if this were so. */
  predicted: Readings
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
  /** What a sound installation reads, V, V and A. */
  expected: Readings
  /** Whether even the best explanation lies further from the readings than chance allows (three deviations). */
  unexplained: boolean
}

const DRIVER_SPREAD = 0.03
const TAPE_POWER_SPREAD = 0.1
const CHARGE_PER_QUANTITY = 2
const TOLD_APART = 2

/**
 * What a meter's readings say about an installation: each explanation is fitted to them through the tape network
 * by weighted least squares, with the driver within 3 % and the tape's power within 10 % as Gaussian priors (one
 * standard deviation), and ranked by misfit plus 2 for each free quantity (Akaike, IEEE Transactions on Automatic
 * Control 19, 1974). A sound installation is presumed: a fault is ranked above `as-designed` only when told apart
 * from it.
 */
export function meterCheck(inputs: MeterCheckInputs): MeterCheck {
  const fits = explanations.flatMap((explanation) => explanation(inputs) ?? [])
  const ranked = presumeSound(fits.sort((a, b) => a.score - b.score))
  const [first, ...others] = ranked
  const close = others.filter((fit) => fit.score - first.score <= TOLD_APART)
  const taken = readingIds.filter((id) => inputs.readings[id] !== undefined).length
  return {
    findings: [
      { ...first, toldApart: close.length === 0 },
      ...others.map((each) => ({ ...each, toldApart: !close.includes(each) })),
    ],
    wouldTell: close.length > 0 ? tellingReadings(inputs, [first, ...close]) : [],
    expected: atWork(asDesigned(inputs, 1, 1)),
    unexplained: first.misfit > taken + 3 * Math.sqrt(2 * taken),
  }
}

/**
 * Standard deviation that a reading is given: the two parts of a meter's accuracy added, as its maker states it,
 * since both may err the same way. That is a limit taken as one deviation, the careful side: a fault must show
 * clearly before it is named.
 */
export function readingDeviation(id: ReadingId, value: number, accuracy: MeterAccuracy): number {
  return id === 'current'
    ? (accuracy.clampPercent / 100) * Math.abs(value) + accuracy.clampAmps
    : (accuracy.meterPercent / 100) * Math.abs(value) + accuracy.meterVolts
}

/** A circuit as it might be, and what the meter shows in it. */
type Circuit = {
  openV: number
  loadedV: number
  feedOhm: number
  tape: TapeDesign
  joints: TapeJoint[]
}

function asDesigned({ tape, feedOhm }: MeterCheckInputs, driver: number, power: number): Circuit {
  const sourceV = tape.ratedV * driver
  return {
    openV: sourceV,
    loadedV: sourceV,
    feedOhm,
    tape: { ...tape, ratedWPerM: tape.ratedWPerM * power },
    joints: [],
  }
}

function atWork({ openV, loadedV, feedOhm, tape, joints }: Circuit): Readings {
  const supply = { sourceV: loadedV, trunkOhm: 0, joints }
  const { unitV, sourceA } = solveTape(tape, [{ atM: 0, ohm: feedOhm }], supply)
  return {
    driverOpen: openV,
    driverLoaded: loadedV,
    tapeStart: unitV[0] ?? loadedV,
    tapeEnd: unitV.at(-1) ?? loadedV,
    current: sourceA,
  }
}

/** Nothing flows: the driver's voltage stands at the driver, and `tapeV` on the tape. */
function atRest(sourceV: number, tapeV: number): Readings {
  return { driverOpen: sourceV, driverLoaded: sourceV, tapeStart: tapeV, tapeEnd: tapeV, current: 0 }
}

/** One way an explanation may be true: its unknowns, what the meter then shows, and how large the fault is. */
type Candidate = {
  /** Free quantities, each scaled to about size 1. */
  starts: number[][]
  bounds: Bounds[]
  readings: (unknowns: number[], driver: number, power: number) => Readings
  fault?: (unknowns: number[]) => Pick<Finding, 'size' | 'atM' | 'sags'>
}

type Fit = Omit<Finding, 'toldApart'>
/** No fit where the tape has no room for the fault. */
type Explanation = (inputs: MeterCheckInputs) => Fit | undefined

const nuisances: Bounds[] = [
  { low: 1 - 5 * DRIVER_SPREAD, high: 1 + 5 * DRIVER_SPREAD },
  { low: 1 - 5 * TAPE_POWER_SPREAD, high: 1 + 5 * TAPE_POWER_SPREAD },
]

function fitCandidate(
  inputs: MeterCheckInputs,
  id: ExplanationId,
  freeQuantities: number,
  candidate: Candidate,
): Fit {
  const { starts, bounds, readings, fault } = candidate
  const taken = readingIds.flatMap((reading) => {
    const value = inputs.readings[reading]
    return value === undefined
      ? []
      : [{ reading, value, deviation: readingDeviation(reading, value, inputs.accuracy) }]
  })
  const predict = (unknowns: number[]) => {
    const [driver, power, ...free] = unknowns as [number, number, ...number[]]
    return readings(free, driver, power)
  }
  const residuals = (unknowns: number[]) => {
    const predicted = predict(unknowns)
    const [driver, power] = unknowns as [number, number]
    return [
      ...taken.map(({ reading, value, deviation }) => (predicted[reading] - value) / deviation),
      (driver - 1) / DRIVER_SPREAD,
      (power - 1) / TAPE_POWER_SPREAD,
    ]
  }
  const best = starts
    .map((start) => leastSquares(residuals, [1, 1, ...start], [...nuisances, ...bounds]))
    .reduce((least, each) => (each.sum < least.sum ? each : least))
  return {
    id,
    ...fault?.(best.at.slice(2)),
    misfit: best.sum,
    score: best.sum + CHARGE_PER_QUANTITY * freeQuantities,
    predicted: predict(best.at),
  }
}

/** Ohms as an unknown of about size 1 that starts at none: doubling steps of the tape's own resistance. */
function addedOhm({ tape }: MeterCheckInputs, unknown: number): number {
  const ownOhm = tape.ratedV ** 2 / (tape.ratedWPerM * tape.lengthM)
  return ownOhm * (Math.exp(unknown) - 1)
}

const addedOhmBounds: Bounds = { low: 0, high: Math.log(101) }
const addedOhmStarts = [[0.02], [0.4]]

const railsBounds: Bounds = { low: Math.log(0.25), high: Math.log(8) }
const loadBounds: Bounds = { low: 0, high: Math.log(6) }
const sourceBounds: Bounds = { low: 0.25, high: 1.2 }
/** Nominal voltages of tape as commonly sold, V (common practice). */
const tapeVoltages = [5, 12, 24, 36, 48]

const sound: Explanation = (inputs) =>
  fitCandidate(inputs, 'as-designed', 0, {
    starts: [[]],
    bounds: [],
    readings: (_, driver, power) => atWork(asDesigned(inputs, driver, power)),
  })

const feedResistance: Explanation = (inputs) =>
  fitCandidate(inputs, 'feed-resistance', 1, {
    starts: addedOhmStarts,
    bounds: [addedOhmBounds],
    readings: ([added = 0], driver, power) =>
      atWork({ ...asDesigned(inputs, driver, power), feedOhm: inputs.feedOhm + addedOhm(inputs, added) }),
    fault: ([added = 0]) => ({ size: { value: addedOhm(inputs, added), unit: 'ohm' } }),
  })

const rails: Explanation = (inputs) =>
  fitCandidate(inputs, 'rails', 1, {
    starts: [[0], [1]],
    bounds: [railsBounds],
    readings: ([log = 0], driver, power) => {
      const circuit = asDesigned(inputs, driver, power)
      const railOhmPerM = inputs.tape.railOhmPerM * Math.exp(log)
      return atWork({ ...circuit, tape: { ...circuit.tape, railOhmPerM } })
    },
    fault: ([log = 0]) => ({ size: { value: Math.exp(log) } }),
  })

const moreLoad: Explanation = (inputs) =>
  fitCandidate(inputs, 'more-load', 1, {
    starts: [[0.1], [1]],
    bounds: [loadBounds],
    readings: ([log = 0], driver, power) => atWork(asDesigned(inputs, driver, power * Math.exp(log))),
    fault: ([log = 0]) => ({ size: { value: Math.exp(log) } }),
  })

/** Either the load pulls the driver down, or it is low by itself: trimmed, dimmed, of another voltage. */
const sourceLow: Explanation = (inputs) => {
  const { ratedV } = inputs.tape
  const knowsOpen = inputs.readings.driverOpen !== undefined
  const variant = (sags: boolean) =>
    fitCandidate(inputs, 'source-low', 1, {
      starts: [[1], [0.8], [0.5]],
      bounds: [sourceBounds],
      readings: ([part = 1], driver, power) => ({
        ...atWork(asDesigned(inputs, part, power)),
        driverOpen: ratedV * (sags ? driver : part),
      }),
      fault: ([part = 1]) => ({
        size: { value: ratedV * part, unit: 'V' },
        ...(knowsOpen ? { sags } : {}),
      }),
    })
  return likelier(knowsOpen ? [variant(false), variant(true)] : [variant(false)])
}

const poorJoint: Explanation = (inputs) =>
  overPlaces(1, unitsOf(inputs) - 1, (place) => {
    const atM = place * inputs.tape.cutLengthM
    return fitCandidate(inputs, 'poor-joint', 2, {
      starts: addedOhmStarts,
      bounds: [addedOhmBounds],
      readings: ([added = 0], driver, power) =>
        atWork({ ...asDesigned(inputs, driver, power), joints: [{ atM, ohm: addedOhm(inputs, added) }] }),
      fault: ([added = 0]) => ({ size: { value: addedOhm(inputs, added), unit: 'ohm' }, atM }),
    })
  })

const otherVoltage: Explanation = (inputs) =>
  likelier(
    tapeVoltages
      .filter((ratedV) => ratedV !== inputs.tape.ratedV)
      .map((ratedV) =>
        fitCandidate(inputs, 'other-voltage', 1, {
          starts: [[]],
          bounds: [],
          readings: (_, driver, power) => {
            const circuit = asDesigned(inputs, driver, power)
            return atWork({ ...circuit, tape: { ...circuit.tape, ratedV } })
          },
          fault: () => ({ size: { value: ratedV, unit: 'V' } }),
        }),
      ),
  )

const reversed: Explanation = (inputs) =>
  fitCandidate(inputs, 'reversed', 0, {
    starts: [[]],
    bounds: [],
    readings: (_, driver) => atRest(inputs.tape.ratedV * driver, -inputs.tape.ratedV * driver),
  })

const noOutput: Explanation = (inputs) =>
  fitCandidate(inputs, 'no-output', 0, { starts: [[]], bounds: [], readings: () => atRest(0, 0) })

const openCircuit: Explanation = (inputs) =>
  overPlaces(0, unitsOf(inputs) - 1, (place) => {
    const atM = place * inputs.tape.cutLengthM
    return fitCandidate(inputs, 'open-circuit', 1, {
      starts: [[]],
      bounds: [],
      readings: (_, driver, power) => {
        const circuit = asDesigned(inputs, driver, power)
        if (place === 0) return atRest(circuit.loadedV, 0)
        return { ...atWork({ ...circuit, tape: { ...circuit.tape, lengthM: atM } }), tapeEnd: 0 }
      },
      fault: () => ({ size: { value: atM, unit: 'm' }, atM }),
    })
  })

const explanations: Explanation[] = [
  sound,
  feedResistance,
  rails,
  sourceLow,
  moreLoad,
  poorJoint,
  otherVoltage,
  reversed,
  noOutput,
  openCircuit,
]

function unitsOf({ tape }: MeterCheckInputs): number {
  return countCutUnits(tape.lengthM, tape.cutLengthM)
}

function likelier<T extends { score: number }>(fits: readonly T[]): T | undefined {
  return fits.reduce<T | undefined>(
    (best, each) => (best && best.score <= each.score ? best : each),
    undefined,
  )
}

/** The best of a row of places: a coarse look over all, then ever closer around the best. */
function overPlaces(first: number, last: number, fitAt: (place: number) => Fit): Fit | undefined {
  let best: { place: number; fit: Fit } | undefined
  const look = (place: number) => {
    if (place < first || place > last) return
    const found = fitAt(place)
    if (!best || found.score < best.fit.score) best = { place, fit: found }
  }
  let step = Math.max(1, Math.ceil((last - first) / 6))
  for (let place = first; place < last; place += step) look(place)
  look(last)
  while (best && step > 1) {
    step = Math.ceil(step / 2)
    const { place } = best
    look(place - step)
    look(place + step)
  }
  return best?.fit
}

function presumeSound(ranked: Fit[]): [Fit, ...Fit[]] {
  const [best] = ranked as [Fit, ...Fit[]]
  const innocent = ranked.find((each) => each.id === 'as-designed' && each.score - best.score <= TOLD_APART)
  return innocent ? [innocent, ...ranked.filter((each) => each !== innocent)] : (ranked as [Fit, ...Fit[]])
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

/** Added ohms said in other ways: so much more of the same cable, or the whole cable in a thinner size. */
export type AddedResistance = {
  extraLengthM: number
  /** The size whose resistance comes nearest when it stands in for the designed one; none without a cable. */
  likeSize?: ConductorSize
}

/**
 * Says resistance added to a feed as extra cable length or as a thinner size.
 *
 * @param addedOhm in the loop, >= 0, ohm
 * @param distanceM of the feed as designed, one way, m
 * @returns undefined for a size that is not in the tables
 */
export function addedResistanceAs(
  addedOhm: number,
  cable: { size: ConductorSize; strands: Strands; temperatureC: number; distanceM: number; rules: Rules },
): AddedResistance | undefined {
  const { size, strands, temperatureC, distanceM, rules } = cable
  const designed = conductorOhmPerM({ size, strands, temperatureC })
  if (designed === undefined) return undefined
  const extraLengthM = addedOhm / (2 * designed)
  if (distanceM === 0) return { extraLengthM }
  const soughtOhmPerM = designed + addedOhm / (2 * distanceM)
  const thinner = sizesFor(rules).flatMap((other) => {
    const ohmPerM = conductorOhmPerM({ size: other, strands, temperatureC })
    return ohmPerM !== undefined && ohmPerM > designed
      ? [{ size: other, apart: Math.abs(Math.log(ohmPerM / soughtOhmPerM)) }]
      : []
  })
  const nearest = thinner.reduce<(typeof thinner)[number] | undefined>(
    (best, each) => (best && best.apart <= each.apart ? best : each),
    undefined,
  )
  return nearest ? { extraLengthM, likeSize: nearest.size } : { extraLengthM }
}
