import {
  type Cable,
  type CabledFeed,
  cheapestFeedLayout,
  type FeedLayout,
} from '../../calculators/feed-layout'
import { within } from '../../calculators/limit'
import { countUnits, type TapeDesign } from '../../calculators/tape-network'
import { printConductorSize } from '../../quantities/conductor-size'
import { driverSizes } from '../../tables/driver-sizes'
import { type FedTape, type FedTapeValues, type GivenFeed, judgedFedTape, usualStrands } from './fed-tape'
import { verdictOf } from './verdict'

/** A layout, and the driver it takes, W, where the one that is there is too small for it. */
export type BetterLayout = FeedLayout & { driverW?: number }

/**
 * The cheapest feed layout that keeps evenness, least light and every cable's capacity, grown from the feed with the
 * shortest cable; none where no driver is sold for it, or where what is there does with no more feeds.
 */
export function betterLayout(fed: FedTape, values: FedTapeValues): BetterLayout | undefined {
  const { design, feeds, trunk, driverA } = fed
  const [first, ...others] = feeds
  if (!first) return undefined
  const found = cheapestFeedLayout({
    design,
    sourceV: values.sourceVoltage,
    rules: values.rules,
    strands: usualStrands(values),
    conductorTempC: values.conductorTemp,
    evennessPercent: values.evenness,
    leastLightPercent: values.leastLight,
    given: others.reduce((nearest, feed) => (feed.distanceM < nearest.distanceM ? feed : nearest), first),
    ...(trunk ? { trunk } : {}),
  })
  if (!found) return undefined
  const layout = { ...found, feeds: found.feeds.map((feed) => atItsMark(feed, design)) }
  const does = verdictOf(judgedFedTape(fed, values)) !== 'fails'
  if (does && layout.feeds.length >= feeds.length) return undefined
  const { sourceA } = layout.solution
  if (driverA === undefined || within(sourceA, driverA)) return layout
  const driverW = soldDriverW(sourceA * values.voltage)
  return does || driverW === undefined ? undefined : { ...layout, driverW }
}

/** Tape is joined on its marks: a feed between two stands at the one before, which is the same unit. */
const atItsMark = (feed: CabledFeed, { cutLengthM }: TapeDesign): CabledFeed => ({
  ...feed,
  atM: countUnits(feed.atM, cutLengthM) * cutLengthM,
})

/** The next commonly sold driver that gives so many watts; none when there is none so large. */
export const soldDriverW = (watts: number): number | undefined =>
  driverSizes.ratingsW.find((size) => within(watts, size))

/** A length as it may be typed, to a tenth of a millimetre. */
const typed = (lengthM: number): string => `${Number(lengthM.toFixed(4))} m`

const cableInput = ({ distanceM, size }: Cable): Record<string, string> =>
  distanceM > 0 ? { distance: typed(distanceM), gauge: printConductorSize(size) } : {}

/** A layout as it may be typed. */
export const layoutInputs = ({ feeds, trunk, driverW }: BetterLayout): Record<string, unknown> => ({
  ...(driverW === undefined ? {} : { driverPower: `${driverW} W` }),
  feeds: feeds.map((feed) => ({ at: typed(feed.atM), ...cableInput(feed) })),
  ...(trunk ? { trunk: { distance: typed(trunk.distanceM), gauge: printConductorSize(trunk.size) } } : {}),
})

/** A layout as the values of a question. */
export const layoutValues = ({ feeds, trunk, driverW }: BetterLayout) => ({
  feeds: feeds.map(
    ({ atM, distanceM, size }): GivenFeed =>
      distanceM > 0 ? { at: atM, distance: distanceM, gauge: size } : { at: atM },
  ),
  ...(trunk ? { trunk: { distance: trunk.distanceM, gauge: trunk.size } } : {}),
  ...(driverW === undefined ? {} : { driverPower: driverW }),
})
