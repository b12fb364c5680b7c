import type { Rules } from '../quantities/systems'
import { atLeast, within } from './limit'
import { type PackingOptions, packFewest } from './packing'

export type LegEnd = 'box' | 'tape'

/** One leg of a route, measured along the route; box to tape without its ends. */
export type PullLeg = { lengthM: number; from?: LegEnd | undefined; to?: LegEnd | undefined }

export type PullInput = {
  rules: Rules
  /** The legs, each 0.1–300 m; each is one piece of cable. */
  legs: readonly PullLeg[]
  /** Spare cable at each end, box or tape, m, >= 0. */
  endSlackM: number
  /** Spare cable along the way, %, 0–50. */
  slackPercent: number
  /** Length of one push rod, m, > 0. */
  rodLengthM?: number | undefined
  /** Cable on a full spool, m, > 0. */
  spoolM?: number | undefined
}

export type PullReason =
  /** Less than 6 in of spare cable at a box (NEC 300.14). */
  | 'short-at-box'
  /** A leg is longer than a spool, and a hidden splice is none. */
  | 'leg-longer-than-spool'

export type PullPlan = {
  allowed: boolean
  reasons: PullReason[]
  /** All the cable, m: the sum of `legsM`. */
  cableM: number
  /** Cable of each leg with its slack and its ends, m, in the order given. */
  legsM: number[]
  /** Rods joined for the longest leg; null without a rod length. */
  rods: number | null
  /** Null without a spool length, and when a leg is longer than a spool. */
  spools: {
    count: number
    /** Whether it is certain that no fewer do. */
    proven: boolean
    /** For each spool, the positions of its legs in the list given. */
    legs: number[][]
    /** What is left on each spool, m. */
    leftM: number[]
  } | null
  /** Positions of the legs that no spool holds. */
  tooLong: number[]
}

/** Free cable that NEC 300.14 asks for at a box. */
const leastAtBoxM = 6 * 0.0254

/**
 * How much cable a route takes, and how many spools and push rods.
 *
 * Each leg takes its length, the slack along the way, and spare cable at both ends (NFPA 70-2023, 300.14: at least
 * 6 in at a box; the default slack is common practice). A leg never spans two spools, so whole legs are packed.
 *
 * @param search how long the exact packing may take; `known`: the legs of each spool in a plan for legs that took no
 *   more, or for a spool that held no less: where the spool still holds them, as few do, and nothing is searched
 *
 * @example
 * const leg = { lengthM: 60 * 0.3048 }
 * pullPlan({ rules: 'nec', legs: [leg, leg, leg, leg], endSlackM: 0.1524, slackPercent: 10, spoolM: 30.48 })
 * // 67 ft each, so four spools of 100 ft and not three
 */
export function pullPlan(
  input: PullInput,
  { known, ...search }: PackingOptions & { known?: readonly (readonly number[])[] | undefined } = {},
): PullPlan {
  const { rules, legs, endSlackM, slackPercent, rodLengthM, spoolM } = input
  const alongM = legs.map(({ lengthM }) => lengthM * (1 + slackPercent / 100))
  const legsM = alongM.map((lengthM) => lengthM + 2 * endSlackM)
  const tooLong = spoolM === undefined ? [] : legsM.flatMap((leg, i) => (within(leg, spoolM) ? [] : [i]))
  const reasons: PullReason[] = []
  if (rules === 'nec' && legs.some(touchesBox) && !atLeast(endSlackM, leastAtBoxM))
    reasons.push('short-at-box')
  if (tooLong.length > 0) reasons.push('leg-longer-than-spool')
  return {
    allowed: reasons.length === 0,
    reasons,
    cableM: sum(legsM),
    legsM,
    rods: rodLengthM === undefined ? null : Math.ceil(Math.max(0, ...alongM) / rodLengthM - 1e-9),
    spools: spoolM === undefined || tooLong.length > 0 ? null : packed(legsM, spoolM, known, search),
    tooLong,
  }
}

const touchesBox = ({ from = 'box', to = 'tape' }: PullLeg): boolean => from === 'box' || to === 'box'

function packed(
  legsM: readonly number[],
  spoolM: number,
  known: readonly (readonly number[])[] | undefined,
  search: PackingOptions,
): NonNullable<PullPlan['spools']> {
  const takenM = (legs: readonly number[]): number => sum(legs.map((leg) => legsM[leg] ?? 0))
  const isKnown = known?.every((legs) => within(takenM(legs), spoolM))
  const { bins, proven } =
    known && isKnown
      ? { bins: known.map((legs) => [...legs]), proven: false }
      : packFewest(legsM, spoolM, 0, search)
  const leftM = bins.map((legs) => Math.max(0, spoolM - takenM(legs)))
  return { count: bins.length, proven, legs: bins, leftM }
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)
