import { driverSizes } from '../tables/driver-sizes'
import { within } from './limit'
import { packFewest } from './packing'
import { countCutUnits } from './tape-network'

/** The derating line printed on a driver: all of its output up to one temperature, a part of it at another. */
export type DeratingLine = { fullOutputToC: number; derateAtC: number; derateToPercent: number }

/** What a driver is to feed: so many watts, or runs of tape. */
export type DriverLoad =
  | { kind: 'watts'; loadW: number }
  | { kind: 'runs'; runsM: readonly number[]; ratedWPerM: number; cutLengthM: number }

export type DriverQuestion = {
  /** Output voltage, V. */
  voltageV: number
  load: DriverLoad
  /** Percent of its output that a driver may be loaded to, 10–100. */
  loadLimitPercent: number
  /** Air around the driver, °C. */
  ambientC: number
  derating?: DeratingLine
  efficiencyPercent: number
  powerFactor: number
  /** Line voltage, V. */
  supplyV: number
  /** Nameplate of one Class 2 output, W. */
  classTwoNameplateW: number
}

/** How Class 2 outputs share a load. */
export type ClassTwoShare = {
  /** What each output may be loaded to, W. */
  usableW: number
  /** `undefined` when one output does not even carry one cut unit. */
  outputs: number | undefined
  /** For tape: cut units and length that one output carries. */
  unitsPerOutput?: number
  lengthPerOutputM?: number
  /** For tape: what each output feeds, as pieces of runs (by their place in the list) in cut units. */
  pieces?: { run: number; units: number }[][]
  /** False where some packing with fewer outputs may have been missed. */
  proven: boolean
}

export type DriverSize = {
  loadW: number
  /** Part of its output that a driver has at this temperature, percent. */
  deratedToPercent: number
  /** Rating that the load asks for, W. */
  neededW: number
  /** Next size commonly sold, W; `undefined` above the largest. */
  ratingW: number | undefined
  /** Drivers of the largest size that would share the load; 1 when a size does. */
  drivers: number
  /** Load in percent of the rating, and of what is left of it at this temperature. */
  loadPercentOfRating: number | undefined
  loadPercentOfDerated: number | undefined
  outputA: number
  inputW: number
  inputA: number
  heatW: number
  classTwo: ClassTwoShare
}

/**
 * The driver for a load: the size, how hard it works, what it draws, and how many Class 2 outputs share it.
 * `needed = load / limit / derating`; input `load/(efficiency·pf·supply)`.
 *
 * @returns the sizes, or `tooHotAboveC` when the air is hotter than the end of the derating line, which is never
 *   extrapolated
 *
 * Sources: sizes sold and 80 % load are common practice; Class 2 by NFPA 70-2023 chapter 9 table 11(B).
 */
export function sizeDriver(question: DriverQuestion): DriverSize | { tooHotAboveC: number } {
  const { derating, ambientC, load } = question
  if (derating && ambientC > derating.derateAtC) return { tooHotAboveC: derating.derateAtC }
  const deratedToPercent = derating ? outputLeftPercent(derating, ambientC) : 100
  const usable = (question.loadLimitPercent / 100) * (deratedToPercent / 100)
  const loadW = load.kind === 'watts' ? load.loadW : load.ratedWPerM * sum(load.runsM)
  const neededW = loadW / usable
  const ratingW = driverSizes.ratingsW.find((rating) => within(neededW, rating))
  const largestW = driverSizes.ratingsW.at(-1) as number
  const inputW = loadW / (question.efficiencyPercent / 100)
  return {
    loadW,
    deratedToPercent,
    neededW,
    ratingW,
    drivers: ratingW === undefined ? roundUp(neededW / largestW) : 1,
    loadPercentOfRating: ratingW && (100 * loadW) / ratingW,
    loadPercentOfDerated: ratingW && (100 * loadW) / (ratingW * (deratedToPercent / 100)),
    outputA: loadW / question.voltageV,
    inputW,
    inputA: inputW / (question.powerFactor * question.supplyV),
    heatW: inputW - loadW,
    classTwo: shareClassTwo(load, question.classTwoNameplateW * usable),
  }
}

/**
 * Part of its output that a driver has left, percent: all up to `fullOutputToC`, then straight down.
 *
 * @param ambientC °C, at most `derateAtC`
 */
export function outputLeftPercent(
  { fullOutputToC, derateAtC, derateToPercent }: DeratingLine,
  ambientC: number,
) {
  if (ambientC <= fullOutputToC) return 100
  return 100 - ((100 - derateToPercent) * (ambientC - fullOutputToC)) / (derateAtC - fullOutputToC)
}

function shareClassTwo(load: DriverLoad, usableW: number): ClassTwoShare {
  return load.kind === 'watts'
    ? { usableW, outputs: roundUp(load.loadW / usableW), proven: true }
    : packRuns(load, usableW)
}

/**
 * Runs stay whole where an output carries them. A longer one fills whole outputs, and its rest is packed with the
 * others: no other way of dividing it does with fewer outputs.
 */
function packRuns(load: Extract<DriverLoad, { kind: 'runs' }>, usableW: number): ClassTwoShare {
  const { runsM, ratedWPerM, cutLengthM } = load
  const unitsPerOutput = Math.floor(usableW / (ratedWPerM * cutLengthM) + 1e-6)
  const lengthPerOutputM = unitsPerOutput * cutLengthM
  if (unitsPerOutput === 0) {
    return { usableW, outputs: undefined, unitsPerOutput, lengthPerOutputM, proven: true }
  }
  const full: { run: number; units: number }[][] = []
  const rests: { run: number; units: number }[] = []
  runsM.forEach((lengthM, run) => {
    const units = countCutUnits(lengthM, cutLengthM)
    for (let i = 1; i <= units / unitsPerOutput; i++) full.push([{ run, units: unitsPerOutput }])
    if (units % unitsPerOutput > 0) rests.push({ run, units: units % unitsPerOutput })
  })
  const packing = packFewest(
    rests.map((rest) => rest.units),
    unitsPerOutput,
  )
  const pieces = [...full, ...packing.bins.map((bin) => bin.flatMap((i) => rests[i] ?? []))]
  return {
    usableW,
    outputs: pieces.length,
    unitsPerOutput,
    lengthPerOutputM,
    pieces,
    proven: packing.proven,
  }
}

function roundUp(ratio: number): number {
  return Math.ceil(ratio * (1 - 1e-9))
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
