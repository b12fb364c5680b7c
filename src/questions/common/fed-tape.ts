import { capacityA, conductorOhmPerM, type Strands } from '../../calculators/conductor'
import type { Cable, CabledFeed } from '../../calculators/feed-layout'
import { within } from '../../calculators/limit'
import {
  countCutUnits,
  lightOf,
  solveTape,
  type TapeDesign,
  type TapeLight,
  type TapeSolution,
  type TapeStyle,
} from '../../calculators/tape-network'
import type { ConductorSize } from '../../quantities/conductor-size'
import type { Rules } from '../../quantities/systems'
import { tapeOf } from './tape-inputs'
import { type Judged, use } from './verdict'

/** A cable as it is given: without a distance there is none, without a gauge it is of the usual size. */
type GivenCable = { distance?: number | undefined; gauge?: ConductorSize | undefined }

/** Where a cable joins the tape. */
export type GivenFeed = GivenCable & { at: number }

/** A tape and all that feeds it, in the fixed JSON units. */
export type FedTapeValues = {
  rules: Rules
  voltage: number
  tapePower: number
  tapeLength: number
  cutLength: number
  tapeStyle: TapeStyle
  knee: number
  railResistance?: number | undefined
  copperWeight: number
  railWidth: number
  feeds: readonly GivenFeed[]
  trunk?: GivenCable | undefined
  sourceVoltage: number
  driverPower?: number | undefined
  conductorTemp: number
  evenness: number
  leastLight: number
}

export type FedTape = {
  design: TapeDesign
  feeds: CabledFeed[]
  trunk: Cable | undefined
  tape: TapeSolution
  light: TapeLight
  /** What the driver can give, A, when it is known. */
  driverA: number | undefined
  /** Past its limit the driver no longer holds its voltage, and no voltage along the tape can be told. */
  overloaded: boolean
}

/** The size that a cable is taken to have when nobody says. */
export const usualSize = ({ rules }: { rules: Rules }): ConductorSize =>
  rules === 'iec' ? { value: 1.5, unit: 'mm2' } : { value: 18, unit: 'AWG' }

/** How the conductors of a low-voltage cable are made. */
export const usualStrands = ({ rules }: { rules: Rules }): Strands =>
  rules === 'iec' ? 'flexible' : 'stranded'

/** Resistance of one conductor of a cable, ohm/m. */
export const cableOhmPerM = (size: ConductorSize, values: { rules: Rules; conductorTemp: number }): number =>
  conductorOhmPerM({ size, strands: usualStrands(values), temperatureC: values.conductorTemp }) ?? 0

/** Resistance of a cable, out and back, ohm. */
export const loopOhm = (cable: Cable, values: { rules: Rules; conductorTemp: number }): number =>
  2 * cable.distanceM * cableOhmPerM(cable.size, values)

const cableOf = ({ distance = 0, gauge }: GivenCable, values: FedTapeValues): Cable => ({
  distanceM: distance,
  size: gauge ?? usualSize(values),
})

/** The tape by its whole cut units, rails at 20 °C. */
export const designOf = (values: FedTapeValues): TapeDesign => ({
  ...tapeOf(values),
  lengthM: countCutUnits(values.tapeLength, values.cutLength) * values.cutLength,
})

/**
 * Solves a tape with its feeds and the cable they share; `railRise` is how many times their resistance at 20 °C the
 * rails have.
 */
export function solveFedTape(values: FedTapeValues, railRise = 1): FedTape {
  const cold = designOf(values)
  const design = { ...cold, railOhmPerM: cold.railOhmPerM * railRise }
  const feeds = values.feeds.map((feed) => ({ atM: feed.at, ...cableOf(feed, values) }))
  const trunk = values.trunk && cableOf(values.trunk, values)
  const tape = withoutNoise(
    solveTape(
      design,
      feeds.map((feed) => ({ atM: feed.atM, ohm: loopOhm(feed, values) })),
      { sourceV: values.sourceVoltage, trunkOhm: trunk ? loopOhm(trunk, values) : 0 },
    ),
  )
  const driverA = values.driverPower === undefined ? undefined : values.driverPower / values.voltage
  const overloaded = driverA !== undefined && !within(tape.sourceA, driverA)
  return { design, feeds, trunk, tape, light: lightOf(tape), driverA, overloaded }
}

/** Less light than this, in percent of rated, is no light that an eye would see. */
const darkPercent = 0.01

const withoutNoise = (tape: TapeSolution): TapeSolution => ({
  ...tape,
  lightPercent: tape.lightPercent.map((percent) => (percent < darkPercent ? 0 : percent)),
})

/** A cable that is there, and the current it carries. */
export type LoadedCable = Cable & { id: 'feedCapacity' | 'trunkCapacity'; amperes: number }

/** The cables that are there, feeds first; a feed without a cable is none. */
export const loadedCables = ({ feeds, trunk, tape }: FedTape): LoadedCable[] =>
  [
    ...feeds.map((feed, i): LoadedCable => ({ ...feed, id: 'feedCapacity', amperes: tape.feedA[i] ?? 0 })),
    ...(trunk ? [{ ...trunk, id: 'trunkCapacity' as const, amperes: tape.sourceA }] : []),
  ].filter(({ distanceM }) => distanceM > 0)

const judgedCable = ({ id, size, amperes }: LoadedCable): Judged => ({
  id,
  value: amperes,
  limit: capacityA(size)?.continuousA ?? 0,
  sense: 'at-most',
  unit: 'A',
})

/** The feed that uses most of its capacity, and the trunk. */
export function judgedCables(fed: FedTape): { cable: LoadedCable; judged: Judged }[] {
  const all = loadedCables(fed).map((cable) => ({ cable, judged: judgedCable(cable) }))
  const most = (id: LoadedCable['id']) =>
    all
      .filter(({ cable }) => cable.id === id)
      .sort((a, b) => use(b.judged) - use(a.judged))
      .slice(0, 1)
  return [...most('feedCapacity'), ...most('trunkCapacity')]
}

/** Every limit of a tape that is fed like this; past the driver's limit nothing else can be told. */
export function judgedFedTape(fed: FedTape, { evenness, leastLight }: FedTapeValues): Judged[] {
  const { tape, light, driverA, overloaded } = fed
  const driver: Judged[] =
    driverA === undefined
      ? []
      : [{ id: 'driver', value: tape.sourceA, limit: driverA, sense: 'at-most', unit: 'A' }]
  if (overloaded) return driver
  const { evennessPercent, dimmestPercent } = light
  return [
    { id: 'evenness', value: evennessPercent, limit: evenness, sense: 'at-least', unit: '%' },
    { id: 'brightness', value: dimmestPercent, limit: leastLight, sense: 'at-least', unit: '%' },
    ...judgedCables(fed).map(({ judged }) => judged),
    ...driver,
  ]
}
