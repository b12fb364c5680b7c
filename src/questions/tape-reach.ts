import prompts from '../../prompts/en/tape-reach.yaml'
import { type Capacity, capacityA, type Strands, sizesFor } from '../calculators/conductor'
import type { CabledFeed } from '../calculators/feed-layout'
import { within } from '../calculators/limit'
import { lightOf, solveTape, type TapeDesign } from '../calculators/tape-network'
import {
  type FeedPlace,
  type Reach,
  type ReachLimit,
  type ReachLimitId,
  type ReachQuestion,
  reachOfTape,
  runsFor,
  solverOfOneSearch,
  type TapeAtWork,
} from '../calculators/tape-reach'
import { type ConductorSize, printConductorSize } from '../quantities/conductor-size'
import type { Rounding } from '../quantities/print'
import { driverSizes } from '../tables/driver-sizes'
import type { Assumption } from './common/answer'
import { capacityStep, resistanceSource, resistanceStep } from './common/cable-steps'
import { classTwoStep, isPastClassTwo } from './common/class-two'
import { cableOhmPerM, usualSize, usualStrands } from './common/fed-tape'
import { evennessStep, lawStep } from './common/fed-tape-working'
import { assumed, choice, conductorSize, optional, quantity, required } from './common/fields'
import { chosenSettings } from './common/line-side'
import { exactly, printValue } from './common/printing'
import {
  asInputs,
  type Composition,
  defineQuestion,
  type FigureSpec,
  type Outcome,
  type Step,
} from './common/question'
import type { Values } from './common/read-inputs'
import { sizeFaultAt } from './common/relations'
import { nearestChange } from './common/search'
import { sharedSay } from './common/shared-words'
import type { Claim } from './common/spec'
import {
  irrelevantOfRails,
  railSteps,
  tapeFaults,
  tapeInputs,
  tapeOf,
  unitStep,
  warmRailCautions,
  warmRailRise,
} from './common/tape-inputs'
import { tapePicture } from './common/tape-picture'
import { holds } from './common/verdict'
import { questionWordsOf } from './common/words'

/** Ratings of the drivers that are asked about, W. */
const driverRange = { min: 1, max: 1000 }

/** Thicker cables that a claim is tried with. */
const mostHeavierOffered = 3

const inputs = {
  voltage: required(quantity('voltage', 3, 60)),
  tapePower: required(quantity('powerPerLength', 0.5, 40)),
  driverPower: required(quantity('power', driverRange.min, driverRange.max)),
  driverLoadLimit: assumed(quantity('percent', 10, 100), 80),
  feedDistance: assumed(quantity('length', 0, 200), 0),
  gauge: assumed(conductorSize(), usualSize),
  farFeedDistance: optional(quantity('length', 0, 300)),
  feed: assumed(
    choice('one-end', 'both-ends', 'middle'),
    ({ farFeedDistance }): FeedPlace => (farFeedDistance === undefined ? 'one-end' : 'both-ends'),
  ),
  evenness: assumed(quantity('percent', 50, 99), 85),
  leastLight: assumed(quantity('percent', 10, 99), 80),
  ...tapeInputs,
  conductorTemp: assumed(quantity('temperature', -20, 90), ({ rules }) => (rules === 'iec' ? 70 : 75)),
  makerLimit: optional(quantity('length', 0.1, 50)),
}

type Inputs = Values<typeof inputs>

type Tape = Omit<TapeDesign, 'lengthM'>

type Cable = { ohmPerM: number; capacity: Capacity; strands: Strands }

type Solution = { tape: Tape; cable: Cable; reach: Reach }

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: [
      'reach',
      'cutUnits',
      'reachByDriver',
      'reachByEvenness',
      'reachByBrightness',
      'reachByMaker',
      'reachByCapacity',
      'farEndVoltage',
      'dimmestLight',
      'load',
      'driverLoad',
      'feedCurrent',
    ],
    limits: ['driver', 'evenness', 'brightness', 'maker', 'feedCapacity'],
    sentences: {
      'headline.one': ['binding', 'reach', 'cuts', 'fed', 'others'],
      'headline.several': ['binding', 'reach', 'cuts', 'fed', 'others'],
      'headline.beyond': ['reach', 'cuts', 'fed'],
      'headline.none': ['cut', 'binding', 'ways'],
      'headline.noWay': ['cut', 'binding'],
      others: ['limit', 'reach'],
      and: [],
      'cuts.one': [],
      'cuts.several': ['count'],
      'fed.one-end': [],
      'fed.both-ends': [],
      'fed.middle': [],
      beyond: ['reach'],
      'says.none': [],
      'cable.stranded': [],
      'cable.flexible': [],
      'cable.why': [],
      'far.text': ['distance'],
      'far.why': [],
    },
    cautions: ['coiled', 'fuse-thin-feed', 'maker-wins', 'maker-counted', 'metal-channel'],
    working: [
      'driver',
      'maker',
      'rails',
      'resistance',
      'feed',
      'unit',
      'network',
      'law',
      'lawRegulated',
      'evenness',
      'capacity',
      'load',
      'driverLoad',
      'classTwo',
    ],
    columns: [],
    faults: ['far-needs-both-ends'],
  },
)

/** Tape that takes more than this is bedded on metal channel, W/m. */
const channelFromWPerM = 10

function cableOf(values: Inputs): Cable {
  const capacity = capacityA(values.gauge)
  if (!capacity) throw new RangeError('The size is not in the tables')
  return { ohmPerM: cableOhmPerM(values.gauge, values), capacity, strands: usualStrands(values) }
}

function askedOf(values: Inputs, { tape, cable }: Pick<Solution, 'tape' | 'cable'>): ReachQuestion {
  return {
    tape,
    feed: values.feed,
    cableOhmPerM: cable.ohmPerM,
    feedDistanceM: values.feedDistance,
    ...(values.farFeedDistance === undefined ? {} : { farFeedDistanceM: values.farFeedDistance }),
    feedCapacityA: cable.capacity.continuousA,
    driverW: values.driverPower,
    driverLoadLimitPercent: values.driverLoadLimit,
    evennessPercent: values.evenness,
    leastLightPercent: values.leastLight,
    ...(values.makerLimit === undefined ? {} : { makerLimitM: values.makerLimit }),
  }
}

function solve(values: Inputs): Solution {
  const [tape, cable] = [tapeOf(values), cableOf(values)]
  return { tape, cable, reach: reachOfTape(askedOf(values, { tape, cable })) }
}

type Runs = (values: Inputs, units: number, only?: ReachLimitId) => boolean

/**
 * Begins one search: whether so many cut units run at some values, by one solution of the tape in place of the dozens
 * that find its reach.
 */
function beginRuns(): Runs {
  const solver = solverOfOneSearch()
  return (values, units, only) =>
    runsFor(askedOf(values, { tape: tapeOf(values), cable: cableOf(values) }), units, only, solver)
}

/** The limit that each figure is the reach of. */
const limitOfFigure: Readonly<Record<string, ReachLimitId | undefined>> = {
  reachByDriver: 'driver',
  reachByEvenness: 'evenness',
  reachByBrightness: 'brightness',
  reachByMaker: 'maker',
  reachByCapacity: 'feedCapacity',
}

/** Whether a claim on a reach, or that all is fine, holds; other figures are those of the tape at its reach. */
function claimHolds(claim: Claim): (values: Inputs) => boolean | undefined {
  const runs = beginRuns()
  return (values) => claimHoldsBy(runs, claim, values)
}

function claimHoldsBy(runs: Runs, claim: Claim, values: Inputs): boolean | undefined {
  if (claim.figure === 'verdict') return runs(values, 1)
  if (!('value' in claim)) return undefined
  const { figure } = claim
  const only = limitOfFigure[figure]
  if (!only && figure !== 'reach' && figure !== 'cutUnits') return undefined
  const isLeftOut =
    (only === 'feedCapacity' && !hasCable(values)) || (only === 'maker' && values.makerLimit === undefined)
  if (isLeftOut) return undefined
  const unitM = figure === 'cutUnits' ? 1 : values.cutLength
  const reaches = (units: number): boolean =>
    holds({ id: figure, value: units * unitM, limit: claim.value, sense: 'at-least', unit: claim.unit })
  const about = Math.max(0, Math.floor(claim.value / unitM) - 1)
  const units = [about, about + 1, about + 2, about + 3].find(reaches)
  return units === undefined ? undefined : runs(values, units, only)
}

/** Whether any feed has a cable whose resistance counts. */
const hasCable = ({ feed, feedDistance, farFeedDistance }: Inputs): boolean =>
  feedDistance > 0 || (feed === 'both-ends' && farFeedDistance !== 0)

const farDistanceM = ({ feedDistance, farFeedDistance }: Inputs, reachM: number): number =>
  farFeedDistance ?? feedDistance + reachM

const inText = (label: string): string => label.charAt(0).toLowerCase() + label.slice(1)

/** "Driver load and light evenness" */
const named = (ids: readonly string[]): string =>
  ids
    .map((id) => words.limits[id] ?? id)
    .map((label, at) => (at === 0 ? label : inText(label)))
    .join(words.say('and', {}))

const lengthText = (lengthM: number, { units }: Inputs): string => printValue(lengthM, 'm', units, 'down')

const limitText = ({ reachM, beyond }: ReachLimit, values: Inputs): string =>
  beyond ? words.say('beyond', { reach: lengthText(reachM, values) }) : lengthText(reachM, values)

function headline({ reach }: Solution, values: Inputs): string {
  if (reach.units === 0) return headlineOfNone(reach, values)
  const count = String(reach.units)
  const said = {
    reach: lengthText(reach.reachM, values),
    cuts: reach.units === 1 ? words.say('cuts.one', {}) : words.say('cuts.several', { count }),
    fed: words.say(`fed.${values.feed}`, {}),
  }
  if (reach.binding.length === 0) return words.say('headline.beyond', said)
  const [next] = reach.limits
    .filter(({ id, beyond }) => !reach.binding.includes(id) && !beyond)
    .sort((a, b) => a.units - b.units)
  const others = next
    ? words.say('others', { limit: inText(named([next.id])), reach: lengthText(next.reachM, values) })
    : ''
  const how = reach.binding.length === 1 ? 'headline.one' : 'headline.several'
  return words.say(how, { ...said, binding: named(reach.binding), others })
}

function headlineOfNone({ binding }: Reach, values: Inputs): string {
  const said = { cut: printValue(values.cutLength, 'm', values.units), binding: inText(named(binding)) }
  const ways = waysOut(values)
  return ways.length > 0
    ? words.say('headline.none', { ...said, ways: ways.join('; ') })
    : words.say('headline.noWay', said)
}

/** The changes, each alone, with which at least one cut runs. */
function waysOut(values: Inputs): string[] {
  const runs = beginRuns()
  const isFixedBy = (changed: Partial<Inputs>): boolean => runs({ ...values, ...changed }, 1)
  const until = (field: 'driverPower' | 'tapePower' | 'feedDistance' | 'leastLight' | 'makerLimit') => {
    const { unit, end } = waysUntil[field]
    const start = values[field]
    const found =
      start === undefined ? null : nearestChange(start, end, false, (value) => isFixedBy({ [field]: value }))
    const up = end > (start ?? end)
    const what = words.fields[field]?.label ?? field
    return found
      ? [
          sharedSay(up ? 'wouldHold.atLeast' : 'wouldHold.atMost', {
            what,
            value: printValue(found.outside, unit, values.units, up ? 'up' : 'down'),
          }),
        ]
      : []
  }
  const gauge = heavierThan(values).find((size) => isFixedBy({ gauge: size }))
  const heavier = gauge && { what: words.fields.gauge?.label ?? '', value: printConductorSize(gauge) }
  return [
    ...until('driverPower'),
    ...until('tapePower'),
    ...until('feedDistance'),
    ...(heavier ? [sharedSay('wouldHold.way', heavier)] : []),
    ...until('leastLight'),
    ...until('makerLimit'),
  ]
}

/** Feed cable of more copper; none where no feed has a cable. */
const heavierThan = (values: Inputs): ConductorSize[] =>
  hasCable(values)
    ? sizesFor(values.rules).filter(
        (gauge) => cableOf({ ...values, gauge }).ohmPerM < cableOf(values).ohmPerM,
      )
    : []

/** The same feed with a driver for all that the other limits allow, where the driver is what stops it. */
function withLargerDriver(values: Inputs): Partial<Inputs>[] {
  const { feed, tapePower, driverLoadLimit } = values
  if (!solve(values).reach.binding.includes('driver')) return []
  const { reachM } = solve({ ...values, driverPower: driverRange.max }).reach
  const neededW = (tapePower * reachM) / (driverLoadLimit / 100)
  const driverPower = driverSizes.ratingsW.find((rating) => within(neededW, rating))
  return driverPower === undefined ? [] : [{ feed, driverPower }]
}

const waysUntil = {
  driverPower: { unit: 'W', end: driverRange.max },
  tapePower: { unit: 'W/m', end: 0.5 },
  feedDistance: { unit: 'm', end: 0 },
  leastLight: { unit: '%', end: 10 },
  makerLimit: { unit: 'm', end: 50 },
} as const

function workingOf(solution: Solution, values: Inputs): Step[] {
  const { cable, reach } = solution
  return [
    ...countedSteps(values),
    ...railSteps(values),
    ...(hasCable(values) ? cableSteps(cable, reach, values) : []),
    unitStep(values),
    ...(reach.atReach ? atWorkSteps(solution, reach.atReach, values) : []),
    ...(values.rules === 'nec' ? [classTwoStep(values.voltage)] : []),
  ]
}

function atWorkSteps({ tape, cable, reach }: Solution, atWork: TapeAtWork, values: Inputs): Step[] {
  const { capacity } = cable
  const carried = { size: values.gauge, allowedA: capacity.continuousA, currentA: atWork.busiestFeedA }
  return [
    networkStep(tape, reach, atWork),
    lawStep(atWork.light, values),
    evennessStep(atWork.light),
    ...(hasCable(values) ? [capacityStep(capacity, carried)] : []),
    ...loadSteps(reach, values),
  ]
}

function countedSteps({ driverPower, driverLoadLimit, tapePower, makerLimit, feed }: Inputs): Step[] {
  const driver: Step = {
    id: 'driver',
    formula: 'L = P · limit / w′',
    substituted: `${exactly(driverPower, 'W')} × ${exactly(driverLoadLimit, '%')} / ${exactly(tapePower, 'W/m')}`,
    result: exactly((driverPower * driverLoadLimit) / 100 / tapePower, 'm'),
    source: 'common-practice-driver-load',
  }
  if (makerLimit === undefined) return [driver]
  const sides = feed === 'one-end' ? 1 : 2
  const maker: Step = {
    id: 'maker',
    formula: 'L = sides fed from · printed run',
    substituted: `${sides} × ${exactly(makerLimit, 'm')}`,
    result: exactly(sides * makerLimit, 'm'),
  }
  return [driver, maker]
}

function cableSteps({ ohmPerM, strands }: Cable, { reachM }: Reach, values: Inputs): Step[] {
  const { feed, feedDistance, gauge, conductorTemp } = values
  const distances = feed === 'both-ends' ? [feedDistance, farDistanceM(values, reachM)] : [feedDistance]
  const feeds = distances
    .filter((distanceM) => distanceM > 0)
    .map((distanceM) => ({
      id: 'feed',
      formula: 'R = 2 · R′ · d',
      substituted: `2 × ${exactly(ohmPerM, 'ohm/m')} × ${exactly(distanceM, 'm')}`,
      result: exactly(2 * ohmPerM * distanceM, 'ohm'),
    }))
  return [resistanceStep({ size: gauge, strands, conductorTemp }), ...feeds]
}

function networkStep(
  { ratedV, railOhmPerM, cutLengthM }: Tape,
  { units }: Reach,
  { light }: TapeAtWork,
): Step {
  return {
    id: 'network',
    formula: 'Σ I = 0 at each cut unit; r = r′ · s from one to the next',
    substituted: `${units} cut units, r = ${exactly(railOhmPerM, 'ohm/m')} × ${exactly(cutLengthM, 'm')}, ${exactly(ratedV, 'V')} at the driver`,
    result: `${exactly(light.lowestV, 'V')} at the lowest unit`,
    source: 'common-practice-tape-knee',
  }
}

const loadSteps = (
  { reachM, loadW, driverLoadPercent }: Reach,
  { tapePower, driverPower }: Inputs,
): Step[] => [
  {
    id: 'load',
    formula: 'P = w′ · L',
    substituted: `${exactly(tapePower, 'W/m')} × ${exactly(reachM, 'm')}`,
    result: exactly(loadW, 'W'),
  },
  {
    id: 'driverLoad',
    formula: '100 · P / rating',
    substituted: `100 × ${exactly(loadW, 'W')} / ${exactly(driverPower, 'W')}`,
    result: exactly(driverLoadPercent, '%'),
  },
]

function cautionsOf(solution: Solution, values: Inputs): Composition['cautions'] {
  const { feed, tapePower, makerLimit, units } = values
  return [
    'constant-voltage',
    ...(feed === 'both-ends' ? ['one-output'] : []),
    ...supplyCautions(solution, values),
    'coiled',
    makerLimit === undefined ? 'maker-wins' : 'maker-counted',
    ...(tapePower > channelFromWPerM
      ? [{ id: 'metal-channel', values: { power: printValue(tapePower, 'W/m', units) } }]
      : []),
    ...warmRails(solution, values),
  ]
}

/** What the driver can push decides about wiring and fuses, however little of it the tape takes. */
function supplyCautions({ cable }: Solution, values: Inputs): Composition['cautions'] {
  const { rules, driverPower, voltage, gauge } = values
  if (rules === 'nec') return isPastClassTwo(driverPower, voltage) ? ['past-class-two'] : []
  const supplyA = driverPower / voltage
  const { overcurrentA } = cable.capacity
  if (!hasCable(values) || supplyA <= overcurrentA) return []
  const print = (value: number, rounding: Rounding) => printValue(value, 'A', values.units, rounding)
  const said = {
    supply: print(supplyA, 'up'),
    gauge: printConductorSize(gauge),
    capacity: print(overcurrentA, 'down'),
  }
  return [{ id: 'fuse-thin-feed', values: said }]
}

function warmRails({ tape, reach }: Solution, { units }: Inputs): Composition['cautions'] {
  if (!reach.atReach) return []
  const { feeds, light } = reach.atReach
  const design = { ...tape, railOhmPerM: tape.railOhmPerM * warmRailRise, lengthM: reach.reachM }
  const warm = lightOf(solveTape(design, feeds, { sourceV: tape.ratedV, trunkOhm: 0 }))
  return warmRailCautions(warm.dimmestPercent, light.dimmestPercent, units)
}

function alsoAssumed({ cable, reach }: Solution, values: Inputs, given: ReadonlySet<string>): Assumption[] {
  const { gauge, feed, units } = values
  if (!hasCable(values)) return []
  const made: Assumption = {
    field: 'gauge',
    text: words.say(cable.strands === 'flexible' ? 'cable.flexible' : 'cable.stranded', {}),
    why: words.say('cable.why', {}),
    source: resistanceSource(gauge),
  }
  if (feed !== 'both-ends' || given.has('farFeedDistance')) return [made]
  const distance = printValue(farDistanceM(values, reach.reachM), 'm', units, 'up')
  const far = {
    field: 'farFeedDistance',
    text: words.say('far.text', { distance }),
    why: words.say('far.why', {}),
  }
  return [made, far]
}

/** The feeds of the tape at its reach, each with its cable. */
function feedsOf({ reach }: Solution, values: Inputs): CabledFeed[] {
  const { feed, feedDistance, gauge: size } = values
  const near = { distanceM: feedDistance, size }
  if (feed === 'middle') return [{ atM: reach.reachM / 2, ...near }]
  const start = { atM: 0, ...near }
  if (feed === 'one-end') return [start]
  return [start, { atM: reach.reachM, distanceM: farDistanceM(values, reach.reachM), size }]
}

function nextOf(solution: Solution, values: Inputs, given: ReadonlySet<string>): Composition['next'] {
  if (solution.reach.units === 0) return []
  const carry = (...ids: (keyof typeof inputs)[]) =>
    asInputs(
      inputs,
      values,
      ids.filter((id) => given.has(id)),
    )
  const length = typed(solution.reach.reachM)
  const tape = { ...chosenSettings(values, given), ...carry('voltage', 'tapePower'), tapeLength: length }
  const details = carry('cutLength', 'tapeStyle', 'railResistance', 'copperWeight', 'railWidth', 'knee')
  const feeds = feedsOf(solution, values).map(({ atM, distanceM, size }) => ({
    at: typed(atM),
    ...(distanceM > 0 ? { distance: typed(distanceM), gauge: printConductorSize(size) } : {}),
  }))
  const { feedDistance: distance, ...ofOneFeed } = carry('feedDistance', 'gauge')
  const along = { ...details, ...carry('driverPower', 'conductorTemp', 'evenness', 'leastLight') }
  return [
    { question: 'along-the-tape', inputs: { ...tape, ...along, feeds } },
    { question: 'feed-gauge', inputs: { ...tape, ...(distance ? { distance } : {}) } },
    ...(values.feed === 'one-end'
      ? [
          {
            question: 'meter-check',
            inputs: { ...tape, ...details, ...ofOneFeed, ...(distance ? { feedDistance: distance } : {}) },
          },
        ]
      : []),
    {
      question: 'cut-plan',
      inputs: { ...chosenSettings(values, given), openings: [length], cutLength: typed(values.cutLength) },
    },
  ]
}

/** A length as it may be typed, without the noise of binary fractions. */
const typed = (lengthM: number): string => `${Number(lengthM.toFixed(6))} m`

const pictureOf = (solution: Solution, values: Inputs): NonNullable<Composition['picture']> | undefined =>
  solution.reach.atReach && {
    kind: 'along-the-tape',
    data: tapePicture({
      design: { ...solution.tape, lengthM: solution.reach.reachM },
      feeds: feedsOf(solution, values),
      sourceV: values.voltage,
      solution: solution.reach.atReach.solution,
      evennessPercent: values.evenness,
      leastLightPercent: values.leastLight,
      units: values.units,
    }),
  }

/** How far one limit alone would let the tape run. */
function reachBy(id: ReachLimitId): FigureSpec<Solution, Inputs> {
  const limitOf = ({ reach }: Solution) => reach.limits.find((limit) => limit.id === id)
  return {
    unit: 'm',
    better: 'higher',
    round: 'down',
    value: (solution) => limitOf(solution)?.reachM,
    text: (solution, values) => {
      const limit = limitOf(solution)
      return limit ? limitText(limit, values) : ''
    },
  }
}

/** Only the reach counts: another limit that comes to bind shows in it, and one that merely ties does no harm. */
const outcomeOf = ({ reach }: Solution): Outcome => ({
  step: reach.reachM,
  binding: '',
  judged: [],
  fails: reach.units === 0,
})

/** How long can this tape run on this driver, and what stops it there? */
export const tapeReach = defineQuestion<typeof inputs, Solution>({
  id: 'tape-reach',
  stage: 'size',
  words,
  inputs,
  relations: (values, given) => [
    ...sizeFaultAt('gauge', values.gauge, values.rules),
    ...tapeFaults(values, given),
    ...(values.farFeedDistance !== undefined && values.feed !== 'both-ends'
      ? [{ field: 'farFeedDistance', reason: 'far-needs-both-ends' }]
      : []),
  ],
  figures: {
    reach: { unit: 'm', better: 'higher', round: 'down', value: ({ reach }) => reach.reachM },
    cutUnits: { unit: 'count', better: 'higher', round: 'down', value: ({ reach }) => reach.units },
    reachByDriver: reachBy('driver'),
    reachByEvenness: reachBy('evenness'),
    reachByBrightness: reachBy('brightness'),
    reachByMaker: reachBy('maker'),
    reachByCapacity: reachBy('feedCapacity'),
    farEndVoltage: {
      unit: 'V',
      better: 'higher',
      round: 'down',
      value: ({ reach }) => reach.atReach?.light.lowestV,
    },
    dimmestLight: {
      unit: '%',
      better: 'higher',
      round: 'down',
      value: ({ reach }) => reach.atReach?.light.dimmestPercent,
    },
    load: { unit: 'W', better: 'lower', round: 'up', value: ({ reach }) => whereLit(reach, reach.loadW) },
    driverLoad: {
      unit: '%',
      better: 'lower',
      round: 'up',
      value: ({ reach }) => whereLit(reach, reach.driverLoadPercent),
    },
    feedCurrent: {
      unit: 'A',
      better: 'lower',
      round: 'up',
      value: ({ reach }) => reach.atReach?.busiestFeedA,
    },
  },
  solve,
  outcome: outcomeOf,
  worsensFrom: ({ step }) => {
    const runs = beginRuns()
    return (values) => !runs(values, Math.round(Number(step) / values.cutLength))
  },
  stepWorse: 'lower',
  says: ({ step, fails }, values) => (fails ? words.say('says.none', {}) : lengthText(Number(step), values)),
  unsafe: {
    tapePower: 'up',
    driverPower: 'down',
    driverLoadLimit: 'down',
    feedDistance: 'up',
    farFeedDistance: 'up',
    evenness: 'up',
    leastLight: 'up',
    railResistance: 'up',
    copperWeight: 'down',
    railWidth: 'down',
    knee: 'up',
    conductorTemp: 'up',
    makerLimit: 'down',
  },
  irrelevant: (values) => [
    ...irrelevantOfRails(values),
    ...(hasCable(values) ? [] : ['gauge', 'conductorTemp']),
  ],
  claimFaults: ({ figure }, given) =>
    figure === 'reachByMaker' && !given.has('makerLimit') ? [{ field: 'makerLimit', reason: 'missing' }] : [],
  judgeClaim: ({ figure }, _, values) => (figure === 'reachByCapacity' && !hasCable(values) ? [] : undefined),
  claimHolds,
  otherWays: (values) => [
    ...(['both-ends', 'middle'] as const)
      .filter((feed) => feed !== values.feed)
      .flatMap((feed) => [{ feed }, ...withLargerDriver({ ...values, feed })]),
    ...heavierThan(values)
      .slice(0, mostHeavierOffered)
      .map((gauge) => ({ gauge })),
  ],
  compose: (solution, values, given) => {
    const { reach } = solution
    const picture = pictureOf(solution, values)
    return {
      headline: headline(solution, values),
      limits: reach.limits.map((limit) => ({
        id: limit.id,
        value: limit.reachM,
        unit: 'm',
        text: limitText(limit, values),
        binds: reach.binding.includes(limit.id),
      })),
      cautions: cautionsOf(solution, values),
      working: workingOf(solution, values),
      next: nextOf(solution, values, given),
      ...(picture ? { picture } : {}),
      alsoAssumed: alsoAssumed(solution, values, given),
    }
  },
})

const whereLit = ({ units }: Reach, value: number): number | undefined => (units > 0 ? value : undefined)
