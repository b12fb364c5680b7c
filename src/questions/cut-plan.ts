import prompts from '../../prompts/en/cut-plan.yaml'
import {
  type CutPlan,
  type CutPlanInputs,
  type OpeningPlan,
  cutPlan as planOf,
  type Stock,
  type StockPlan,
} from '../calculators/cut-plan'
import { roughSearch } from '../calculators/packing'
import { printLength } from '../quantities/print'
import type { System } from '../quantities/systems'
import { assumed, list, quantity, required, yesNo } from './common/fields'
import { chosenSettings } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { asInputs, type Composition, defineQuestion, type Step } from './common/question'
import type { Values } from './common/read-inputs'
import { inWords } from './common/shared-words'
import type { Judged } from './common/verdict'
import { questionWordsOf } from './common/words'

const inputs = {
  openings: required(list(quantity('length', 0.01, 50), 1, 200)),
  cutLength: required(quantity('length', 0.005, 0.5)),
  reelLength: assumed(quantity('length', 0.5, 100), 5),
  channelLength: assumed(quantity('length', 0.3, 6), 2),
  kerf: assumed(quantity('length', 0, 0.01), 0.003),
  endClearance: assumed(quantity('length', 0, 0.5), 0),
  joinTape: assumed(yesNo(), false),
}

type Inputs = Values<typeof inputs>

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['reels', 'channels', 'tape', 'tapeWaste', 'channelWaste'],
    limits: ['fewestReels', 'fewestChannels', 'reel'],
    sentences: {
      'headline.buy': ['reels', 'channels', 'tape', 'more'],
      'headline.nothing': [],
      'headline.tooLong': ['opening', 'tape', 'reel', 'pieces', 'reels', 'channels'],
      'more.proven': [],
      'more.unproven': ['reels', 'channels'],
      'more.gap': ['gap', 'opening'],
      'more.short': ['openings'],
      'more.joined': ['opening', 'pieces'],
      'says.buy': ['reels', 'channels'],
      'says.tooLong': [],
      'reel.one': [],
      'reel.many': ['count'],
      'channel.one': [],
      'channel.many': ['count'],
      'stock.reel': ['number'],
      'stock.reels': ['from', 'to'],
      'stock.channel': ['number'],
      'stock.channels': ['from', 'to'],
      'stock.opening': ['number'],
      'cut.tape': ['length', 'units'],
      'cut.from': ['what', 'length'],
      'cut.none': [],
      'cut.piece': ['opening', 'length'],
      'cut.pieceUnits': ['opening', 'length', 'units'],
      'picture.openings': [],
      'picture.reels': [],
      'picture.channels': [],
      'picture.opening': ['opening', 'tape', 'gap'],
      'picture.openingDark': ['opening'],
      'picture.stock': ['stock', 'left'],
      'picture.more': ['count'],
      'picture.described': ['what', 'rows'],
    },
    cautions: ['off-first', 'marks', 'wet-seal', 'joint', 'both-ends', 'hide-gap'],
    working: ['opening', 'reels', 'channels', 'tapeWaste', 'channelWaste'],
    columns: ['what', 'left', 'cut'],
    faults: [],
  },
)

/** One bar of the drawing: pieces from its left end, the rest left empty. */
export type CutPlanBar = {
  text: string
  lengthM: number
  /** Where the first piece begins, m from the left end. */
  startM: number
  pieces: { lengthM: number; label: string }[]
}

/** What the drawing of this answer needs: openings, reels and channels, each a list of bars with texts ready. */
export type CutPlanPicture = {
  sections: {
    id: 'openings' | 'reels' | 'channels'
    title: string
    description: string
    more: string
    bars: CutPlanBar[]
  }[]
}

/** More bars than this in one part of the drawing help nobody; the cutting list has them all. */
const mostBars = 40

/** Beyond so many openings, how far each may grow is neither quick to find nor short to read. */
const mostOpeningsWithRoom = 16

/** Beyond so many different openings, the working of each says nothing new. */
const mostOpeningsWorked = 10

const askedOf = (values: Inputs): CutPlanInputs => ({
  openingsM: values.openings,
  cutLengthM: values.cutLength,
  reelLengthM: values.reelLength,
  channelLengthM: values.channelLength,
  kerfM: values.kerf,
  endClearanceM: values.endClearance,
  joinTape: values.joinTape,
})

const solve = (values: Inputs): CutPlan => planOf(askedOf(values))

const both = (lengthM: number, { units }: Inputs): string => printValue(lengthM, 'm', units, 'down')

/** One system only, where many lengths stand side by side. */
const short = (lengthM: number, units: System): string => printLength(lengthM, units, 'down')

const reelsText = (count: number): string =>
  count === 1 ? words.say('reel.one', {}) : words.say('reel.many', { count: String(count) })

const channelsText = (count: number): string =>
  count === 1 ? words.say('channel.one', {}) : words.say('channel.many', { count: String(count) })

const countsOf = ({ reels, channels }: CutPlan) => ({
  reels: reelsText(reels.count),
  channels: channelsText(channels.count),
})

/** The numbers, from 1, of the openings that came out this way. */
const numbersOf = (plan: CutPlan, is: (opening: OpeningPlan) => boolean): number[] =>
  plan.openings.flatMap((opening, at) => (is(opening) ? [at + 1] : []))

const piecesText = ({ tapePiecesM }: OpeningPlan, values: Inputs): string =>
  inWords(tapePiecesM.map((lengthM) => both(lengthM, values)))

function headline(plan: CutPlan, values: Inputs): string {
  const counts = countsOf(plan)
  if (plan.tapeM === 0) return words.say('headline.nothing', {})
  const [tooLong] = numbersOf(plan, ({ fit }) => fit === 'longer-than-reel')
  const opening = tooLong === undefined ? undefined : plan.openings[tooLong - 1]
  const more = moreOf(plan, values)
  if (opening) {
    const tape = both(opening.tapeM, values)
    const pieces = piecesText(opening, values)
    const reel = both(values.reelLength, values)
    return `${words.say('headline.tooLong', { ...counts, opening: String(tooLong), tape, pieces, reel })}${more}`
  }
  return words.say('headline.buy', { ...counts, tape: both(plan.tapeM, values), more })
}

/** Whether fewer would do, what is joined, what stays dark. */
function moreOf(plan: CutPlan, values: Inputs): string {
  const { reels, channels, openings } = plan
  const proven = reels.proven && channels.proven
  const bounds = { reels: reelsText(reels.lowerBound), channels: channelsText(channels.lowerBound) }
  const sentences = [proven ? words.say('more.proven', {}) : words.say('more.unproven', bounds)]
  for (const number of numbersOf(plan, ({ fit }) => fit === 'joined')) {
    const pieces = piecesText(openings[number - 1] as OpeningPlan, values)
    sentences.push(words.say('more.joined', { opening: String(number), pieces }))
  }
  const dark = numbersOf(plan, ({ fit }) => fit === 'shorter-than-cut')
  if (dark.length) sentences.push(words.say('more.short', { openings: inWords(dark.map(String)) }))
  const lit = openings.filter(({ fit }) => fit !== 'shorter-than-cut')
  const gap = Math.max(...lit.map(({ darkGapM }) => darkGapM))
  if (gap > 0.0005) {
    const opening = String(openings.findIndex(({ darkGapM, tapeM }) => tapeM > 0 && darkGapM === gap) + 1)
    sentences.push(words.say('more.gap', { gap: printValue(gap, 'm', values.units, 'up'), opening }))
  }
  return sentences.map((sentence) => ` ${sentence}`).join('')
}

/** Stocks side by side that are cut alike for the same opening: whole reels in a long run, say. */
function alike(stocks: readonly Stock[]): { stock: Stock; from: number; to: number }[] {
  const key = ({ pieces }: Stock) => JSON.stringify(pieces)
  const groups: { stock: Stock; from: number; to: number }[] = []
  stocks.forEach((stock, at) => {
    const last = groups.at(-1)
    if (last && key(last.stock) === key(stock)) last.to = at + 1
    else groups.push({ stock, from: at + 1, to: at + 1 })
  })
  return groups
}

const stockName = (kind: 'reel' | 'channel', from: number, to: number): string =>
  from === to
    ? words.say(`stock.${kind}`, { number: String(from) })
    : words.say(`stock.${kind}s`, { from: String(from), to: String(to) })

const openingName = (at: number): string => words.say('stock.opening', { number: String(at + 1) })

const unitsIn = (lengthM: number, { cutLength }: Inputs): string => String(Math.round(lengthM / cutLength))

/** The cutting list: what each opening gets, then what is cut from each reel and each channel, in that order. */
function tableOf(plan: CutPlan, values: Inputs): NonNullable<Composition['table']> {
  const print = (lengthM: number) => short(lengthM, values.units)
  const openings = plan.openings.map(({ openingM, tapeM, darkGapM }, at) => [
    words.say('cut.from', { what: openingName(at), length: print(openingM) }),
    print(darkGapM),
    tapeM > 0
      ? words.say('cut.tape', { length: print(tapeM), units: unitsIn(tapeM, values) })
      : words.say('cut.none', {}),
  ])
  const stockRows = (kind: 'reel' | 'channel', { stocks }: StockPlan, stockM: number) =>
    alike(stocks).map(({ stock, from, to }) => [
      words.say('cut.from', { what: stockName(kind, from, to), length: print(stockM) }),
      print(stock.restM),
      stock.pieces.map((piece) => pieceText(kind, piece, values)).join('; '),
    ])
  return {
    columns: Object.values(words.columns),
    rows: [
      ...openings,
      ...stockRows('reel', plan.reels, values.reelLength),
      ...stockRows('channel', plan.channels, values.channelLength),
    ],
  }
}

function pieceText(kind: 'reel' | 'channel', piece: Stock['pieces'][number], values: Inputs): string {
  const said = { opening: String(piece.opening + 1), length: short(piece.lengthM, values.units) }
  return kind === 'reel'
    ? words.say('cut.pieceUnits', { ...said, units: unitsIn(piece.lengthM, values) })
    : words.say('cut.piece', said)
}

function pictureOf(plan: CutPlan, values: Inputs): { kind: string; data: CutPlanPicture } {
  const openings = plan.openings.map((opening, at) => openingBar(opening, at, values))
  const reels = stockBars('reel', plan.reels, values.reelLength, values)
  const channels = stockBars('channel', plan.channels, values.channelLength, values)
  const sections = [section('openings', openings), section('reels', reels), section('channels', channels)]
  return { kind: 'cut-plan', data: { sections: sections.filter(({ bars }) => bars.length > 0) } }
}

function section(
  id: 'openings' | 'reels' | 'channels',
  bars: CutPlanBar[],
): CutPlanPicture['sections'][number] {
  const hidden = Math.max(0, bars.length - mostBars)
  const title = words.say(`picture.${id}`, {})
  const shown = bars.slice(0, mostBars)
  return {
    id,
    title,
    description: words.say('picture.described', {
      what: title,
      rows: shown.map(({ text }) => text).join('; '),
    }),
    more: hidden > 0 ? words.say('picture.more', { count: String(hidden) }) : '',
    bars: shown,
  }
}

function openingBar({ openingM, tapeM, darkGapM }: OpeningPlan, at: number, values: Inputs): CutPlanBar {
  const opening = openingName(at)
  const tape = short(tapeM, values.units)
  const text =
    tapeM > 0
      ? words.say('picture.opening', { opening, tape, gap: short(darkGapM, values.units) })
      : words.say('picture.openingDark', { opening })
  const pieces = tapeM > 0 ? [{ lengthM: tapeM, label: '' }] : []
  return { text, lengthM: openingM, startM: Math.min(values.endClearance, openingM - tapeM), pieces }
}

const stockBars = (
  kind: 'reel' | 'channel',
  { stocks }: StockPlan,
  stockM: number,
  { units }: Inputs,
): CutPlanBar[] =>
  alike(stocks).map(({ stock, from, to }) => ({
    text: words.say('picture.stock', { stock: stockName(kind, from, to), left: short(stock.restM, units) }),
    lengthM: stockM,
    startM: 0,
    pieces: stock.pieces.map(({ lengthM, opening }) => ({ lengthM, label: String(opening + 1) })),
  }))

function workingOf(plan: CutPlan, values: Inputs): Step[] {
  const { reels, channels, tapeM } = plan
  const { reelLength, channelLength } = values
  const packed = (id: 'reels' | 'channels', { count, stocks, lowerBound, proven }: StockPlan): Step => ({
    id,
    formula: proven
      ? 'whole ones, then the rest packed: as few as the lower bound'
      : 'whole ones, then the rest packed longest first, each where it first fits',
    substituted: `pieces: ${stocks.reduce((total, { pieces }) => total + pieces.length, 0)}, lower bound: ${lowerBound}`,
    result: String(count),
    source: 'martello-toth-1990',
  })
  const waste = (
    id: 'tapeWaste' | 'channelWaste',
    count: number,
    stockM: number,
    usedM: number,
    wasteM: number,
  ): Step => ({
    id,
    formula: 'bought − used',
    substituted: `${count} × ${exactly(stockM, 'm')} − ${exactly(usedM, 'm')}`,
    result: exactly(wasteM, 'm'),
  })
  const channelCount = channels.count
  const channelM = channelCount * channelLength - channels.wasteM
  return [
    ...openingSteps(plan, values),
    packed('reels', reels),
    packed('channels', channels),
    waste('tapeWaste', reels.count, reelLength, tapeM, reels.wasteM),
    waste('channelWaste', channelCount, channelLength, channelM, channels.wasteM),
  ]
}

/** Each opening of its own length once. */
const openingSteps = ({ openings }: CutPlan, { cutLength, endClearance }: Inputs): Step[] =>
  openings
    .filter(({ openingM }, at) => openings.findIndex((other) => other.openingM === openingM) === at)
    .slice(0, mostOpeningsWorked)
    .map(({ openingM, tapeM, darkGapM }) => ({
      id: 'opening',
      formula: 'cut · whole number of (opening − 2 · clearance) / cut',
      substituted: `${exactly(cutLength, 'm')} × whole number of (${exactly(openingM, 'm')} − 2 × ${exactly(endClearance, 'm')}) / ${exactly(cutLength, 'm')}`,
      result: `${exactly(tapeM, 'm')}, dark ${exactly(darkGapM, 'm')}`,
      source: 'common-practice-tape-cutting',
    }))

const limitsOf = (plan: CutPlan, values: Inputs): NonNullable<Composition['limits']> => [
  {
    id: 'fewestReels',
    value: plan.reels.lowerBound,
    unit: 'count',
    text: reelsText(plan.reels.lowerBound),
    binds: plan.reels.proven,
  },
  {
    id: 'fewestChannels',
    value: plan.channels.lowerBound,
    unit: 'count',
    text: channelsText(plan.channels.lowerBound),
    binds: plan.channels.proven,
  },
  { id: 'reel', value: values.reelLength, unit: 'm', binds: isTooLong(plan) },
]

const isTooLong = ({ openings }: CutPlan): boolean => openings.some(({ fit }) => fit === 'longer-than-reel')

const judgedLongest = ({ openings }: CutPlan, { reelLength }: Inputs): Judged => ({
  id: 'reel',
  value: Math.max(...openings.map(({ tapeM }) => tapeM)),
  limit: reelLength,
  sense: 'at-most',
  unit: 'm',
})

const cautionsOf = ({ openings }: CutPlan): string[] => [
  'off-first',
  'marks',
  'wet-seal',
  ...(openings.some(({ fit }) => fit === 'joined') ? ['joint'] : []),
  'both-ends',
  'hide-gap',
]

/** Most runs that driver-size takes. */
const mostRuns = 50

/** The tape of each opening, as driver-size reads it; nothing where they are too many for it. */
const runsOf = ({ openings }: CutPlan): string[] | undefined => {
  const runs = openings.flatMap(({ tapeM }) => (tapeM > 0 ? [`${tapeM} m`] : []))
  return runs.length <= mostRuns ? runs : undefined
}

/** How do I cut these runs from reels and channel? */
export const cutPlan = defineQuestion<typeof inputs, CutPlan>({
  id: 'cut-plan',
  stage: 'buy',
  words,
  inputs,
  figures: {
    reels: { unit: 'count', better: 'lower', round: 'up', value: ({ reels }) => reels.count },
    channels: {
      unit: 'count',
      better: 'lower',
      round: 'up',
      value: ({ channels }) => channels.count,
    },
    tape: { unit: 'm', better: 'lower', round: 'down', value: ({ tapeM }) => tapeM },
    tapeWaste: { unit: 'm', better: 'lower', round: 'up', value: ({ reels }) => reels.wasteM },
    channelWaste: { unit: 'm', better: 'lower', round: 'up', value: ({ channels }) => channels.wasteM },
  },
  solve,
  solveRoughly: (values) => planOf(askedOf(values), roughSearch),
  outcome: (plan, values) => ({
    step: `${plan.reels.count} ${plan.channels.count}`,
    binding: '',
    judged: isTooLong(plan) ? [judgedLongest(plan, values)] : [],
    fails: isTooLong(plan),
  }),
  says: ({ step, fails }) => {
    const [reels, channels] = String(step).split(' ').map(Number)
    const said = { reels: reelsText(reels ?? 0), channels: channelsText(channels ?? 0) }
    return `${words.say('says.buy', said)}${fails ? words.say('says.tooLong', {}) : ''}`
  },
  unsafe: { openings: 'up', reelLength: 'down', channelLength: 'down', kerf: 'up' },
  irrelevant: ({ openings }) => ['rules', ...(openings.length > mostOpeningsWithRoom ? ['openings'] : [])],
  otherWays: ({ joinTape }) => (joinTape ? [] : [{ joinTape: true }]),
  compose: (plan, values, given) => {
    const carried = { ...chosenSettings(values, given), ...asInputs(inputs, values, ['cutLength']) }
    return {
      headline: headline(plan, values),
      table: tableOf(plan, values),
      limits: limitsOf(plan, values),
      cautions: cautionsOf(plan),
      working: workingOf(plan, values),
      next: [
        { question: 'tape-reach', inputs: carried },
        { question: 'driver-size', inputs: { ...carried, tapeLength: runsOf(plan) } },
      ],
      picture: pictureOf(plan, values),
    }
  },
})
