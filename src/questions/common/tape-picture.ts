import * as z from 'zod/mini'
import prompts from '../../../prompts/en/tape-picture.yaml'
import type { Cable, CabledFeed } from '../../calculators/feed-layout'
import { lightOf, type TapeDesign, type TapeSolution } from '../../calculators/tape-network'
import { printConductorSize } from '../../quantities/conductor-size'
import { printLength, printQuantity } from '../../quantities/print'
import type { System } from '../../quantities/systems'
import { checkedSayer, readPrompts } from './words'

/** A tape at work, as it is drawn: plain numbers for the lines, and every text ready to stand beside them. */
export type TapePicture = {
  units: System
  lengthM: number
  /** At most 200, from one end to the other; the feeds, the ends, the lowest and the dimmest are always among them. */
  points: { atM: number; voltageV: number; lightPercent: number }[]
  source: { voltageV: number; text: string }
  /** The cable that all feeds share, when there is one. */
  trunk?: { distanceM: number; text: string }
  /** In the order in which they were given, which is their number. */
  feeds: { atM: number; distanceM: number; voltageV: number; voltageText: string; text: string }[]
  lowest: { atM: number; voltageV: number; text: string }
  dimmest: { atM: number; lightPercent: number; text: string }
  /** The first and the last unit. */
  ends: { atM: number; voltageText: string }[]
  /** The least light that is asked for, in percent of rated. */
  limits: { id: 'leastLight' | 'evenness'; lightPercent: number; text: string }[]
  words: Record<'title' | 'description' | 'voltage' | 'light' | 'position' | 'layout', string>
}

/** What is to be drawn. */
export type TapeShown = {
  design: TapeDesign
  /** A feed of no distance has no cable. */
  feeds: readonly CabledFeed[]
  trunk?: Cable
  /** V at the driver. */
  sourceV: number
  /** Of these feeds, in this order. */
  solution: TapeSolution
  evennessPercent: number
  leastLightPercent: number
  units: System
}

const needs = {
  title: [],
  description: [
    'length',
    'lowest',
    'lowestAt',
    'highest',
    'dimmest',
    'dimmestAt',
    'brightest',
    'limits',
    'source',
    'cables',
  ],
  voltage: [],
  light: [],
  layout: [],
  'position.us': [],
  'position.metric': [],
  driver: ['source'],
  'limit.leastLight': ['limit'],
  'limit.evenness': ['evenness'],
  dimmest: ['light'],
  lowest: ['voltage'],
  feed: ['number', 'distance', 'size', 'current', 'voltage'],
  'feed.noCable': ['number', 'current', 'voltage'],
  'feed.at': ['cable', 'at'],
  trunk: ['distance', 'size', 'current'],
  'trunk.at': ['cable'],
} as const

const { sentences } = readPrompts(prompts, z.strictObject({ sentences: z.record(z.string(), z.string()) }))

const say = checkedSayer(prompts, sentences, CHECKING && needs)

const volts = (value: number): string => printQuantity(value, 'V', { rounding: 'down' })
const percent = (value: number): string => printQuantity(value, '%', { rounding: 'down' })
const amperes = (value: number): string => printQuantity(value, 'A', { rounding: 'up' })

/** How many points of a long tape are drawn, beside those that must be. */
const mostEvenPoints = 170

/**
 * The drawing of a tape: voltage and light against position, and the layout of its cables.
 *
 * @param shown a tape of at least one unit with at least one feed, and its solution
 */
export function tapePicture(shown: TapeShown): TapePicture {
  const { design, solution, units, sourceV } = shown
  const { unitV, lightPercent } = solution
  const at = (unit: number): number => (unit + 0.5) * design.cutLengthM
  const lengthM = unitV.length * design.cutLengthM
  const lowest = indexOfLeast(unitV)
  const dimmest = indexOfLeast(lightPercent)
  const feeds = feedsOf(shown)
  const kept = [lowest, dimmest, ...feeds.map(({ unit }) => unit)]
  const picture = {
    units,
    lengthM,
    points: drawnUnits(unitV.length, kept).map((unit) => ({
      atM: at(unit),
      voltageV: unitV[unit] ?? 0,
      lightPercent: lightPercent[unit] ?? 0,
    })),
    source: { voltageV: sourceV, text: say('driver', { source: volts(sourceV) }) },
    ...(shown.trunk ? { trunk: trunkOf(shown.trunk, shown) } : {}),
    feeds: feeds.map(({ unit: _, ...feed }) => feed),
    lowest: {
      atM: at(lowest),
      voltageV: unitV[lowest] ?? 0,
      text: say('lowest', { voltage: volts(unitV[lowest] ?? 0) }),
    },
    dimmest: {
      atM: at(dimmest),
      lightPercent: lightPercent[dimmest] ?? 0,
      text: say('dimmest', { light: percent(lightPercent[dimmest] ?? 0) }),
    },
    ends: [0, unitV.length - 1].map((unit) => ({ atM: at(unit), voltageText: volts(unitV[unit] ?? 0) })),
    limits: limitsOf(shown),
  }
  return { ...picture, words: wordsOf(describe(picture, shown), units) }
}

const wordsOf = (description: string, units: System): TapePicture['words'] => ({
  title: say('title', {}),
  description,
  voltage: say('voltage', {}),
  light: say('light', {}),
  position: say(`position.${units}`, {}),
  layout: say('layout', {}),
})

function limitsOf({ solution, leastLightPercent, evennessPercent }: TapeShown): TapePicture['limits'] {
  const evenPercent = (evennessPercent * lightOf(solution).brightestPercent) / 100
  return [
    {
      id: 'leastLight',
      lightPercent: leastLightPercent,
      text: say('limit.leastLight', { limit: percent(leastLightPercent) }),
    },
    {
      id: 'evenness',
      lightPercent: evenPercent,
      text: say('limit.evenness', { evenness: percent(evennessPercent) }),
    },
  ]
}

function feedsOf({ feeds, design, solution, units }: TapeShown) {
  const count = solution.unitV.length
  const lengthM = count * design.cutLengthM
  return feeds.map(({ atM, distanceM, size }, i) => {
    const number = String(i + 1)
    const current = amperes(solution.feedA[i] ?? 0)
    const unit = Math.min(count - 1, Math.floor(atM / design.cutLengthM + 1e-6))
    const voltageV = solution.unitV[unit] ?? 0
    const text =
      distanceM > 0
        ? say('feed', {
            number,
            distance: length(distanceM, units),
            size: printConductorSize(size),
            current,
            voltage: volts(voltageV),
          })
        : say('feed.noCable', { number, current, voltage: volts(voltageV) })
    return { atM: Math.min(atM, lengthM), distanceM, unit, voltageV, voltageText: volts(voltageV), text }
  })
}

const trunkOf = ({ distanceM, size }: Cable, { solution, units }: TapeShown) => ({
  distanceM,
  text: say('trunk', {
    distance: length(distanceM, units),
    size: printConductorSize(size),
    current: amperes(solution.sourceA),
  }),
})

const length = (lengthM: number, units: System): string => printLength(lengthM, units, 'nearest')

/** The drawing in words, for those who do not see it. */
function describe(
  { lengthM, source, lowest, dimmest, feeds, trunk, limits }: Omit<TapePicture, 'words'>,
  { solution, units }: TapeShown,
): string {
  const cables = feeds.map(({ atM, text }) => say('feed.at', { cable: text, at: length(atM, units) }))
  return say('description', {
    length: length(lengthM, units),
    lowest: volts(lowest.voltageV),
    lowestAt: length(lowest.atM, units),
    highest: volts(greatest(solution.unitV)),
    dimmest: percent(dimmest.lightPercent),
    dimmestAt: length(dimmest.atM, units),
    brightest: percent(greatest(solution.lightPercent)),
    limits: limits.map(({ text }) => text).join(', '),
    source: source.text,
    cables: [...(trunk ? [say('trunk.at', { cable: trunk.text })] : []), ...cables].join(' '),
  })
}

const greatest = (values: Float64Array): number => values.reduce((most, value) => Math.max(most, value), 0)

const indexOfLeast = (values: Float64Array): number =>
  values.reduce((least, value, at) => (value < (values[least] ?? 0) ? at : least), 0)

/** The units that are drawn: evenly spread ones, both ends, and those that must be there. */
function drawnUnits(count: number, kept: readonly number[]): number[] {
  const step = Math.ceil(count / mostEvenPoints)
  const even = Array.from({ length: Math.ceil(count / step) }, (_, i) => i * step)
  return [...new Set([...even, ...kept, count - 1])].sort((a, b) => a - b)
}
