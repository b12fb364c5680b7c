import type { ConductorSize } from '../quantities/conductor-size'
import type { Rules } from '../quantities/systems'
import { type Capacity, capacityA, conductorOhmPerM, type Strands, sizesFor } from './conductor'
import { atLeast, within } from './limit'
import { lightOf, solveTape, type TapeDesign, type TapeLight, type TapeSolution } from './tape-network'

/** A run of cable, one way, and its size. */
export type Cable = { distanceM: number; size: ConductorSize }

/** A feed by its place and its cable. */
export type CabledFeed = Cable & { atM: number }

/** A tape that wants a better feed layout than the one given. */
export type LayoutQuestion = {
  design: TapeDesign
  sourceV: number
  rules: Rules
  strands: Strands
  conductorTempC: number
  evennessPercent: number
  leastLightPercent: number
  /** A feed that is there: another feed's cable is as long as its own and the run along the tape between them. */
  given: CabledFeed
  /** The cable that all feeds share. */
  trunk?: Cable
}

/** A layout that does, and the tape with it. */
export type FeedLayout = { feeds: CabledFeed[]; trunk?: Cable; solution: TapeSolution; light: TapeLight }

const mostFeeds = 6

/**
 * The cheapest feed layout that keeps evenness, least light and the capacity of every cable: one end, the middle,
 * both ends, then two to six feeds each in the middle of its share; if none does, the same with heavier cable.
 *
 * @returns `undefined` when none of these does
 */
export function cheapestFeedLayout(question: LayoutQuestion): FeedLayout | undefined {
  const sizes = sizesFor(question.rules).filter(
    (size) => question.strands === 'flexible' || !capacityA(size)?.flexibleOnly,
  )
  const first = sizes.findIndex((size) => size.value === question.given.size.value)
  for (const size of sizes.slice(Math.max(0, first))) {
    for (const placesM of feedPlacesM(question.design.lengthM)) {
      const layout = tryLayout(question, size, placesM)
      if (layout) return layout
    }
  }
  return undefined
}

/** Where the feeds sit in each layout, cheapest first, m. */
export function feedPlacesM(lengthM: number): number[][] {
  const shared = Array.from({ length: mostFeeds - 1 }, (_, more) =>
    Array.from({ length: more + 2 }, (_, i) => ((i + 0.5) / (more + 2)) * lengthM),
  )
  return [[0], [lengthM / 2], [0, lengthM], ...shared]
}

function tryLayout(question: LayoutQuestion, size: ConductorSize, placesM: number[]): FeedLayout | undefined {
  const { design, given, sourceV, strands, conductorTempC } = question
  const loopOhm = (cable: Cable): number =>
    2 * cable.distanceM * (conductorOhmPerM({ size: cable.size, strands, temperatureC: conductorTempC }) ?? 0)
  const carries = (cable: Cable, amperes: number): boolean =>
    cable.distanceM === 0 || within(amperes, (capacityA(cable.size) as Capacity).continuousA)

  const feeds = placesM.map((atM) => ({ atM, distanceM: given.distanceM + Math.abs(atM - given.atM), size }))
  const trunk = question.trunk && heavier(question.trunk, size)
  const solution = solveTape(
    design,
    feeds.map((feed) => ({ atM: feed.atM, ohm: loopOhm(feed) })),
    { sourceV, trunkOhm: trunk ? loopOhm(trunk) : 0 },
  )
  const light = lightOf(solution)
  const does =
    atLeast(light.evennessPercent, question.evennessPercent) &&
    atLeast(light.dimmestPercent, question.leastLightPercent) &&
    feeds.every((feed, i) => carries(feed, solution.feedA[i] as number)) &&
    (!trunk || carries(trunk, solution.sourceA))
  return does ? { feeds, ...(trunk ? { trunk } : {}), solution, light } : undefined
}

/** A trunk is never thinner than the feeds it supplies. */
function heavier(cable: Cable, size: ConductorSize): Cable {
  const thicker = (capacityA(size)?.overcurrentA ?? 0) > (capacityA(cable.size)?.overcurrentA ?? 0)
  return thicker ? { ...cable, size } : cable
}
