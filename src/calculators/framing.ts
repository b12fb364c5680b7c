import type { Rules } from '../quantities/systems'
import { atLeast, within } from './limit'

export type FramingUse = 'joist' | 'stud-bearing' | 'stud-bearing-doubled' | 'stud-other' | 'top-plate'
export type NotchPlace = 'end' | 'outer-third' | 'middle-third'

/** A round hole; `edgeDistanceM` from its edge to the nearest edge of the member, centred without it. */
export type Hole = { kind: 'hole'; diameterM: number; edgeDistanceM?: number | undefined }

/** A notch in an edge; without a place it is taken to lie in an outer third of the span. */
export type Notch = {
  kind: 'notch'
  depthM: number
  lengthM?: number | undefined
  place?: NotchPlace | undefined
}

export type FramingInput = {
  rules: Rules
  use: FramingUse
  /** Actual depth of the member (a plate's or a stud's wider side), m, 0.038–0.4. See `memberDepthM`. */
  depthM: number
  /** Without it, only what the member may have is worked out. */
  cut?: Hole | Notch | undefined
  /** Clear distance to the next hole or notch, m, >= 0. */
  otherHoleDistanceM?: number | undefined
  /** I-joists, laminated beams, trusses. */
  engineered: boolean
  /** iec joists: span between supports, m, > 0. */
  spanM?: number | undefined
  /** iec joists: middle of the hole or notch from one support, m, 0…span. */
  fromSupportM?: number | undefined
}

/** One rule that the cut was held against, lengths in m. */
export type FramingLimit = {
  id:
    | 'hole-diameter'
    | 'edge-left'
    | 'other-hole'
    | 'notch-depth'
    | 'notch-length'
    | 'off-centre-line'
    | 'hole-zone-from'
    | 'hole-zone-to'
    | 'notch-zone-from'
    | 'notch-zone-to'
    | 'joist-depth'
  value: number
  limit: number
  sense: 'at-most' | 'at-least'
}

export type FramingReason =
  | FramingLimit['id']
  /** Only the maker's sheet says where engineered timber may be cut. */
  | 'engineered'
  /** No notch in the middle third of a joist. */
  | 'notch-in-middle-third'
  /** A hole of a stud beside a notch or another hole, in the same section. */
  | 'same-section'
  /** The hole or notch runs out of the member. */
  | 'through-the-edge'
  /** These rules give no figure for this member: whoever designs the structure has to. */
  | 'no-figure'

export type FramingNeed =
  /** Nobody said where along its span the joist is cut, so whether it may be cut there is not judged. */
  | 'place-along-span'
  /** A metal tie across a top plate that is cut by more than half. */
  | 'top-plate-tie'

export type Framing = {
  /** Null when there is no cut to judge, or no rule to judge it by. */
  allowed: boolean | null
  reasons: FramingReason[]
  needs: FramingNeed[]
  limits: FramingLimit[]
  /** Null where the rules give no figure, as for a joist deeper than they cover; 0 where they allow none. */
  largestHoleM: number | null
  /** The same, wide enough from both edges to need no steel plate. */
  largestHoleWithoutPlateM: number | null
  /** Timber that has to stay beside the hole; null where it has to lie on the centre line. */
  edgeNeededM: number | null
  /** Timber left at the thinner side of the hole; below 0 when it runs out of the member. */
  edgeLeftM: number | null
  deepestNotchM: number | null
  /** Null where the rules give no figure. */
  longestNotchM: number | null
  /** Steel plates (or other protection) for this cut; null without a cut. */
  platesNeeded: number | null
}

/** What a member may have by a set of rules, lengths in m. */
type Allowance = {
  largestHoleM: number
  edgeNeededM: number | null
  deepestNotchM: number
  longestNotchM: number | null
  /** Clear distance to the next hole or notch for a hole of this diameter. */
  otherHoleM: (diameterM: number) => number | null
  clearOfPlateM: number
}

const inch = 0.0254
/** A tape measure is read to this. */
const centreLineToleranceM = 0.001

/**
 * Whether a member may have this hole or notch, what it may have at most, and how many steel plates the cables need.
 *
 * IRC 2021 R502.8.1 (joists), R502.8.2 (engineered), R602.6 (studs), R602.6.1 (top plates); plates by NFPA 70-2023
 * 300.4(A). Under `iec`, joists by UK guidance (Approved Document A, BS 8103-3) and BS 7671 522.6; it has no figure
 * for studs and plates.
 *
 * @example
 * framing({ rules: 'nec', use: 'joist', depthM: 5.5 * 0.0254, engineered: false,
 *   cut: { kind: 'hole', diameterM: 1.4 * 0.0254, edgeDistanceM: 2.5 * 0.0254 } })
 * // not allowed: only 1.6 in is left on the other side
 */
export function framing(input: FramingInput): Framing {
  if (input.engineered) return withoutFigures(false, 'engineered')
  if (input.rules === 'iec' && input.use !== 'joist') return withoutFigures(null, 'no-figure')
  const covers = atMost('joist-depth', input.depthM, deepestIecJoistM)
  if (input.rules === 'iec' && !holds(covers))
    return { ...withoutFigures(input.cut === undefined ? null : false, 'joist-depth'), limits: [covers] }
  const allowance = input.rules === 'nec' ? necAllowance(input) : iecJoistAllowance(input.depthM)
  const { cut, depthM } = input
  const limits = cut === undefined ? [] : limitsOf(cut, allowance, input)
  const reasons = cut === undefined ? [] : reasonsAgainst(cut, limits, input)
  const { largestHoleM, edgeNeededM, deepestNotchM, longestNotchM, clearOfPlateM } = allowance
  return {
    allowed: cut === undefined ? null : reasons.length === 0,
    reasons,
    needs: needsOf(input),
    limits,
    largestHoleM,
    largestHoleWithoutPlateM: Math.min(largestHoleM, Math.max(0, depthM - 2 * clearOfPlateM)),
    edgeNeededM,
    edgeLeftM: cut?.kind === 'hole' ? Math.min(...sides(cut, depthM)) : null,
    deepestNotchM,
    longestNotchM,
    platesNeeded: cut === undefined ? null : platesOf(cut, depthM, clearOfPlateM),
  }
}

/** Deepest joist that the guidance followed under iec covers, m. */
const deepestIecJoistM = 0.25

const withoutFigures = (allowed: false | null, reason: FramingReason): Framing => ({
  allowed,
  reasons: [reason],
  needs: [],
  limits: [],
  largestHoleM: null,
  largestHoleWithoutPlateM: null,
  edgeNeededM: null,
  edgeLeftM: null,
  deepestNotchM: null,
  longestNotchM: null,
  platesNeeded: null,
})

function necAllowance({ use, depthM, cut }: FramingInput): Allowance {
  const clearOfPlateM = 1.25 * inch
  if (use === 'joist') {
    const edgeNeededM = 2 * inch
    return {
      largestHoleM: Math.max(0, Math.min(depthM / 3, depthM - 2 * edgeNeededM)),
      edgeNeededM,
      ...necJoistNotch(depthM, cut?.kind === 'notch' ? cut.place : undefined),
      otherHoleM: () => 2 * inch,
      clearOfPlateM,
    }
  }
  if (use === 'top-plate') {
    const half = depthM / 2
    return {
      largestHoleM: half,
      edgeNeededM: 0,
      deepestNotchM: half,
      longestNotchM: null,
      otherHoleM: () => null,
      clearOfPlateM,
    }
  }
  const edgeNeededM = 0.625 * inch
  const holeShare = use === 'stud-bearing' ? 0.4 : 0.6
  return {
    largestHoleM: Math.max(0, Math.min(depthM * holeShare, depthM - 2 * edgeNeededM)),
    edgeNeededM,
    deepestNotchM: depthM * (use === 'stud-other' ? 0.4 : 0.25),
    longestNotchM: null,
    otherHoleM: () => null,
    clearOfPlateM,
  }
}

function necJoistNotch(depthM: number, place: NotchPlace | undefined) {
  if (place === 'end') return { deepestNotchM: depthM / 4, longestNotchM: null }
  if (place === 'middle-third') return { deepestNotchM: 0, longestNotchM: 0 }
  return { deepestNotchM: depthM / 6, longestNotchM: depthM / 3 }
}

function iecJoistAllowance(depthM: number): Allowance {
  return {
    largestHoleM: depthM * 0.25,
    edgeNeededM: null,
    deepestNotchM: depthM * 0.125,
    longestNotchM: null,
    otherHoleM: (diameterM) => 3 * diameterM,
    clearOfPlateM: 0.05,
  }
}

const atMost = (id: FramingLimit['id'], value: number, limit: number): FramingLimit => {
  return { id, value, limit, sense: 'at-most' }
}
const noLess = (id: FramingLimit['id'], value: number, limit: number): FramingLimit => {
  return { id, value, limit, sense: 'at-least' }
}
const holds = ({ value, limit, sense }: FramingLimit): boolean =>
  sense === 'at-most' ? within(value, limit) : atLeast(value, limit)

function limitsOf(cut: Hole | Notch, allowance: Allowance, input: FramingInput): FramingLimit[] {
  const { rules, use, otherHoleDistanceM } = input
  const limits: FramingLimit[] = []
  // A top plate may be cut further, with a tie across it, so nothing here limits its size.
  if (use !== 'top-plate')
    limits.push(...(cut.kind === 'hole' ? holeLimits(cut, allowance, input) : notchLimits(cut, allowance)))
  const apart = allowance.otherHoleM(cut.kind === 'hole' ? cut.diameterM : 0)
  if (otherHoleDistanceM !== undefined && apart !== null)
    limits.push(noLess('other-hole', otherHoleDistanceM, apart))
  return rules === 'iec' ? [...limits, ...iecPlaceLimits(cut, input)] : limits
}

function holeLimits(hole: Hole, allowance: Allowance, { depthM }: FramingInput): FramingLimit[] {
  const [one, other] = sides(hole, depthM)
  const { edgeNeededM, largestHoleM } = allowance
  return [
    atMost('hole-diameter', hole.diameterM, largestHoleM),
    edgeNeededM === null
      ? atMost('off-centre-line', Math.abs(one - other) / 2, centreLineToleranceM)
      : noLess('edge-left', Math.min(one, other), edgeNeededM),
  ]
}

function notchLimits(
  { depthM, lengthM }: Notch,
  { deepestNotchM, longestNotchM }: Allowance,
): FramingLimit[] {
  const depth = atMost('notch-depth', depthM, deepestNotchM)
  if (lengthM === undefined || longestNotchM === null) return [depth]
  return [depth, atMost('notch-length', lengthM, longestNotchM)]
}

function iecPlaceLimits(
  { kind }: Hole | Notch,
  { depthM, spanM, fromSupportM }: FramingInput,
): FramingLimit[] {
  const depth = atMost('joist-depth', depthM, deepestIecJoistM)
  if (spanM === undefined || fromSupportM === undefined) return [depth]
  const fromNearerM = Math.min(fromSupportM, spanM - fromSupportM)
  return kind === 'hole'
    ? [
        depth,
        noLess('hole-zone-from', fromNearerM, 0.25 * spanM),
        atMost('hole-zone-to', fromNearerM, 0.4 * spanM),
      ]
    : [
        depth,
        noLess('notch-zone-from', fromNearerM, 0.07 * spanM),
        atMost('notch-zone-to', fromNearerM, 0.25 * spanM),
      ]
}

function reasonsAgainst(
  cut: Hole | Notch,
  limits: readonly FramingLimit[],
  { use, depthM, otherHoleDistanceM }: FramingInput,
): FramingReason[] {
  const reasons: FramingReason[] = limits.filter((limit) => !holds(limit)).map((limit) => limit.id)
  const left = cut.kind === 'hole' ? Math.min(...sides(cut, depthM)) : depthM - cut.depthM
  if (left <= 0) reasons.push('through-the-edge')
  if (use === 'joist' && cut.kind === 'notch' && cut.place === 'middle-third')
    reasons.push('notch-in-middle-third')
  if (use.startsWith('stud') && otherHoleDistanceM !== undefined && otherHoleDistanceM <= 0)
    reasons.push('same-section')
  return reasons
}

/** Timber left on both sides of a hole, m. */
function sides({ diameterM, edgeDistanceM }: Hole, depthM: number): [number, number] {
  const oneM = edgeDistanceM ?? (depthM - diameterM) / 2
  return [oneM, depthM - diameterM - oneM]
}

function needsOf({ rules, use, depthM, cut, spanM, fromSupportM }: FramingInput): FramingNeed[] {
  if (cut === undefined) return []
  const needs: FramingNeed[] = []
  const placeKnown =
    rules === 'iec'
      ? spanM !== undefined && fromSupportM !== undefined
      : cut.kind === 'hole' || cut.place !== undefined
  if (use === 'joist' && !placeKnown) needs.push('place-along-span')
  const cutM = cut.kind === 'hole' ? cut.diameterM : cut.depthM
  if (use === 'top-plate' && !within(cutM, depthM / 2)) needs.push('top-plate-tie')
  return needs
}

function platesOf(cut: Hole | Notch, depthM: number, clearM: number): number {
  if (cut.kind === 'notch') return 1
  return sides(cut, depthM).filter((side) => !atLeast(side, clearM)).length
}
