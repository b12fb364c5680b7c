import { countCutUnits, solveTape, type TapeDesign, type TapeJoint } from './tape-network'

/** What can be measured: the driver with the tape unplugged and at work, both ends of the tape, the current. */
export const readingIds = ['driverOpen', 'driverLoaded', 'tapeStart', 'tapeEnd', 'current'] as const
export type ReadingId = (typeof readingIds)[number]
/** V, and A for the current. */
export type Readings = Record<ReadingId, number>

/** A driver, a cable and a tape fed at its start, as they might be. */
export type Circuit = {
  /** What the driver puts out with the tape unplugged, V. */
  openV: number
  /** What it puts out at work, V. */
  loadedV: number
  /** Whether plus goes to minus on the way. */
  crossed: boolean
  /** Loop resistance of the feed cable, >= 0, ohm; `Infinity` is a break. */
  feedOhm: number
  tape: LumpedTape
  joints: TapeJoint[]
}

/** A tape whose units are taken together by so many, so that even a long one is solved at once. */
export type LumpedTape = TapeDesign & {
  /** Cut units in each unit of this tape: 1 or more, and not always a whole number. */
  cutUnits: number
}

/** Enough that no meter sees the difference: it falls with the square of the number. */
const mostLumps = 100

/** How many units the tape is worked out in. */
export function lumpsOf({ lengthM, cutLengthM }: TapeDesign): number {
  return countCutUnits(lengthM, cutLengthM)
}

/** The tape as it is up to 100 cut units, and in 100 equal lumps beyond. */
export function lumped(tape: TapeDesign): LumpedTape {
  const units = countCutUnits(tape.lengthM, tape.cutLengthM)
  if (units <= mostLumps) return { ...tape, cutUnits: 1 }
  const lengthM = units * tape.cutLengthM
  return { ...tape, lengthM, cutLengthM: lengthM / mostLumps, cutUnits: units / mostLumps }
}

/** What exact meters show in this circuit. */
export function readingsIn(circuit: Circuit): Readings {
  const { startV, endV, sourceA } = atWork(circuit)
  return {
    driverOpen: circuit.openV,
    driverLoaded: circuit.loadedV,
    tapeStart: startV,
    tapeEnd: endV,
    current: sourceA,
  }
}

/** Voltage from the tape's start to its end: at both ends, and at each unit or lump between. */
export function voltagesAlong(circuit: Circuit): { atM: number; voltageV: number }[] {
  const { startV, endV, unitV } = atWork(circuit)
  const { cutLengthM, lengthM } = circuit.tape
  return [
    { atM: 0, voltageV: startV },
    ...Array.from(unitV, (voltageV, unit) => ({ atM: (unit + 0.5) * cutLengthM, voltageV })),
    { atM: lengthM, voltageV: endV },
  ]
}

/** What is lost at the first joint, V: a meter across it shows that. */
export function jointDropV(circuit: Circuit): number {
  const [joint] = circuit.joints
  if (!joint) return 0
  const { cutLengthM, railOhmPerM } = circuit.tape
  const { unitV } = atWork(circuit)
  const after = Math.round(joint.atM / cutLengthM)
  const lostV = (unitV[after - 1] ?? 0) - (unitV[after] ?? 0)
  return joint.ohm === Number.POSITIVE_INFINITY
    ? lostV
    : (lostV * joint.ohm) / (joint.ohm + railOhmPerM * cutLengthM)
}

/**
 * The first cut unit sits half a lump, less half a unit, ahead of the middle of its lump, where the whole current
 * still flows; the last one as far behind, where the current of half a lump runs out.
 */
function atWork({ loadedV, crossed, feedOhm, tape, joints }: Circuit) {
  const { cutUnits, cutLengthM, railOhmPerM } = tape
  const halfUnits = (cutUnits - 1) / 2
  const unitOhm = (railOhmPerM * cutLengthM) / cutUnits
  const aheadOhm = halfUnits * unitOhm
  const { unitV, unitA, sourceA } = solveTape(tape, [{ atM: 0, ohm: feedOhm + aheadOhm }], {
    sourceV: crossed ? -loadedV : loadedV,
    trunkOhm: 0,
    joints,
  })
  const behindV = (((unitA.at(-1) ?? 0) / cutUnits) * unitOhm * halfUnits * (halfUnits + 1)) / 2
  return {
    unitV,
    sourceA,
    startV: (unitV[0] ?? 0) + sourceA * aheadOhm,
    endV: (unitV.at(-1) ?? 0) - behindV,
  }
}
