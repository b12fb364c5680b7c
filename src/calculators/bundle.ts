import type { Rules, System } from '../quantities/systems'
import { type DrillBit, drillBitRules, drillBits } from '../tables/drill-bits'
import { emt, type Raceway, racewayRules } from '../tables/raceways'
import { packCircles } from './circle-packing'
import { within } from './limit'

/** So many round cables, or flat ones, which count as round by their larger side. Sizes 0.001–0.06 m. */
export type BundledCable =
  | { count: number; diameterM: number }
  | { count: number; widthM: number; heightM: number }

export type BundleInput = {
  /** Raceway rules are the NEC's; under iec there is no fill. */
  rules: Rules
  /** Whether bits come in inches or in millimetres. */
  system: System
  /** 1 to 30 cables in all. */
  cables: readonly BundledCable[]
  /** EMT trade size, as in the table (`3/4`); without one, the smallest that passes. */
  raceway?: string | undefined
  /** A raceway of at most 24 in, between boxes. */
  nipple: boolean
}

/** A cable in the bundle, its middle measured from the bundle's; `cable` is its place in the list given. */
export type PlacedCable = { cable: number; xM: number; yM: number; diameterM: number }

export type Bundle = { diameterM: number; placed: PlacedCable[] }

export type RacewayFit = {
  tradeSize: string
  innerDiameterM: number
  fillPercent: number
  fillLimitPercent: number
  /** Whether fill and bundle keep to it. */
  passes: boolean
}

export type BundleReason =
  /** The raceway given is fuller than table 1 allows. */
  | 'raceway-too-full'
  /** The cables do not go into the raceway given side by side. */
  | 'raceway-too-narrow'
  /** The raceway given is not in the table. */
  | 'raceway-not-in-table'
  /** No raceway of the table passes them. */
  | 'no-raceway'
  /** No bit of the list is wide enough. */
  | 'no-bit'

export type HoleFit = {
  /** A bit is wide enough and the raceway passes, where one was given. */
  allowed: boolean
  reasons: BundleReason[]
  bundle: Bundle
  /** Whether a flat cable was counted as round. */
  flatCounted: boolean
  /** The smallest bit of whose hole the bundle takes at most 80 %; null where none is wide enough. */
  bit: DrillBit | null
  /** Share of the bit's diameter that the bundle takes, %; null without a bit. */
  holePercent: number | null
  /** The smallest EMT that passes the cables, whatever is given; null under iec and where none does. */
  smallestRaceway: Raceway | null
  /** The raceway given, or else the smallest one; null under iec and where there is none. */
  raceway: RacewayFit | null
  /** Ratio of the widened raceway to one cable, for three alike in a raceway; else null. */
  jamRatio: { ratio: number; mayJam: boolean } | null
}

/**
 * What hole, and what raceway, passes these cables.
 *
 * The bundle is the smallest circle around them (see `packCircles`); the bit leaves it 80 % of the hole (common
 * practice). Raceways: EMT of NFPA 70-2023 chapter 9 table 4, filled as table 1 allows (one cable 53 %, two 31 %,
 * more 40 %, a nipple 60 %); a cable counts as one conductor, a flat one as round by its larger side (note 9).
 * Three alike can jam at 1.05·ID/OD from 2.8 to 3.2.
 *
 * @example
 * holeFit({ rules: 'nec', system: 'us', cables: [{ count: 3, diameterM: 0.007 }], nipple: false })
 * // bundle 15.1 mm; bit 3/4; raceway 3/4
 */
export function holeFit(input: BundleInput): HoleFit {
  const { rules, system, cables, nipple } = input
  const bundle = bundleOf(cables)
  const reasons: BundleReason[] = []
  const bit =
    drillBits[system].find(({ diameterM }) => within(bundle.diameterM, diameterM * largestShare)) ?? null
  if (!bit) reasons.push('no-bit')
  const withFit = rules === 'nec' ? emt.map((size) => fitIn(size, bundle, nipple)) : []
  const smallest = withFit.find(({ passes }) => passes)
  const given = withFit.find(({ tradeSize }) => tradeSize === input.raceway)
  const raceway = input.raceway === undefined ? smallest : given
  if (rules === 'nec') reasons.push(...racewayReasons(input.raceway, raceway, bundle))
  return {
    allowed: reasons.every((reason) => reason === 'no-raceway'),
    reasons,
    bundle,
    flatCounted: cables.some((cable) => 'widthM' in cable),
    bit,
    holePercent: bit && (bundle.diameterM / bit.diameterM) * 100,
    smallestRaceway: emt.find(({ tradeSize }) => tradeSize === smallest?.tradeSize) ?? null,
    raceway: raceway ?? null,
    jamRatio: raceway ? jamRatio(raceway.innerDiameterM, bundle) : null,
  }
}

const largestShare = drillBitRules.bundlePercent.value / 100

/**
 * How full a raceway may be, % of its section (NFPA 70-2023, chapter 9 table 1 and its note 4).
 *
 * @param cables how many, 1 or more
 * @param nipple at most 24 in long
 */
export function fillLimitPercent(cables: number, nipple: boolean): number {
  const { fillPercent } = racewayRules
  if (nipple) return fillPercent.nipple
  if (cables === 1) return fillPercent.one
  return cables === 2 ? fillPercent.two : fillPercent.more
}

const roundDiameterM = (cable: BundledCable): number =>
  'diameterM' in cable ? cable.diameterM : Math.max(cable.widthM, cable.heightM)

/**
 * The smallest circle around these cables; see `packCircles`.
 *
 * @param cables 1 to 30 in all
 * @param near a bundle of the same kinds, slightly thinner or thicker, or some more of them: a short search from there
 *   then does
 */
export function bundleOf(cables: readonly BundledCable[], near?: Bundle): Bundle {
  const each = cables.flatMap((cable, kind) => {
    const known = near?.placed.filter((placed) => placed.cable === kind)
    const diameterM = roundDiameterM(cable)
    return Array.from({ length: cable.count }, (_, i) => ({ kind, diameterM, known: known?.[i] }))
  })
  const { radius, positions } = packCircles(
    each.map(({ diameterM }) => diameterM / 2),
    near && each.map(({ known }) => known && { x: known.xM, y: known.yM }),
  )
  const placed = each.map(({ kind, diameterM }, i) => {
    const { x = 0, y = 0 } = positions[i] ?? {}
    return { cable: kind, xM: x, yM: y, diameterM }
  })
  return { diameterM: 2 * radius, placed }
}

function fitIn(
  { tradeSize, innerDiameterM }: Raceway,
  { placed, diameterM }: Bundle,
  nipple: boolean,
): RacewayFit {
  const fillPercent = placed.reduce((sum, cable) => sum + (cable.diameterM / innerDiameterM) ** 2, 0) * 100
  const limit = fillLimitPercent(placed.length, nipple)
  const passes = within(fillPercent, limit) && within(diameterM, innerDiameterM)
  return { tradeSize, innerDiameterM, fillPercent, fillLimitPercent: limit, passes }
}

function racewayReasons(
  given: string | undefined,
  fit: RacewayFit | undefined,
  bundle: Bundle,
): BundleReason[] {
  if (!fit) return [given === undefined ? 'no-raceway' : 'raceway-not-in-table']
  const reasons: BundleReason[] = []
  if (!within(fit.fillPercent, fit.fillLimitPercent)) reasons.push('raceway-too-full')
  if (!within(bundle.diameterM, fit.innerDiameterM)) reasons.push('raceway-too-narrow')
  return reasons
}

function jamRatio(innerDiameterM: number, { placed }: Bundle): HoleFit['jamRatio'] {
  const diametersM = placed.map(({ diameterM }) => diameterM)
  const [first = 0, ...others] = diametersM
  const alike = others.every((diameterM) => Math.abs(diameterM - first) <= 1e-9 * first)
  if (diametersM.length !== 3 || !alike) return null
  const ratio = (racewayRules.jamWidening.factor * innerDiameterM) / first
  const { from, to } = racewayRules.jamRatio
  return { ratio, mayJam: within(from, ratio) && within(ratio, to) }
}
