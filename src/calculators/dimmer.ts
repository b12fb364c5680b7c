import { atLeast, within } from './limit'

export type DimmerKind = 'forward-phase' | 'reverse-phase' | '0-10V' | 'DALI' | 'low-voltage-pwm' | 'switch'
export type DriverDimming = 'forward-phase' | 'reverse-phase' | 'either-phase' | '0-10V' | 'DALI' | 'none'
export type SidesRemoved = 0 | 1 | 2

/** What a dimmer may carry: watts or volt-amperes on the line side, amperes on the low-voltage side. */
export type DimmerRating = { value: number; unit: 'W' | 'VA' | 'A' }

/**
 * The ways of dimming that each kind of dimmer can drive (common practice). A low-voltage dimmer sits behind its
 * driver, so the driver has to stay at full: one that cannot dim, or one that is not dimmed.
 */
export const dimmingThatMatches: Record<DimmerKind, readonly DriverDimming[]> = {
  'forward-phase': ['forward-phase', 'either-phase'],
  'reverse-phase': ['reverse-phase', 'either-phase'],
  '0-10V': ['0-10V'],
  DALI: ['DALI'],
  'low-voltage-pwm': ['none'],
  switch: ['forward-phase', 'reverse-phase', 'either-phase', '0-10V', 'DALI', 'none'],
}

/** What a dimmer keeps without its side sections, when its instructions do not say (common practice). */
const shareWithOneSideRemoved = 5 / 6
const shareWithBothSidesRemoved = 2 / 3

export type DimmerFitInput = {
  /** LED rating with all side sections in place, > 0. In amperes for a low-voltage dimmer. */
  rating: DimmerRating
  /** What each driver takes from the line, W, > 0; unused for a rating in amperes. See {@link driverInputsW}. */
  driversW: readonly number[]
  /** Current dimmed by a low-voltage dimmer, A, >= 0; only for a rating in amperes. */
  dimmedCurrentA?: number | undefined
  /** Power factor of the drivers, 0.3–1. */
  powerFactor: number
  sidesRemoved: SidesRemoved
  /** What the instructions allow with one side section removed, in the unit of the rating, > 0. */
  ratingOneSide?: number | undefined
  /** The same with both removed. */
  ratingBothSides?: number | undefined
  /** Least load the dimmer works with, W, > 0. */
  minimumW?: number | undefined
  dimmerKind?: DimmerKind | undefined
  driverDimming?: DriverDimming | undefined
  /** The driver ahead of a low-voltage dimmer is not dimmed, whatever it can do. */
  heldAtFull?: boolean | undefined
}

export type DimmerReason =
  /** The load is over what the dimmer may carry. */
  | 'over-rating'
  /** The load is under the dimmer's minimum. */
  | 'below-minimum'
  /** Dimmer and driver are made for different ways of dimming. */
  | 'kinds-differ'
  /** A dimmer of line voltage ahead of a driver that is not made to be dimmed. */
  | 'driver-not-dimmable'

export type DimmerFit = {
  allowed: boolean
  reasons: DimmerReason[]
  /** Unit of `load` and `permitted`, that of the rating. */
  unit: DimmerRating['unit']
  load: number
  /** What the dimmer may carry as it is built in: the figure `allowed` of the question. */
  permitted: number
  /** Where `permitted` comes from: the rating as it stands, the instructions, or the trade's habit. */
  permittedBy: 'rating' | 'instructions' | 'common-practice'
  loadPercent: number
  /** How many such drivers it may carry; null unless all drivers are equal. */
  driversAtMost: number | null
  /** The load against the least load; null when there is none to meet or, in amperes, no watts to compare. */
  minimum: { met: boolean; loadW: number; missingW: number } | null
  /** Null until both kinds are known. */
  match: { matches: boolean; dimmingThatWould: DriverDimming[]; dimmersThatWould: DimmerKind[] } | null
}

/**
 * What drivers take from the line when only their outputs are known, W.
 *
 * @param outputsW rated output of each, W, >= 0
 * @param efficiencyPercent 50–100
 */
export function driverInputsW(outputsW: readonly number[], efficiencyPercent: number): number[] {
  return outputsW.map((outputW) => (outputW * 100) / efficiencyPercent)
}

/**
 * Whether a dimmer may run these drivers: its rating without the side sections broken off, its least load, and
 * whether both are made for the same way of dimming (NFPA 70-2023, 404.14(E); matching and derating are common
 * practice). A rating in VA is compared with W / power factor.
 *
 * @example
 * dimmerFit({ rating: { value: 150, unit: 'W' }, driversW: [75, 75], powerFactor: 0.9, sidesRemoved: 1 })
 * // not allowed: 150 W on 125 W
 */
export function dimmerFit(input: DimmerFitInput): DimmerFit {
  const { value: permitted, by } = permittedLoad(input)
  const loads = loadsInUnit(input)
  const load = loads.reduce((sum, each) => sum + each, 0)
  const minimum = minimumCheck(input)
  const match = kindMatch(input)
  const reasons: DimmerReason[] = []
  if (!within(load, permitted)) reasons.push('over-rating')
  if (minimum && !minimum.met) reasons.push('below-minimum')
  if (match && !match.matches)
    reasons.push(input.driverDimming === 'none' ? 'driver-not-dimmable' : 'kinds-differ')
  return {
    allowed: reasons.length === 0,
    reasons,
    unit: input.rating.unit,
    load,
    permitted,
    permittedBy: by,
    loadPercent: (load / permitted) * 100,
    driversAtMost: input.rating.unit === 'A' ? null : countOfEqual(loads, permitted),
    minimum,
    match,
  }
}

function loadsInUnit({ rating, driversW, dimmedCurrentA = 0, powerFactor }: DimmerFitInput): number[] {
  if (rating.unit === 'A') return [dimmedCurrentA]
  return rating.unit === 'VA' ? driversW.map((watts) => watts / powerFactor) : [...driversW]
}

function countOfEqual(loads: readonly number[], permitted: number): number | null {
  const [first = 0] = loads
  const equal = first > 0 && loads.every((load) => Math.abs(load - first) <= 1e-9 * first)
  return equal ? Math.floor((permitted / first) * (1 + 1e-9)) : null
}

/** Removing a side never helps: a figure of the instructions counts only as far as it lowers the one before. */
function permittedLoad(input: DimmerFitInput): { value: number; by: DimmerFit['permittedBy'] } {
  const { rating, sidesRemoved, ratingOneSide, ratingBothSides } = input
  const full = rating.value
  // A low-voltage dimmer has no side sections.
  if (sidesRemoved === 0 || rating.unit === 'A') return { value: full, by: 'rating' }
  if (sidesRemoved === 1) {
    const habit = Math.max(full * shareWithOneSideRemoved, ratingBothSides ?? 0)
    const by = ratingOneSide === undefined ? 'common-practice' : 'instructions'
    return { value: Math.min(full, ratingOneSide ?? habit), by }
  }
  const by = ratingBothSides === undefined ? 'common-practice' : 'instructions'
  const both = ratingBothSides ?? full * shareWithBothSidesRemoved
  return { value: Math.min(full, ratingOneSide ?? full, both), by }
}

function minimumCheck({ rating, driversW, minimumW }: DimmerFitInput): DimmerFit['minimum'] {
  if (minimumW === undefined || (rating.unit === 'A' && driversW.length === 0)) return null
  const loadW = driversW.reduce((sum, watts) => sum + watts, 0)
  const met = atLeast(loadW, minimumW)
  return { met, loadW, missingW: met ? 0 : minimumW - loadW }
}

function kindMatch({ dimmerKind, driverDimming, heldAtFull = false }: DimmerFitInput): DimmerFit['match'] {
  if (dimmerKind === undefined || driverDimming === undefined) return null
  const atFull = dimmerKind === 'low-voltage-pwm' && heldAtFull
  return {
    matches: atFull || dimmingThatMatches[dimmerKind].includes(driverDimming),
    dimmingThatWould: [...dimmingThatMatches[dimmerKind]],
    dimmersThatWould: (Object.keys(dimmingThatMatches) as DimmerKind[]).filter((kind) =>
      dimmingThatMatches[kind].includes(driverDimming),
    ),
  }
}
