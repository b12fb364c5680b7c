import type { ConductorSize } from '../quantities/conductor-size'
import type { Rules } from '../quantities/systems'
import { classTwoLimitA } from '../tables/class-two'
import { type Capacity, capacityA, conductorOhmPerM, type Strands, sizesFor } from './conductor'
import { within } from './limit'

/** A load at the end of a cable: one that takes the same current at any voltage, or the same power. */
export type CableLoad =
  | { kind: 'constant-current'; currentA: number }
  | { kind: 'constant-power'; powerW: number }

/** What a load at the end of a cable gets, or why it gets nothing. */
export type CableDrop =
  | { currentA: number; dropV: number; farEndV: number; lossW: number }
  | { impossible: 'drop-exceeds-source' | 'power-beyond-cable' }

/**
 * Current that a load takes at a voltage, `P/(V·pf)`.
 *
 * @param powerW W
 * @param voltageV V
 * @param powerFactor 0…1; 1 for dc
 * @returns A
 */
export function loadCurrentA(powerW: number, voltageV: number, powerFactor = 1): number {
  return powerW / (voltageV * powerFactor)
}

/**
 * Voltage drop of a two-wire cable, `2·I·R'·distance`. A constant power takes the smaller-current root of
 * `V_load² − V·V_load + (P/pf)·R = 0`; at these sizes an ac cable is resistance only.
 *
 * @param ohmPerM resistance of one conductor, ohm/m
 * @param distanceM one way, m
 * @param sourceV voltage at the supply's end, V
 * @param powerFactor of an ac load, 0…1; 1 for dc
 * @returns A, V, V, W; or `impossible` when the cable cannot carry the load at all
 *
 * @example cableDrop({ ohmPerM: 0.01, distanceM: 10, sourceV: 24, load: { kind: 'constant-current', currentA: 2 } }).dropV // 0.4
 */
export function cableDrop({
  ohmPerM,
  distanceM,
  sourceV,
  load,
  powerFactor = 1,
}: {
  ohmPerM: number
  distanceM: number
  sourceV: number
  load: CableLoad
  powerFactor?: number
}): CableDrop {
  const loopOhm = 2 * ohmPerM * distanceM
  if (load.kind === 'constant-current') {
    const dropV = load.currentA * loopOhm
    if (dropV >= sourceV) return { impossible: 'drop-exceeds-source' }
    return { currentA: load.currentA, dropV, farEndV: sourceV - dropV, lossW: load.currentA * dropV }
  }
  const apparentVA = load.powerW / powerFactor
  const discriminant = sourceV ** 2 - 4 * apparentVA * loopOhm
  if (discriminant < 0) return { impossible: 'power-beyond-cable' }
  const farEndV = (sourceV + Math.sqrt(discriminant)) / 2
  const currentA = apparentVA / farEndV
  // Not source minus far end: that difference would lose digits when the drop is small.
  const dropV = currentA * loopOhm
  return { currentA, dropV, farEndV, lossW: currentA * dropV }
}

/** A question of cable size: what the cable feeds, how far, and by whose rules. */
export type GaugeQuestion = {
  rules: Rules
  strands: Strands
  conductorTempC: number
  /** One way, m. */
  distanceM: number
  voltageV: number
  load: CableLoad
  /** Of an ac load; 1 for dc. */
  powerFactor?: number
  /** Percent of the voltage at the supply. */
  allowedDropPercent: number
  continuous: boolean
  /** What the supply can push into a fault, A. */
  supplyLimitA?: number
  /**
   * Whether the supply is Class 2; if not said, it is when `supplyLimitA` keeps to the Class 2 limit. A class of the
   * NEC alone: elsewhere a cable has to carry whatever its supply can push.
   */
  classTwoSupply?: boolean
}

/** Why a size does not do. */
export type GaugeReason = 'cannot-carry' | 'drop' | 'capacity' | 'supply-limit' | 'flexible-only'

/** One size, and how it does. */
export type GaugeRow = {
  size: ConductorSize
  /** Of one conductor, ohm/m. */
  ohmPerM: number
  drop: CableDrop
  /** Current of the load at the end of this size, A; at the supply's voltage when the size cannot carry it. */
  currentA: number
  /** Percent of the voltage at the supply; `Infinity` when the size cannot carry the load. */
  dropPercent: number
  capacity: Capacity
  /** What the size may carry of this load, continuous or not, A. */
  loadCapacityA: number
  fits: boolean
  reasons: GaugeReason[]
  /** The fuse with which the size would do, A, where only the supply's limit stands against it. */
  fuseA: number | undefined
}

/** Every size with its figures, and which of them is chosen. */
export type GaugeChoice = {
  rows: GaugeRow[]
  /** Index of the thinnest size that fits; `undefined` when none does. */
  chosen: number | undefined
  /** Index of a thinner size that would do behind a fuse (`fuseA` of its row); `undefined` when none would. */
  withFuse: number | undefined
  /** Whether the load alone is above what a Class 2 supply of this voltage may give. */
  aboveClassTwo: boolean
}

/**
 * The thinnest copper conductor that keeps the drop and carries the load, with the figures of every size.
 *
 * A supply that is not Class 2 and can push more into a fault than a size may carry rules that size out unless
 * it is fused at its capacity.
 *
 * Sources: NFPA 70-2023 210.19(A) informational note 4 (3 %), 240.4(D), chapter 9 tables 8 and 11(B);
 * IEC 60364-5-52:2009+A1 and IEC 60364-7-715:2011.
 */
export function chooseGauge(question: GaugeQuestion): GaugeChoice {
  const rows = sizesFor(question.rules).map((size) => gaugeRow(question, size))
  const indexOf = (does: (row: GaugeRow) => boolean): number | undefined => {
    const index = rows.findIndex(does)
    return index < 0 ? undefined : index
  }
  const chosen = indexOf((row) => row.fits)
  const fused = indexOf((row) => row.fuseA !== undefined)
  const nominalA = nominalCurrentA(question)
  return {
    rows,
    chosen,
    withFuse: fused !== undefined && (chosen === undefined || fused < chosen) ? fused : undefined,
    aboveClassTwo: !within(nominalA, classTwoLimitA(question.voltageV) ?? 0),
  }
}

function nominalCurrentA({ load, voltageV, powerFactor }: GaugeQuestion): number {
  return load.kind === 'constant-current' ? load.currentA : loadCurrentA(load.powerW, voltageV, powerFactor)
}

/** The thinnest size that fits, without the rows of the others; `undefined` when none does. */
export function thinnestThatFits(question: GaugeQuestion): GaugeRow | undefined {
  const nominalA = nominalCurrentA(question)
  for (const size of sizesFor(question.rules)) {
    if (isTooThin(question, size, nominalA)) continue
    const row = gaugeRow(question, size)
    if (row.fits) return row
  }
  return undefined
}

/** Whether a size fails with the load's current at the supply's voltage: a drop never makes it take less. */
function isTooThin(question: GaugeQuestion, size: ConductorSize, nominalA: number): boolean {
  const { strands, conductorTempC, distanceM, voltageV, allowedDropPercent } = question
  const capacity = capacityA(size)
  const ohmPerM = conductorOhmPerM({ size, strands, temperatureC: conductorTempC })
  if (!capacity || ohmPerM === undefined) return false
  const dropV = nominalA * (2 * ohmPerM * distanceM)
  return (
    !within(nominalA, allowedA(question, capacity)) || !within((100 * dropV) / voltageV, allowedDropPercent)
  )
}

/** How one size of the tables does in a question. Throws on a size that is not in the tables. */
export function gaugeRow(question: GaugeQuestion, size: ConductorSize): GaugeRow {
  const { strands, conductorTempC, distanceM, voltageV, load, powerFactor, allowedDropPercent } = question
  const ohmPerM = conductorOhmPerM({ size, strands, temperatureC: conductorTempC })
  const capacity = capacityA(size)
  if (ohmPerM === undefined || !capacity) throw new RangeError('The size is not in the tables')
  const drop = cableDrop({ ohmPerM, distanceM, sourceV: voltageV, load, powerFactor: powerFactor ?? 1 })
  const dropPercent = 'impossible' in drop ? Number.POSITIVE_INFINITY : (100 * drop.dropV) / voltageV
  const loadCapacityA = allowedA(question, capacity)
  const currentA = 'impossible' in drop ? nominalCurrentA(question) : drop.currentA

  const reasons: GaugeReason[] = []
  if ('impossible' in drop) reasons.push('cannot-carry')
  else if (!within(dropPercent, allowedDropPercent)) reasons.push('drop')
  if (!within(currentA, loadCapacityA)) reasons.push('capacity')
  if (capacity.flexibleOnly && strands !== 'flexible') reasons.push('flexible-only')
  if (pushesTooMuch(question, capacity)) reasons.push('supply-limit')

  const onlyNeedsFuse = reasons.length === 1 && reasons[0] === 'supply-limit'
  return {
    size,
    ohmPerM,
    drop,
    currentA,
    dropPercent,
    capacity,
    loadCapacityA,
    fits: reasons.length === 0,
    reasons,
    fuseA: onlyNeedsFuse ? capacity.overcurrentA : undefined,
  }
}

const allowedA = ({ continuous }: GaugeQuestion, { continuousA, overcurrentA }: Capacity): number =>
  continuous ? continuousA : overcurrentA

function pushesTooMuch(
  { rules, supplyLimitA, classTwoSupply, voltageV }: GaugeQuestion,
  capacity: Capacity,
): boolean {
  if (supplyLimitA === undefined || within(supplyLimitA, capacity.overcurrentA)) return false
  const keepsToClassTwo = rules === 'nec' && within(supplyLimitA, classTwoLimitA(voltageV) ?? 0)
  return !(classTwoSupply ?? keepsToClassTwo)
}

/**
 * How far a size goes by drop, m; 0 when the load is over its capacity. A constant power takes more current the
 * further it is, so there the capacity may end the way before the drop does.
 */
export function reachAtGaugeM(question: GaugeQuestion, { ohmPerM, loadCapacityA }: GaugeRow): number {
  const { load, voltageV, powerFactor, allowedDropPercent } = question
  const allowedV = (voltageV * allowedDropPercent) / 100
  if (load.kind === 'constant-current')
    return within(load.currentA, loadCapacityA) ? allowedV / (2 * load.currentA * ohmPerM) : 0
  const farEndAtCapacityV = loadCurrentA(load.powerW, loadCapacityA, powerFactor)
  const dropV = Math.min(allowedV, Math.max(0, voltageV - farEndAtCapacityV))
  return dropV / (2 * loadCurrentA(load.powerW, voltageV - dropV, powerFactor) * ohmPerM)
}
