import { type Bounds, clamp, type LeastSquaresFit, leastSquares } from './least-squares'
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
  /** Only with a reading of the driver unplugged: whether it is the load that pulls the source down. */
  sags?: boolean
  /** Squared distance from the readings in standard deviations, with what the priors charge. */
  misfit: number
  /** Misfit, and 2 for each free quantity (Akaike's criterion): the lower the likelier. */
  score: number
  /** What each reading would be if this were so. */
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
  /** Rising with the unknown, where there is one. */
  size?: { of: (unknowns: number[], driver: number) => number; unit?: 'ohm' | 'V' | 'm' }
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
  const { starts, bounds, readings, size, known } = candidate
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
    ...(size ? { size: estimate(size, best, bounds) } : {}),
    ...known,
    misfit: best.sum,
    score: best.sum + CHARGE_PER_QUANTITY * freeQuantities,
    predicted: predict(best.at),
  }
}

function estimate(
  { of, unit }: NonNullable<Candidate['size']>,
  { at, deviations }: LeastSquaresFit,
  bounds: Bounds[],
): FaultSize {
  const [driver, , ...free] = at as [number, number, ...number[]]
  const shifted = (times: number) =>
    of(
      free.map((value, index) =>
        clamp(value + times * (deviations[index + 2] as number), bounds[index] as Bounds),
      ),
      driver,
    )
  return { value: of(free, driver), low: shifted(-1), high: shifted(1), ...(unit ? { unit } : {}) }
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
    readings: (_, driver, power) => atWork(asDesigned(inputs, driver, power)),
  })

const feedResistance: Explanation = (inputs) =>
  fitCandidate(inputs, 'feed-resistance', 1, {
    starts: addedOhmStarts,
    bounds: [addedOhmBounds],
    readings: ([added = 0], driver, power) =>
      atWork({ ...asDesigned(inputs, driver, power), feedOhm: inputs.feedOhm + addedOhm(inputs, added) }),
    size: { of: ([added = 0]) => addedOhm(inputs, added), unit: 'ohm' },
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
    size: { of: ([log = 0]) => Math.exp(log) },
  })

const moreLoad: Explanation = (inputs) =>
  fitCandidate(inputs, 'more-load', 1, {
    starts: [[0.1], [1]],
    bounds: [loadBounds],
    readings: ([log = 0], driver, power) => atWork(asDesigned(inputs, driver, power * Math.exp(log))),
    size: { of: ([log = 0]) => Math.exp(log) },
  })

/** Either it is low by itself (trimmed, dimmed, of another voltage), or the load pulls it down. */
const sourceLow: Explanation = (inputs) => {
  const { ratedV } = inputs.tape
  const knowsOpen = inputs.readings.driverOpen !== undefined
  const byItself = fitCandidate(inputs, 'source-low', 1, {
    starts: [[1], [0.8], [0.5]],
    bounds: [{ low: 0.25, high: 1.2 }],
    readings: ([part = 1], _, power) => atWork(asDesigned(inputs, part, power)),
    size: { of: ([part = 1]) => ratedV * part, unit: 'V' },
    ...(knowsOpen ? { known: { sags: false } } : {}),
  })
  if (!knowsOpen) return byItself
  const pulledDown = fitCandidate(inputs, 'source-low', 1, {
    starts: [[0.97], [0.8], [0.5]],
    bounds: [{ low: 0.25, high: 1 }],
    readings: ([part = 1], driver, power) => ({
      ...atWork(asDesigned(inputs, driver * part, power)),
      driverOpen: ratedV * driver,
    }),
    size: { of: ([part = 1], driver) => ratedV * driver * part, unit: 'V' },
    known: { sags: true },
  })
  return likeliest([byItself, pulledDown])
}

const poorJoint: Explanation = (inputs) =>
  overPlaces(1, unitsOf(inputs) - 1, (place) => {
    const atM = place * inputs.tape.cutLengthM
    return fitCandidate(inputs, 'poor-joint', 2, {
      starts: addedOhmStarts,
      bounds: [addedOhmBounds],
      readings: ([added = 0], driver, power) =>
        atWork({ ...asDesigned(inputs, driver, power), joints: [{ atM, ohm: addedOhm(inputs, added) }] }),
      size: { of: ([added = 0]) => addedOhm(inputs, added), unit: 'ohm' },
      known: { at: exactly(atM) },
    })
  })

const otherVoltage: Explanation = (inputs) =>
  withRange(
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
          size: { of: () => ratedV, unit: 'V' },
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
      size: { of: () => atM, unit: 'm' },
      known: { at: exactly(atM) },
    })
  })

/** What a sound installation, just as designed, reads. */
export function soundReadings(inputs: MeterCheckInputs): Readings {
  return atWork(asDesigned(inputs, 1, 1))
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

function unitsOf({ tape }: MeterCheckInputs): number {
  return countCutUnits(tape.lengthM, tape.cutLengthM)
}

function likeliest(fits: readonly Fit[]): Fit {
  return fits.reduce((best, each) => (best.score <= each.score ? best : each))
}

function exactly(value: number): Estimate {
  return { value, low: value, high: value }
}

/** The likeliest of several fits of one fault; all within one standard deviation of it widen its range. */
function withRange(fits: readonly Fit[]): Fit {
  const best = likeliest(fits)
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
  return { ...best, ...(size ? { size } : {}), ...(at ? { at } : {}) }
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
  return withRange([...fits.values()])
}

function bestPlace(fits: ReadonlyMap<number, Fit>): [number, Fit] {
  return [...fits].reduce((best, each) => (best[1].score <= each[1].score ? best : each))
}
