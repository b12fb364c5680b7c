import type { Rules } from '../quantities/systems'
import { within } from './limit'

export type SupplyKind = 'one-circuit' | 'single-phase-three-wire' | 'three-phase-wye'
export type Leg = 'A' | 'B' | 'C'

/** One switched hot that would share the neutral. */
export type Hot = {
  /** What it carries at most, A, >= 0. */
  currentA: number
  /** Names its breaker: the same name, the same breaker. */
  circuit: string
  leg?: Leg | undefined
  /** Names its panel, when it is known that they differ. */
  panel?: string | undefined
}

export type NeutralInput = {
  rules: Rules
  /** How the hots are fed; without it, see {@link supplyKindOf}. */
  supplyKind: SupplyKind
  /** The hots, two or more. */
  hots: readonly Hot[]
  /** LED drivers and dimmers: their currents need not cancel. */
  electronic: boolean
  /** Overcurrent limit of the neutral by its gauge, A, > 0, not reduced for continuous load. */
  neutralLimitA?: number | undefined
  /** Rating of the breaker, A, > 0. */
  breakerA?: number | undefined
}

export type NeutralReason =
  /** Two breakers on one leg: both currents add up in one neutral, and no breaker guards it. */
  | 'two-breakers-one-leg'
  /** The hots come from different panels. */
  | 'different-panels'
  /** Under IEC no two final circuits share a neutral. */
  | 'circuits-never-share'
  /** Said to be one circuit, yet more than one breaker is named. */
  | 'more-than-one-breaker'
  /** Nobody said on which leg a hot is, so the worst is taken: all on one. */
  | 'leg-not-told'
  /** A single-phase supply has no leg C. */
  | 'no-such-leg'
  /** At worst the neutral carries more than it may. */
  | 'over-capacity'

export type SharedNeutral = {
  /** Whether the rules allow these hots one neutral, and its capacity does. */
  allowed: boolean
  reasons: NeutralReason[]
  /** With all of it on, as linear loads would share it, A. */
  neutralA: number
  /** The most it may have to carry, A: some hots off, or currents that do not cancel. */
  atWorstA: number
  /** What it may carry, A: the smaller of its own limit and the breaker; null when neither is known. */
  capacityA: number | null
  /** More than one ungrounded leg: both must open together (NEC 210.4(B)). */
  multiwire: boolean
  /** Current of each leg in use, A; all of it on one leg where the legs cannot be relied on. */
  legs: { leg: Leg | null; currentA: number }[]
}

type LegCurrents = Record<Leg, number>

/**
 * What a neutral that several switched hots share has to carry, and whether they may share it.
 *
 * One breaker: the sum. Opposite legs of 120/240 V: the difference. A wye: `√(a²+b²+c²−ab−bc−ca)`. At worst, linear
 * loads are partly off, so that the greatest leg stands alone; electronic ones do not cancel: `√(a²+b²+c²)`.
 * NFPA 70-2023, 200.4, 210.4(A) to (D), 300.3(B), 310.15(E); under IEC, BS 7671:2018 314.4.
 *
 * @example
 * const hot = (currentA: number, leg: Leg) => ({ currentA, circuit: leg, leg })
 * sharedNeutral({ rules: 'nec', supplyKind: 'three-phase-wye', electronic: true,
 *   hots: [hot(10, 'A'), hot(10, 'B'), hot(10, 'C')] }) // neutralA 0, atWorstA 17.3
 */
export function sharedNeutral(input: NeutralInput): SharedNeutral {
  const reasons = reasonsAgainst(input)
  const legsKnown = !reasons.some((reason) => legsUnreliable.has(reason)) && !isOneCircuit(input)
  const legs = legsKnown ? currentsByLeg(input.hots) : allOnOneLeg(input.hots)
  const neutralA = legCombination(legs, input.supplyKind)
  const atWorstA = worstCombination(legs, input.electronic)
  const capacityA = smaller(input.neutralLimitA, input.breakerA)
  if (capacityA !== null && !within(atWorstA, capacityA)) reasons.push('over-capacity')
  const used = legsKnown ? new Set(input.hots.map((hot) => hot.leg)).size : 1
  return {
    allowed: reasons.length === 0,
    reasons,
    neutralA,
    atWorstA,
    capacityA,
    multiwire: used > 1,
    legs: (Object.keys(legs) as Leg[])
      .filter((leg) => legs[leg] > 0)
      .map((leg) => ({ leg: legsKnown ? leg : null, currentA: legs[leg] })),
  }
}

/**
 * How hots that say their circuit and leg must be fed, where that leaves no choice: one breaker is one circuit, and
 * only a three-phase supply has a leg C.
 *
 * @returns `undefined` where it has to be asked: legs A and B are of either supply
 */
export function supplyKindOf(hots: readonly Pick<Hot, 'circuit' | 'leg'>[]): SupplyKind | undefined {
  if (hots.some((hot) => hot.leg === 'C')) return 'three-phase-wye'
  const legs = new Set(hots.map((hot) => hot.leg))
  return legs.size <= 1 && new Set(hots.map((hot) => hot.circuit)).size <= 1 ? 'one-circuit' : undefined
}

/**
 * Current of a load of so many watts, A.
 *
 * @param loadW input power, W, >= 0
 * @param supplyV V, > 0
 * @param powerFactor 0.3–1
 */
export function hotCurrentA(loadW: number, supplyV: number, powerFactor: number): number {
  return loadW / (supplyV * powerFactor)
}

const legsUnreliable: ReadonlySet<NeutralReason> = new Set([
  'different-panels',
  'more-than-one-breaker',
  'leg-not-told',
  'no-such-leg',
])

function reasonsAgainst(input: NeutralInput): NeutralReason[] {
  const { rules, supplyKind, hots } = input
  const reasons: NeutralReason[] = []
  const circuits = new Set(hots.map((hot) => `${hot.panel ?? ''}\n${hot.circuit}`))
  if (differentPanels(hots)) reasons.push('different-panels')
  if (circuits.size > 1 && rules === 'iec') reasons.push('circuits-never-share')
  if (isOneCircuit(input)) {
    if (circuits.size > 1) reasons.push('more-than-one-breaker')
    return reasons
  }
  if (hots.some((hot) => hot.leg === undefined)) reasons.push('leg-not-told')
  if (supplyKind === 'single-phase-three-wire' && hots.some((hot) => hot.leg === 'C'))
    reasons.push('no-such-leg')
  if (twoBreakersOnOneLeg(hots)) reasons.push('two-breakers-one-leg')
  return reasons
}

/** Said to be one circuit, or one breaker of which nobody says that it has more than one leg. */
function isOneCircuit({ supplyKind, hots }: NeutralInput): boolean {
  const oneBreaker = new Set(hots.map((hot) => hot.circuit)).size <= 1
  return supplyKind === 'one-circuit' || (oneBreaker && hots.every((hot) => hot.leg === undefined))
}

function differentPanels(hots: readonly Hot[]): boolean {
  return new Set(hots.flatMap((hot) => hot.panel ?? [])).size > 1
}

function twoBreakersOnOneLeg(hots: readonly Hot[]): boolean {
  return hots.some((one) =>
    hots.some((other) => one.leg !== undefined && one.leg === other.leg && one.circuit !== other.circuit),
  )
}

const allOnOneLeg = (hots: readonly Hot[]): LegCurrents => ({
  A: hots.reduce((sum, hot) => sum + hot.currentA, 0),
  B: 0,
  C: 0,
})

function currentsByLeg(hots: readonly Hot[]): LegCurrents {
  const legs: LegCurrents = { A: 0, B: 0, C: 0 }
  for (const { leg, currentA } of hots) if (leg) legs[leg] += currentA
  return legs
}

function legCombination({ A: a, B: b, C: c }: LegCurrents, supplyKind: SupplyKind): number {
  if (supplyKind !== 'three-phase-wye') return Math.abs(a - b)
  // The same as the usual form, but without a difference under the root, which rounding could turn negative.
  return Math.hypot(a - b, b - c, c - a) / Math.SQRT2
}

function worstCombination({ A: a, B: b, C: c }: LegCurrents, electronic: boolean): number {
  return electronic ? Math.hypot(a, b, c) : Math.max(a, b, c)
}

function smaller(one: number | undefined, other: number | undefined): number | null {
  const least = Math.min(one ?? Number.POSITIVE_INFINITY, other ?? Number.POSITIVE_INFINITY)
  return Number.isFinite(least) ? least : null
}
