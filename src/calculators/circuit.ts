import type { Rules } from '../quantities/systems'
import { breakers } from '../tables/breakers'
import { within } from './limit'

/** One load on a circuit: watts (real power), volt-amperes, or amperes as a clamp shows them. */
export type CircuitLoad = {
  value: number
  unit: 'W' | 'VA' | 'A'
  /** On for three hours or more; without it, as the circuit's `continuous` says. */
  continuous?: boolean | undefined
}

export type CircuitInput = {
  rules: Rules
  /** Rating of the breaker, A, > 0. */
  breakerA: number
  /** Line voltage, V: 100–277 (nec), 220–240 (iec). */
  supplyV: number
  /** What is on the circuit already; each value >= 0. */
  existing: readonly CircuitLoad[]
  /** What is to be added; each value >= 0. */
  added: readonly CircuitLoad[]
  /** Turns W into VA, 0.3–1. */
  powerFactor: number
  /** Whether loads that say nothing, and whatever more may come, are continuous. */
  continuous: boolean
  /** Share of the breaker that a load may take, %, 1–100; replaces the rule book's. */
  factorPercent?: number | undefined
  /** Drivers of which more may be added, input W, > 0; the largest is counted. */
  driversW?: readonly number[] | undefined
}

export type CircuitReason =
  /** The loads, continuous ones at 125 %, are more than the breaker. */
  'over-allowed'

export type CircuitCare =
  /** Low-voltage lighting has to be on at most 20 A under the NEC. */
  'breaker-over-20-for-low-voltage-lighting'

export type CircuitRoom = {
  allowed: boolean
  reasons: CircuitReason[]
  cares: CircuitCare[]
  /** Everything on it, existing and added, VA. */
  usedVA: number
  /** All that it may carry if the rest is added as `continuous` says: the figure `allowed` of the question, VA. */
  permittedVA: number
  /** What is left, VA; below 0 when there is too much. */
  spareVA: number
  spareW: number
  spareA: number
  /** Loads against the breaker, each at what the rule counts it for, %. */
  usedPercent: number
  /** Loads as drawn, A. */
  usedA: number
  /** Loads as the rule counts them (continuous ones at 125 % under the NEC), A, to be at most the breaker. */
  countedA: number
  /** How many more of the largest driver; null when no drivers are given. */
  driversMore: number | null
}

/**
 * Whether there is room on a circuit, and how much.
 *
 * Under the NEC a breaker must be at least the loads that are not continuous plus 125 % of those that are (NFPA
 * 70-2023, 210.19(A)(1), 210.20(A)); alone, that is 80 % of the breaker. Under IEC a breaker carries its rating.
 *
 * @example
 * circuitRoom({ rules: 'nec', breakerA: 15, supplyV: 120, existing: [], added: [], powerFactor: 0.9, continuous: true })
 * // spareVA 1440, spareW 1296
 */
export function circuitRoom(input: CircuitInput): CircuitRoom {
  const { breakerA, supplyV, powerFactor, continuous, driversW = [] } = input
  const loads = [...input.existing, ...input.added]
  const usedVA = sum(loads.map((load) => voltAmperes(load, input)))
  const countedVA = sum(
    loads.map((load) => voltAmperes(load, input) / share(load.continuous ?? continuous, input)),
  )
  const breakerVA = breakerA * supplyV
  const allowed = within(countedVA, breakerVA)
  const spareVA = (breakerVA - countedVA) * share(continuous, input)
  const largestVA = Math.max(0, ...driversW) / powerFactor
  return {
    allowed,
    reasons: allowed ? [] : ['over-allowed'],
    cares: tooLargeForLowVoltageLighting(input) ? ['breaker-over-20-for-low-voltage-lighting'] : [],
    usedVA,
    permittedVA: usedVA + spareVA,
    spareVA,
    spareW: spareVA * powerFactor,
    spareA: spareVA / supplyV,
    usedPercent: (countedVA / breakerVA) * 100,
    usedA: usedVA / supplyV,
    countedA: countedVA / supplyV,
    driversMore: largestVA > 0 ? Math.max(0, Math.floor(spareVA / largestVA + 1e-9)) : null,
  }
}

/** The share of the breaker that a load may take, 0–1. */
function share(continuous: boolean, { rules, factorPercent }: CircuitInput): number {
  return (factorPercent ?? (continuous ? breakers[rules].continuousPercent : 100)) / 100
}

function voltAmperes({ value, unit }: CircuitLoad, { supplyV, powerFactor }: CircuitInput): number {
  if (unit === 'A') return value * supplyV
  return unit === 'W' ? value / powerFactor : value
}

function tooLargeForLowVoltageLighting({ rules, breakerA }: CircuitInput): boolean {
  return rules === 'nec' && breakerA > breakers.lowVoltageLighting.breakerAtMostA
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)
