import { allowanceIn3, cableGroundGauge } from '../tables/boxes'
import type { Cable } from '../tables/cable-codes'
import { within } from './limit'

export type Edition = '2017' | '2020' | '2023'
export type ConductorKind = 'hot' | 'neutral' | 'ground' | 'isolated-ground' | 'through' | 'pigtail'
export type SupportFitting = 'stud' | 'hickey'

/** Loose conductors, counted where they enter the box; a pigtail does not leave it and takes no room. */
export type BoxConductors = { gauge: number; count: number; kind: ConductorKind }

/** Conductors that pass uncut; `long` leaves a loop of 12 in or more. */
export type LoopedConductors = { gauge: number; count: number; long: boolean }

/** A device on its yoke. */
export type BoxDevice = {
  /** Largest conductor on it, AWG; without it, the largest in the box. */
  gauge?: number | undefined
  /** Gangs that it takes to mount; one unless said, two at least when it is `wide`. */
  gangs?: number | undefined
  /** Wider than 2 in. */
  wide?: boolean | undefined
}

export type BoxFillInput = {
  /** Volume of the box, in³, > 0. */
  boxIn3: number
  cables?: readonly Omit<Cable, 'groundGauge'>[] | undefined
  conductors?: readonly BoxConductors[] | undefined
  looped?: readonly LoopedConductors[] | undefined
  devices?: readonly BoxDevice[] | undefined
  /** Cable clamps inside the box. */
  clamps: boolean
  supportFittings?: readonly SupportFitting[] | undefined
  /** For each terminal block, the largest conductor on it, AWG. */
  terminalBlocks?: readonly number[] | undefined
  /**
   * Isolated grounding conductors beside those in `cables` and `conductors`, of unknown gauge: taken as the ground of
   * the largest conductor in the box, so that one more cable can never make them thinner.
   */
  isolatedGrounds?: number | undefined
  edition: Edition
}

export type FillKind =
  | 'conductors'
  | 'through'
  | 'long-loops'
  | 'clamps'
  | 'support-fittings'
  | 'devices'
  | 'grounds'
  | 'isolated-grounds'
  | 'terminal-blocks'

/** What one kind of thing takes of the box: `allowances` of the volume that a conductor of `gauge` counts. */
export type FillRow = { kind: FillKind; gauge: number; count: number; allowances: number; volumeIn3: number }

/** A volume in both units that are printed; sums are made in in³, where they are exact. */
export type Volume = { in3: number; cm3: number }

export type BoxFill =
  | {
      ok: true
      fits: boolean
      rows: FillRow[]
      /** Allowances of all rows together. */
      allowances: number
      required: Volume
      box: Volume
      /** Below 0 when it does not fit. */
      spare: Volume
      /** Terminal blocks that the edition does not count, as it came with 2023. */
      uncountedTerminalBlocks: number
    }
  /** Gauges that NEC table 314.16(B)(1) does not have; thicker than 6 AWG is sized by 314.28. */
  | { ok: false; fault: 'gauge-not-in-table'; gauges: number[] }

/** So many conductors of one gauge, entering the box. */
type Conductors = { gauge: number; count: number }

const cm3PerIn3 = 16.387064
const groundsInOneAllowance = 4
const allowanceOfEachFurtherGround = 0.25

/**
 * How much of a box its contents take (NFPA 70-2023, 314.16(B); with the ground rules of 2020 and 2017).
 *
 * Each conductor that ends, is spliced or passes counts 1 of its gauge, a long loop 2, a pigtail nothing. Internal
 * clamps count 1 together and each type of support fitting 1, of the largest conductor in the box. A device counts 2
 * of the largest conductor on it; one wider than 2 in, 2 for each gang. Up to four grounds count 1 of the largest
 * ground, each further one a quarter (2017: all of them 1, an isolated set 1 more). A terminal block counts 1 (2023).
 *
 * @returns the rows in the order of 314.16(B), or the gauges that the table does not have
 *
 * @example
 * boxFill({ boxIn3: 15.5, clamps: true, edition: '2023', cables: [
 *   { count: 1, gauge: 14, insulated: 3, ground: true, isolatedGround: false },
 *   { count: 1, gauge: 14, insulated: 2, ground: true, isolatedGround: false },
 * ] }) // required 14 in³: it fits, with 1.5 in³ to spare
 */
export function boxFill(input: BoxFillInput): BoxFill {
  const unknown = gaugesIn(input).filter((gauge) => allowanceIn3(gauge) === undefined)
  if (unknown.length > 0) return { ok: false, fault: 'gauge-not-in-table', gauges: [...new Set(unknown)] }
  const rows = [
    ...conductorRows('conductors', ending(input), 1),
    ...conductorRows('through', passing(input), 1),
    ...conductorRows(
      'long-loops',
      (input.looped ?? []).filter(({ long }) => long),
      2,
    ),
    ...fittingRows(input),
    ...deviceRows(input),
    ...groundRows(input),
    ...terminalRows(input),
  ]
  const requiredIn3 = rows.reduce((sum, row) => sum + row.volumeIn3, 0)
  return {
    ok: true,
    fits: within(requiredIn3, input.boxIn3),
    rows,
    allowances: rows.reduce((sum, row) => sum + row.allowances, 0),
    required: volume(requiredIn3),
    box: volume(input.boxIn3),
    spare: volume(input.boxIn3 - requiredIn3),
    uncountedTerminalBlocks: input.edition === '2023' ? 0 : (input.terminalBlocks?.length ?? 0),
  }
}

const volume = (in3: number): Volume => ({ in3, cm3: in3 * cm3PerIn3 })

const row = (kind: FillKind, gauge: number, count: number, allowances: number): FillRow => ({
  kind,
  gauge,
  count,
  allowances,
  volumeIn3: allowances * (allowanceIn3(gauge) ?? 0),
})

/** One row for each gauge, thickest first. */
function conductorRows(kind: FillKind, conductors: readonly Conductors[], allowancesEach: number): FillRow[] {
  const counts = new Map<number, number>()
  for (const { gauge, count } of conductors) counts.set(gauge, (counts.get(gauge) ?? 0) + count)
  return [...counts]
    .filter(([, count]) => count > 0)
    .sort(([one], [other]) => one - other)
    .map(([gauge, count]) => row(kind, gauge, count, count * allowancesEach))
}

const ofKinds = ({ conductors = [] }: BoxFillInput, kinds: readonly ConductorKind[]): Conductors[] =>
  conductors.filter(({ kind }) => kinds.includes(kind))

const ending = (input: BoxFillInput): Conductors[] => [
  ...(input.cables ?? []).map(({ gauge, count, insulated }) => ({ gauge, count: count * insulated })),
  ...ofKinds(input, ['hot', 'neutral']),
]

const passing = (input: BoxFillInput): Conductors[] => [
  ...(input.looped ?? []).filter(({ long }) => !long),
  ...ofKinds(input, ['through']),
]

const grounds = (input: BoxFillInput): Conductors[] => [
  ...(input.cables ?? [])
    .filter(({ ground }) => ground)
    .map(({ gauge, count }) => ({ gauge: cableGroundGauge(gauge), count })),
  ...ofKinds(input, ['ground']),
]

function isolatedGrounds(input: BoxFillInput): Conductors[] {
  const own = [
    ...(input.cables ?? [])
      .filter(({ isolatedGround }) => isolatedGround)
      .map(({ gauge, count }) => ({ gauge: cableGroundGauge(gauge), count })),
    ...ofKinds(input, ['isolated-ground']),
  ]
  const inBox = largestInBox(input)
  if (inBox === undefined) return own
  return [...own, { gauge: cableGroundGauge(inBox), count: input.isolatedGrounds ?? 0 }]
}

/** The thickest gauge of those present, which is the smallest number. */
function largest(conductors: readonly Conductors[]): number | undefined {
  const present = conductors.filter(({ count }) => count > 0).map(({ gauge }) => gauge)
  return present.length > 0 ? Math.min(...present) : undefined
}

/** The largest conductor in the box, pigtails and grounds with the rest. */
function largestInBox(input: BoxFillInput): number | undefined {
  const named = [
    ...(input.devices ?? []).flatMap(({ gauge }) => gauge ?? []),
    ...(input.terminalBlocks ?? []),
  ]
  return largest([
    ...ending(input),
    ...(input.looped ?? []),
    ...(input.conductors ?? []),
    ...grounds(input),
    ...named.map((gauge) => ({ gauge, count: 1 })),
  ])
}

function fittingRows(input: BoxFillInput): FillRow[] {
  const gauge = largestInBox(input)
  if (gauge === undefined) return []
  const types = new Set(input.supportFittings).size
  return [
    ...(input.clamps ? [row('clamps', gauge, 1, 1)] : []),
    ...(types > 0 ? [row('support-fittings', gauge, types, types)] : []),
  ]
}

/** One row for each gauge; a device that says none takes the largest conductor in the box. */
function deviceRows(input: BoxFillInput): FillRow[] {
  const inBox = largestInBox(input)
  const rows = new Map<number, FillRow>()
  for (const { gauge = inBox, wide = false, gangs = 1 } of input.devices ?? []) {
    if (gauge === undefined) continue
    // No device wider than 2 in mounts in a single gang, whatever is said.
    const mounted = wide ? Math.max(2, gangs) : gangs
    const before = rows.get(gauge)
    // What takes several gangs to mount is wider than 2 in, so that each of them counts.
    rows.set(gauge, row('devices', gauge, (before?.count ?? 0) + 1, (before?.allowances ?? 0) + 2 * mounted))
  }
  return [...rows.values()].sort((one, other) => one.gauge - other.gauge)
}

function groundRows(input: BoxFillInput): FillRow[] {
  const plain = grounds(input)
  const isolated = isolatedGrounds(input)
  if (input.edition === '2017') {
    return [...setOfGrounds('grounds', plain), ...setOfGrounds('isolated-grounds', isolated)]
  }
  const all = [...plain, ...isolated]
  const gauge = largest(all)
  if (gauge === undefined) return []
  const count = all.reduce((sum, each) => sum + each.count, 0)
  const further = Math.max(0, count - groundsInOneAllowance)
  return [row('grounds', gauge, count, 1 + further * allowanceOfEachFurtherGround)]
}

function setOfGrounds(kind: FillKind, set: readonly Conductors[]): FillRow[] {
  const gauge = largest(set)
  const count = set.reduce((sum, each) => sum + each.count, 0)
  return gauge === undefined ? [] : [row(kind, gauge, count, 1)]
}

function terminalRows({ terminalBlocks = [], edition }: BoxFillInput): FillRow[] {
  if (edition !== '2023') return []
  return conductorRows(
    'terminal-blocks',
    terminalBlocks.map((gauge) => ({ gauge, count: 1 })),
    1,
  )
}

function gaugesIn(input: BoxFillInput): number[] {
  return [
    ...[...(input.cables ?? []), ...(input.conductors ?? []), ...(input.looped ?? [])].map(
      ({ gauge }) => gauge,
    ),
    ...(input.devices ?? []).flatMap(({ gauge }) => gauge ?? []),
    ...(input.terminalBlocks ?? []),
  ]
}
