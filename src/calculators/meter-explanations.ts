import { type Bounds, clamp, type LeastSquaresFit, leastSquares } from './least-squares'
import {
  type Circuit,
  jointDropV,
  lumped,
  lumpsOf,
  type ReadingId,
  type Readings,
  readingIds,
  readingsIn,
} from './meter-circuit'
import type { TapeDesign } from './tape-network'

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

/** Everything that may explain the readings. */
export const explanationIds = [
  'as-designed',
  'feed-resistance',
  'rails',
  'source-low',
  'more-load',
  'poor-joint',
  'other-voltage',
  'reversed',
  'no-output',
  'open-circuit',
] as const

export type ExplanationId = (typeof explanationIds)[number]

/** The likeliest value, and how far it may be off by one standard deviation: the readings may hardly tell it. */
export type Estimate = { value: number; low: number; high: number }

/** How large a fault is: ohms added, volts of the source or of the tape, metres to a break; no unit: a multiple. */
export type FaultSize = Estimate & { unit?: 'ohm' | 'V' | 'm' }

/** One explanation, fitted to the readings. */
export type Fit = {
  id: ExplanationId
  /** None for a fault that just is or is not. */
  size?: FaultSize
  /** Where the joint or break is, from the tape's start, m; 0 for a break ahead of the tape. */
  at?: Estimate
  /** What a meter across a poor joint shows, V: the readings tell it far better than the joint's ohms and place. */
  lostV?: Estimate
  /** Only with a reading of the driver unplugged: whether it is the load that pulls the source down. */
  sags?: boolean
  /** Squared distance from the readings in standard deviations, with what the priors charge. */
  misfit: number
  /** Misfit, and 2 for each free quantity (Akaike's criterion): the lower the likelier. */
  score: number
  /** The circuit as it would be if this were so. */
  circuit: Circuit
  /** What each reading would be in it. */
  predicted: Readings
}

const DRIVER_SPREAD = 0.03
const TAPE_POWER_SPREAD = 0.1
const CHARGE_PER_QUANTITY = 2
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

function asDesigned({ tape, feedOhm }: MeterCheckInputs, driver: number, power: number): Circuit {
  const sourceV = tape.ratedV * driver
  return {
    openV: sourceV,
    loadedV: sourceV,
    crossed: false,
    feedOhm,
    tape: { ...lumped(tape), ratedWPerM: tape.ratedWPerM * power },
    joints: [],
  }
}

type SizeOf = (unknowns: number[], driver: number, power: number) => number

/** One way an explanation may be true: its unknowns, the circuit that they make, and how large the fault is. */
type Candidate = {
  /** Free quantities, each scaled to about size 1. */
  starts: number[][]
  bounds: Bounds[]
  circuit: (unknowns: number[], driver: number, power: number) => Circuit
  /** Rising with the unknown, where there is one. */
  size?: { of: SizeOf; unit?: 'ohm' | 'V' | 'm' }
  hasJoint?: true
  known?: Pick<Fit, 'at' | 'sags'>
}

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
  const { starts, bounds, circuit, size, hasJoint, known } = candidate
  const taken = readingIds.flatMap((reading) => {
    const value = inputs.readings[reading]
    return value === undefined
      ? []
      : [{ reading, value, deviation: readingDeviation(reading, value, inputs.accuracy) }]
  })
  const circuitAt = (unknowns: number[]) => {
    const [driver, power, ...free] = unknowns as [number, number, ...number[]]
    return circuit(free, driver, power)
  }
  const lostAt: SizeOf = (free, driver, power) => jointDropV(circuit(free, driver, power))
  const residuals = (unknowns: number[]) => {
    const predicted = readingsIn(circuitAt(unknowns))
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
    ...(size
      ? { size: { ...estimate(size.of, best, bounds), ...(size.unit ? { unit: size.unit } : {}) } }
      : {}),
    ...(hasJoint ? { lostV: estimate(lostAt, best, bounds) } : {}),
    ...known,
    misfit: best.sum,
    score: best.sum + CHARGE_PER_QUANTITY * freeQuantities,
    circuit: circuitAt(best.at),
    predicted: readingsIn(circuitAt(best.at)),
  }
}

/** At the best fit, and with each free quantity one standard deviation less and more. */
function estimate(of: SizeOf, { at, deviations }: LeastSquaresFit, bounds: Bounds[]): Estimate {
  const [driver, power, ...free] = at as [number, number, ...number[]]
  const shifted = (times: number) =>
    of(
      free.map((value, index) =>
        clamp(value + times * (deviations[index + 2] as number), bounds[index] as Bounds),
      ),
      driver,
      power,
    )
  return { value: of(free, driver, power), low: shifted(-1), high: shifted(1) }
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
/** Nominal voltages of tape as commonly sold, V, commonest first (common practice). */
const tapeVoltages = [24, 12, 48, 5, 36]

const sound: Explanation = (inputs) =>
  fitCandidate(inputs, 'as-designed', 0, {
    starts: [[]],
    bounds: [],
    circuit: (_, driver, power) => asDesigned(inputs, driver, power),
  })

const feedResistance: Explanation = (inputs) =>
  fitCandidate(inputs, 'feed-resistance', 1, {
    starts: addedOhmStarts,
    bounds: [addedOhmBounds],
    circuit: ([added = 0], driver, power) => ({
      ...asDesigned(inputs, driver, power),
      feedOhm: inputs.feedOhm + addedOhm(inputs, added),
    }),
    size: { of: ([added = 0]) => addedOhm(inputs, added), unit: 'ohm' },
  })

const rails: Explanation = (inputs) =>
  fitCandidate(inputs, 'rails', 1, {
    starts: [[0], [1]],
    bounds: [railsBounds],
    circuit: ([log = 0], driver, power) => {
      const circuit = asDesigned(inputs, driver, power)
      const railOhmPerM = inputs.tape.railOhmPerM * Math.exp(log)
      return { ...circuit, tape: { ...circuit.tape, railOhmPerM } }
    },
    size: { of: ([log = 0]) => Math.exp(log) },
  })

const moreLoad: Explanation = (inputs) =>
  fitCandidate(inputs, 'more-load', 1, {
    starts: [[0.1], [1]],
    bounds: [loadBounds],
    circuit: ([log = 0], driver, power) => asDesigned(inputs, driver, power * Math.exp(log)),
    size: { of: ([log = 0]) => Math.exp(log) },
  })

/** Either it is low by itself (trimmed, dimmed, of another voltage), or the load pulls it down. */
const sourceLow: Explanation = (inputs) => {
  const { ratedV } = inputs.tape
  const knowsOpen = inputs.readings.driverOpen !== undefined
  const byItself = fitCandidate(inputs, 'source-low', 1, {
    starts: [[1], [0.8], [0.5]],
    bounds: [{ low: 0.25, high: 1.2 }],
    circuit: ([part = 1], _, power) => asDesigned(inputs, part, power),
    size: { of: ([part = 1]) => ratedV * part, unit: 'V' },
    ...(knowsOpen ? { known: { sags: false } } : {}),
  })
  if (!knowsOpen) return byItself
  const pulledDown = fitCandidate(inputs, 'source-low', 1, {
    starts: [[0.97], [0.8], [0.5]],
    bounds: [{ low: 0.25, high: 1 }],
    circuit: ([part = 1], driver, power) => ({
      ...asDesigned(inputs, driver * part, power),
      openV: ratedV * driver,
    }),
    size: { of: ([part = 1], driver) => ratedV * driver * part, unit: 'V' },
    known: { sags: true },
  })
  return likeliest([byItself, pulledDown])
}

const poorJoint: Explanation = (inputs) => {
  const { lumps, placeAt } = placesOf(inputs)
  return overPlaces(1, lumps - 1, (place) => {
    const atM = placeAt(place)
    return fitCandidate(inputs, 'poor-joint', 2, {
      starts: addedOhmStarts,
      bounds: [addedOhmBounds],
      circuit: ([added = 0], driver, power) => ({
        ...asDesigned(inputs, driver, power),
        joints: [{ atM, ohm: addedOhm(inputs, added) }],
      }),
      size: { of: ([added = 0]) => addedOhm(inputs, added), unit: 'ohm' },
      hasJoint: true,
      known: { at: exactly(atM) },
    })
  })
}

const otherVoltage: Explanation = (inputs) =>
  withRange(
    tapeVoltages
      .filter((ratedV) => ratedV !== inputs.tape.ratedV)
      .map((ratedV) =>
        fitCandidate(inputs, 'other-voltage', 1, {
          starts: [[]],
          bounds: [],
          circuit: (_, driver, power) => {
            const circuit = asDesigned(inputs, driver, power)
            return { ...circuit, tape: { ...circuit.tape, ratedV } }
          },
          size: { of: () => ratedV, unit: 'V' },
        }),
      ),
  )

const reversed: Explanation = (inputs) =>
  fitCandidate(inputs, 'reversed', 0, {
    starts: [[]],
    bounds: [],
    circuit: (_, driver, power) => ({ ...asDesigned(inputs, driver, power), crossed: true }),
  })

const noOutput: Explanation = (inputs) =>
  fitCandidate(inputs, 'no-output', 0, {
    starts: [[]],
    bounds: [],
    circuit: () => asDesigned(inputs, 0, 1),
  })

const openCircuit: Explanation = (inputs) => {
  const { lumps, placeAt } = placesOf(inputs)
  return overPlaces(0, lumps - 1, (place) => {
    const atM = placeAt(place)
    const broken = { ohm: Number.POSITIVE_INFINITY }
    return fitCandidate(inputs, 'open-circuit', 1, {
      starts: [[]],
      bounds: [],
      circuit: (_, driver, power) => ({
        ...asDesigned(inputs, driver, power),
        ...(place === 0 ? { feedOhm: broken.ohm } : { joints: [{ atM, ...broken }] }),
      }),
      size: { of: () => atM, unit: 'm' },
      known: { at: exactly(atM) },
    })
  })
}

/** A sound installation, just as designed. */
export function soundCircuit(inputs: MeterCheckInputs): Circuit {
  return asDesigned(inputs, 1, 1)
}

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

/**
 * Fits each explanation that the tape has room for to the readings, by weighted least squares through the tape
 * network, with the driver within 3 % and the tape's power within 10 % as Gaussian priors (one standard deviation).
 */
export function fitExplanations(inputs: MeterCheckInputs): Fit[] {
  return explanations.flatMap((explanation) => explanation(inputs) ?? [])
}

/** Where a joint or a break may be: after each cut unit, or after each lump of a long tape. */
function placesOf({ tape }: MeterCheckInputs) {
  const { cutLengthM, ...others } = lumped(tape)
  return {
    lumps: lumpsOf({ ...others, cutLengthM }),
    placeAt: (place: number) => place * cutLengthM,
  }
}

function likeliest(fits: readonly Fit[]): Fit {
  return fits.reduce((best, each) => (best.score <= each.score ? best : each))
}

function exactly(value: number): Estimate {
  return { value, low: value, high: value }
}

/** One of several fits of one fault, the likeliest unless said; all within one standard deviation widen its range. */
function withRange(fits: readonly Fit[], best = likeliest(fits)): Fit {
  const near = fits.filter((each) => each.misfit <= best.misfit + 1)
  const wide = <T extends Estimate>(value: T | undefined, all: (Estimate | undefined)[]) =>
    value && {
      ...value,
      low: Math.min(...all.map((each) => each?.low ?? value.low)),
      high: Math.max(...all.map((each) => each?.high ?? value.high)),
    }
  const size = wide(
    best.size,
    near.map((each) => each.size),
  )
  const at = wide(
    best.at,
    near.map((each) => each.at),
  )
  const lostV = wide(
    best.lostV,
    near.map((each) => each.lostV),
  )
  return { ...best, ...(size ? { size } : {}), ...(at ? { at } : {}), ...(lostV ? { lostV } : {}) }
}

/** The best of a row of places: a coarse look over all, then closer around the best and both ends of its range. */
function overPlaces(first: number, last: number, fitAt: (place: number) => Fit): Fit | undefined {
  if (last < first) return undefined
  const fits = new Map<number, Fit>()
  const look = (place: number): Fit => {
    const found = fits.get(place) ?? fitAt(place)
    fits.set(place, found)
    return found
  }
  let step = Math.max(1, Math.ceil((last - first) / 6))
  for (let place = first; place < last; place += step) look(place)
  look(last)
  while (step > 1) {
    step = Math.ceil(step / 2)
    const [best] = bestPlace(fits)
    for (const place of [best - step, best + step]) if (place >= first && place <= last) look(place)
  }
  const [best, { misfit }] = bestPlace(fits)
  for (const end of [first, last]) {
    let [inside, outside] = [best, end]
    while (Math.abs(outside - inside) > 1) {
      const middle = Math.trunc((inside + outside) / 2)
      if (look(middle).misfit <= misfit + 1) inside = middle
      else outside = middle
    }
  }
  return withRange([...fits.values()], look(middleOfLevel(fits, misfit, look)))
}

/** Misfits that differ by less are level: no reading prefers one of them. */
const LEVEL = 0.1

/** Of places that fit as well as the best, the middle one is the least wrong, wherever the fault may be. */
function middleOfLevel(
  fits: ReadonlyMap<number, Fit>,
  leastMisfit: number,
  look: (place: number) => Fit,
): number {
  const isLevel = (fit: Fit) => fit.misfit <= leastMisfit + LEVEL
  const places = [...fits].flatMap(([place, fit]) => (isLevel(fit) ? [place] : []))
  const middle = Math.round((Math.min(...places) + Math.max(...places)) / 2)
  return isLevel(look(middle)) ? middle : bestPlace(fits)[0]
}

function bestPlace(fits: ReadonlyMap<number, Fit>): [number, Fit] {
  return [...fits].reduce((best, each) => (best[1].score <= each[1].score ? best : each))
}
