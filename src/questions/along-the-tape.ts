import prompts from '../../prompts/en/along-the-tape.yaml'
import { capacityA, sizesFor } from '../calculators/conductor'
import { within } from '../calculators/limit'
import { countUnits } from '../calculators/tape-network'
import { type ConductorSize, printConductorSize } from '../quantities/conductor-size'
import { printLength, type Rounding } from '../quantities/print'
import { classTwoLimitA } from '../tables/class-two'
import type { Assumption } from './common/answer'
import {
  type BetterLayout,
  betterLayout,
  layoutInputs,
  layoutValues,
  soldDriverW,
} from './common/better-layout'
import {
  designOf,
  type FedTape,
  type GivenFeed,
  judgedFedTape,
  loadedCables,
  solveFedTape,
  usualSize,
  usualStrands,
} from './common/fed-tape'
import { fedTapeSteps, fedTapeWorking } from './common/fed-tape-working'
import { assumed, conductorSize, list, optional, quantity, required, row } from './common/fields'
import { chosenSettings } from './common/line-side'
import { printValue } from './common/printing'
import { asInputs, type Composition, defineQuestion, type FigureSpec, type Outcome } from './common/question'
import type { FieldFault, Values } from './common/read-inputs'
import { sizeFaultAt } from './common/relations'
import { nearestChange } from './common/search'
import {
  irrelevantOfRails,
  tapeFaults,
  tapeInputs,
  warmRailCautions,
  warmRailRise,
} from './common/tape-inputs'
import { tapePicture } from './common/tape-picture'
import { holds, type Judged, use, verdictOf } from './common/verdict'
import { questionWordsOf } from './common/words'

const cableColumns = { distance: quantity('length', 0, 200), gauge: conductorSize() }

/** A driver is trimmed, or sags, within these parts of the tape's rated voltage. */
const sourceRange = { least: 0.5, most: 1.15 }

const inputs = {
  voltage: required(quantity('voltage', 3, 60)),
  tapePower: required(quantity('powerPerLength', 0.5, 40)),
  tapeLength: required(quantity('length', 0.01, 100)),
  feeds: assumed<GivenFeed[]>(
    list(row({ at: quantity('length', 0, 100) }, cableColumns, 'at'), 1, 20),
    () => [{ at: 0 }],
  ),
  trunk: optional(row({ distance: cableColumns.distance }, { gauge: cableColumns.gauge }, 'distance')),
  sourceVoltage: assumed(
    quantity('voltage', 3 * sourceRange.least, 60 * sourceRange.most),
    (known): number => known.voltage,
  ),
  driverPower: optional(quantity('power', 1, 1000)),
  ...tapeInputs,
  conductorTemp: assumed(quantity('temperature', -20, 90), ({ rules }) => (rules === 'iec' ? 70 : 75)),
  evenness: assumed(quantity('percent', 50, 99), 85),
  leastLight: assumed(quantity('percent', 10, 99), 80),
}

type Inputs = Values<typeof inputs>

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: [
      'dimmestLight',
      'brightestLight',
      'evenness',
      'lowestVoltage',
      'current',
      'feedCurrent',
      'tapeWatts',
      'railLoss',
      'cableLoss',
    ],
    limits: ['evenness', 'brightness', 'feedCapacity', 'trunkCapacity', 'driver'],
    sentences: {
      'headline.good': ['dimmest', 'evenness', 'lowest', 'current'],
      'headline.tight': ['what', 'value', 'limit'],
      'headline.fails': ['faults', 'ways'],
      'headline.overloaded': ['current', 'limit', 'ways'],
      'fault.evenness': ['value', 'limit'],
      'fault.brightness': ['value', 'limit'],
      'fault.feedCapacity': ['value', 'limit'],
      'fault.trunkCapacity': ['value', 'limit'],
      'name.evenness': [],
      'name.brightness': [],
      'name.feedCapacity': [],
      'name.trunkCapacity': [],
      'name.driver': [],
      'way.size': ['size'],
      'way.distance': ['value'],
      'way.beside': [],
      'way.source': ['value'],
      'way.length': ['value'],
      'way.power': ['value'],
      'way.voltage': ['value'],
      'way.driver': ['value'],
      'way.nothing': [],
      'layout.end': ['cable'],
      'layout.middle': ['cable'],
      'layout.ends': ['cable'],
      'layout.places': ['count', 'places', 'cable'],
      'layout.cable': ['size', 'length'],
      'layout.noCable': [],
      'layout.trunk': ['size'],
      'layout.driver': ['value'],
      'says.holds': ['limit'],
      'says.tight': ['limit'],
      'says.fails': ['limit'],
      'assumed.gauge': ['size'],
      'assumed.gauge.why': [],
      'assumed.stranded': [],
      'assumed.flexible': [],
      'assumed.strands.why': [],
    },
    cautions: ['over-rated', 'fuse-each', 'fuse-unknown', 'simple-law'],
    working: fedTapeSteps,
    columns: [],
    faults: [],
  },
)

/** The limit that is used most. */
const nearestOf = (judged: readonly Judged[]): Judged | undefined =>
  judged.reduce<Judged | undefined>((most, each) => (!most || use(each) > use(most) ? each : most), undefined)

const nameOf = (judged: Judged | undefined): string =>
  words.say(`name.${(judged?.id ?? 'evenness') as 'evenness'}`, {})

const stands = (values: Inputs): boolean => verdictOf(judgedFedTape(solveFedTape(values), values)) !== 'fails'

function layoutText({ feeds, trunk, driverW }: BetterLayout, { units }: Inputs): string {
  const [first, ...others] = feeds
  const cabled = feeds.filter(({ distanceM }) => distanceM > 0)
  const totalM = cabled.reduce((sum, { distanceM }) => sum + distanceM, 0)
  const length = printLength(totalM, units, 'up')
  const cable = cabled[0]
    ? words.say('layout.cable', { size: printConductorSize(cabled[0].size), length })
    : words.say('layout.noCable', {})
  const places = feeds.map(({ atM }) => printLength(atM, units, 'nearest')).join(', ')
  const atStart = first?.atM === 0
  const text =
    others.length === 0
      ? words.say(atStart ? 'layout.end' : 'layout.middle', { cable })
      : atStart
        ? words.say('layout.ends', { cable })
        : words.say('layout.places', { count: String(feeds.length), places, cable })
  return [
    text,
    ...(trunk ? [words.say('layout.trunk', { size: printConductorSize(trunk.size) })] : []),
    ...(driverW === undefined
      ? []
      : [words.say('layout.driver', { value: printValue(driverW, 'W', units) })]),
  ].join(', ')
}

type Print = (value: number, unit: string, rounding: Rounding) => string

/** In a sentence a length stands in the person's own system alone. */
const printerOf =
  ({ units }: Inputs): Print =>
  (value, unit, rounding) =>
    unit === 'm' ? printLength(value, units, rounding) : printValue(value, unit, units, rounding)

/** The same feeds with every cable of this size. */
const withSize = (values: Inputs, size: ConductorSize): Inputs => ({
  ...values,
  feeds: values.feeds.map((feed) => ({ ...feed, gauge: size })),
  trunk: values.trunk && { ...values.trunk, gauge: size },
})

/** Every way out of a layout that fails, each with its number. */
function waysOut(fed: FedTape, values: Inputs, layout: BetterLayout | undefined): string[] {
  const driverW = fed.overloaded ? soldDriverW(fed.tape.sourceA * values.voltage) : undefined
  const isDriverAlone = driverW !== undefined && stands({ ...values, driverPower: driverW })
  const size = sizesFor(values.rules).find((each) => stands(withSize(values, each)))
  const [voltage] = higherVoltages(values).filter((way) => stands({ ...values, ...way }))
  return [
    ...sourceWay(values),
    ...(isDriverAlone ? [words.say('way.driver', { value: printValue(driverW, 'W', values.units) })] : []),
    ...(layout && !isDriverAlone ? [layoutText(layout, values)] : []),
    ...(size ? [words.say('way.size', { size: printConductorSize(size) })] : []),
    ...shorterWays(values),
    ...(voltage ? [words.say('way.voltage', { value: printValue(voltage.voltage, 'V', values.units) })] : []),
  ]
}

/** With less cable than this the driver sits beside the tape, m. */
const shortestCableM = 0.1

const distanceWay = (lengthM: number, print: Print): string =>
  lengthM < shortestCableM
    ? words.say('way.beside', {})
    : words.say('way.distance', { value: print(lengthM, 'm', 'down') })

/** A driver that sags, or is trimmed low, brought back to the tape's own voltage. */
function sourceWay(values: Inputs): string[] {
  const { voltage, sourceVoltage, units } = values
  const does = sourceVoltage < voltage && stands({ ...values, sourceVoltage: voltage })
  return does ? [words.say('way.source', { value: printValue(voltage, 'V', units) })] : []
}

/** Less of something: cable, tape, or watts. */
function shorterWays(values: Inputs): string[] {
  const print = printerOf(values)
  const until = (start: number, end: number, at: (value: number) => Inputs) =>
    nearestChange(start, end, false, (value) => stands(at(value)))
  const [feed, ...others] = values.feeds
  const distance =
    feed && others.length === 0 && !values.trunk
      ? until(feed.distance ?? 0, 0, (value) => ({ ...values, feeds: [{ ...feed, distance: value }] }))
      : null
  const length = until(values.tapeLength, values.cutLength, (tapeLength) => ({ ...values, tapeLength }))
  const power = until(values.tapePower, 0.5, (tapePower) => ({ ...values, tapePower }))
  const cutM = length ? countUnits(length.outside, values.cutLength) * values.cutLength : 0
  return [
    ...(distance ? [distanceWay(distance.outside, print)] : []),
    ...(length ? [words.say('way.length', { value: print(cutM, 'm', 'down') })] : []),
    ...(power ? [words.say('way.power', { value: print(power.outside, 'W/m', 'down') })] : []),
  ]
}

/** Tape of a higher common voltage, with the same watts. */
const higherVoltages = ({ voltage }: Inputs): Pick<Inputs, 'voltage' | 'sourceVoltage'>[] =>
  [24, 48].filter((volts) => volts > voltage).map((volts) => ({ voltage: volts, sourceVoltage: volts }))

function headline(fed: FedTape, values: Inputs, layout: BetterLayout | undefined): string {
  const judged = judgedFedTape(fed, values)
  const print = printerOf(values)
  if (verdictOf(judged) === 'fails') return failure(fed, values, layout, judged)
  const { light, tape } = fed
  const good = words.say('headline.good', {
    dimmest: print(light.dimmestPercent, '%', 'down'),
    evenness: print(light.evennessPercent, '%', 'down'),
    lowest: print(light.lowestV, 'V', 'down'),
    current: print(tape.sourceA, 'A', 'up'),
  })
  const nearest = verdictOf(judged) === 'tight' ? nearestOf(judged) : undefined
  if (!nearest) return good
  return `${good} ${words.say('headline.tight', { what: nameOf(nearest), ...compared(nearest, print) })}`
}

function failure(
  fed: FedTape,
  values: Inputs,
  layout: BetterLayout | undefined,
  judged: readonly Judged[],
): string {
  const print = printerOf(values)
  const found = waysOut(fed, values, layout)
  const ways = found.length > 0 ? found.join('; ') : words.say('way.nothing', {})
  if (fed.overloaded) {
    const current = print(fed.tape.sourceA, 'A', 'up')
    return words.say('headline.overloaded', { current, limit: print(fed.driverA ?? 0, 'A', 'down'), ways })
  }
  const faults = judged
    .filter((each) => !holds(each))
    .map((each) => words.say(`fault.${each.id as 'evenness'}`, compared(each, print)))
  return words.say('headline.fails', { faults: faults.join('; '), ways })
}

/** Rounded the same way where it holds, apart where it does not: what is read then never says the contrary. */
function compared(judged: Judged, print: Print) {
  const { value, limit, sense, unit } = judged
  const [safe, other] = sense === 'at-least' ? (['down', 'up'] as const) : (['up', 'down'] as const)
  return { value: print(value, unit, safe), limit: print(limit, unit, holds(judged) ? safe : other) }
}

function limitsOf(fed: FedTape, values: Inputs): NonNullable<Composition['limits']> {
  const judged = judgedFedTape(fed, values)
  const most = Math.max(...judged.map(use))
  return judged.map((each) => ({
    id: each.id,
    value: each.limit,
    unit: each.unit,
    binds: use(each) >= most * (1 - 1e-9),
  }))
}

function cautionsOf(fed: FedTape, values: Inputs): Composition['cautions'] {
  const classTwoA = classTwoLimitA(values.voltage)
  const isPastClassTwo =
    values.rules === 'nec' && classTwoA !== undefined && !within(fed.tape.sourceA, classTwoA)
  const source = printValue(values.sourceVoltage, 'V', values.units, 'up')
  return [
    'one-output',
    ...(within(values.sourceVoltage, values.voltage) ? [] : [{ id: 'over-rated', values: { source } }]),
    ...fuseCaution(fed),
    ...(isPastClassTwo ? ['past-class-two'] : []),
    values.rules === 'iec' ? 'line-apart-iec' : 'line-apart',
    ...(fed.overloaded ? [] : ['simple-law', ...warmCautions(fed, values)]),
  ]
}

/** A cable that the driver can push more through than it may carry needs a fuse of its own. */
function fuseCaution(fed: FedTape): Composition['cautions'] {
  const fuseOf = (size: ConductorSize): number => capacityA(size)?.overcurrentA ?? 0
  const [thinnest] = loadedCables(fed)
    .map(({ size }) => size)
    .sort((a, b) => fuseOf(a) - fuseOf(b))
  if (!thinnest || (fed.driverA !== undefined && within(fed.driverA, fuseOf(thinnest)))) return []
  const fuse = printValue(fuseOf(thinnest), 'A', 'us', 'down')
  const id = fed.driverA === undefined ? 'fuse-unknown' : 'fuse-each'
  return [{ id, values: { size: printConductorSize(thinnest), fuse } }]
}

const warmCautions = (fed: FedTape, values: Inputs): Composition['cautions'] =>
  warmRailCautions(
    solveFedTape(values, warmRailRise).light.dimmestPercent,
    fed.light.dimmestPercent,
    values.units,
  )

/** What is taken of a cable that nobody described. */
function cableAssumptions(fed: FedTape, values: Inputs): Assumption[] {
  const cables = [...values.feeds, ...(values.trunk ? [values.trunk] : [])]
  const isUnsaid = cables.some(({ distance = 0, gauge }) => distance > 0 && gauge === undefined)
  const size = printConductorSize(usualSize(values))
  const strands = usualStrands(values) === 'flexible' ? 'flexible' : 'stranded'
  const gauge: Assumption = {
    field: 'feeds',
    text: words.say('assumed.gauge', { size }),
    why: words.say('assumed.gauge.why', {}),
  }
  const made: Assumption = {
    field: 'feeds',
    text: words.say(`assumed.${strands}`, {}),
    why: words.say('assumed.strands.why', {}),
  }
  return [...(isUnsaid ? [gauge] : []), ...(loadedCables(fed).length > 0 ? [made] : [])]
}

function nextOf(
  values: Inputs,
  given: ReadonlySet<string>,
  layout: BetterLayout | undefined,
): Composition['next'] {
  const settings = chosenSettings(values, given)
  const tape = { ...settings, ...asInputs(inputs, values, ['voltage', 'tapePower', 'tapeLength']) }
  const kept = Object.keys(inputs).filter((id) => given.has(id) && id !== 'feeds' && id !== 'trunk')
  const again = layout && { ...settings, ...asInputs(inputs, values, kept), ...layoutInputs(layout) }
  const { tapeLength: openings, cutLength } = asInputs(inputs, values, ['tapeLength', 'cutLength'])
  return [
    ...(again ? [{ question: 'along-the-tape', inputs: again }] : []),
    { question: 'driver-size', inputs: tape },
    { question: 'meter-check', inputs: { ...tape, ...plainFeed(values) } },
    { question: 'cut-plan', inputs: { ...settings, openings: [openings], cutLength } },
  ]
}

/** The feed as `meter-check` takes it: one, at the start of the tape, of its own cable. */
function plainFeed({ feeds: [feed, ...others], trunk }: Inputs): Record<string, string> {
  if (!feed?.distance || feed.at > 0 || others.length > 0 || trunk) return {}
  const gauge: Record<string, string> = feed.gauge ? { gauge: printConductorSize(feed.gauge) } : {}
  return { feedDistance: `${feed.distance} m`, ...gauge }
}

function faultsOf(values: Inputs, given: ReadonlySet<string>): FieldFault[] {
  const { rules, feeds, trunk, units } = values
  const endM = Math.max(values.tapeLength, designOf(values).lengthM)
  const end = { most: printValue(endM, 'm', units, 'down') }
  return [
    ...tapeFaults(values, given),
    ...sourceFaults(values),
    ...feeds.flatMap(({ at, gauge }, i) => [
      ...(within(at, endM) ? [] : [{ field: `feeds.${i}.at`, reason: 'beyond-the-end', values: end }]),
      ...sizeFaultAt(`feeds.${i}.gauge`, gauge, rules),
    ]),
    ...sizeFaultAt('trunk.gauge', trunk?.gauge, rules),
  ]
}

function sourceFaults({ voltage, sourceVoltage, units }: Inputs): FieldFault[] {
  const [leastV, mostV] = [sourceRange.least * voltage, sourceRange.most * voltage]
  if (within(leastV, sourceVoltage) && within(sourceVoltage, mostV)) return []
  const print = (volts: number): string => printValue(volts, 'V', units)
  const values = { least: print(leastV), most: print(mostV) }
  return [{ field: 'sourceVoltage', reason: 'out-of-range', values, example: print(voltage) }]
}

/** A figure that only stands while the driver holds its voltage. */
const figure = (
  unit: string,
  better: 'higher' | 'lower',
  value: (fed: FedTape) => number | readonly number[],
): FigureSpec<FedTape, Inputs> => ({
  unit,
  better,
  round: better === 'higher' ? 'down' : 'up',
  value: (fed) => (fed.overloaded ? undefined : value(fed)),
})

function pictureOf(fed: FedTape, values: Inputs): Pick<Composition, 'picture'> {
  if (fed.overloaded) return {}
  const data = tapePicture({
    design: fed.design,
    feeds: fed.feeds,
    ...(fed.trunk ? { trunk: fed.trunk } : {}),
    sourceV: values.sourceVoltage,
    solution: fed.tape,
    evennessPercent: values.evenness,
    leastLightPercent: values.leastLight,
    units: values.units,
  })
  return { picture: { kind: 'along-the-tape', data } }
}

/** Once a limit is broken, which one is broken most does not make it worse. */
const outcomeOf = (judged: readonly Judged[]): Outcome => ({
  step: '',
  binding: verdictOf(judged) === 'fails' ? '' : (nearestOf(judged)?.id ?? ''),
  judged,
})

/** What are the voltage and the light at every point, fed like this? */
export const alongTheTape = defineQuestion<typeof inputs, FedTape>({
  id: 'along-the-tape',
  stage: 'size',
  words,
  inputs,
  relations: faultsOf,
  figures: {
    dimmestLight: figure('%', 'higher', ({ light }) => light.dimmestPercent),
    brightestLight: figure('%', 'higher', ({ light }) => light.brightestPercent),
    evenness: figure('%', 'higher', ({ light }) => light.evennessPercent),
    lowestVoltage: figure('V', 'higher', ({ light }) => light.lowestV),
    current: { unit: 'A', better: 'lower', round: 'up', value: ({ tape }) => tape.sourceA },
    feedCurrent: figure('A', 'lower', ({ tape }) => tape.feedA),
    tapeWatts: figure('W', 'lower', ({ tape }) => tape.tapeW),
    railLoss: figure('W', 'lower', ({ tape }) => tape.railLossW),
    cableLoss: figure('W', 'lower', ({ tape }) => tape.feedLossW + tape.trunkLossW),
  },
  solve: (values) => solveFedTape(values),
  outcome: (fed, values) => outcomeOf(judgedFedTape(fed, values)),
  says: ({ judged }) => {
    const verdict = verdictOf(judged)
    const limit = nameOf(nearestOf(judged))
    return words.say(`says.${verdict === 'info' ? 'holds' : verdict}`, { limit })
  },
  unsafe: {
    tapeLength: 'up',
    tapePower: 'up',
    'feeds.distance': 'up',
    'trunk.distance': 'up',
    sourceVoltage: 'down',
    driverPower: 'down',
    railResistance: 'up',
    copperWeight: 'down',
    railWidth: 'down',
    knee: 'up',
    conductorTemp: 'up',
    evenness: 'up',
    leastLight: 'up',
  },
  irrelevant: (values) => [
    ...irrelevantOfRails(values),
    ...([...values.feeds, values.trunk].some((cable) => (cable?.distance ?? 0) > 0) ? [] : ['conductorTemp']),
  ],
  otherWays: (values) => {
    const layout = betterLayout(solveFedTape(values), values)
    return [...(layout ? [layoutValues(layout)] : []), ...higherVoltages(values)]
  },
  compose: (fed, values, given) => {
    const layout = betterLayout(fed, values)
    const better = layout && { layout, text: layoutText(layout, values) }
    return {
      headline: headline(fed, values, layout),
      limits: limitsOf(fed, values),
      cautions: cautionsOf(fed, values),
      working: fedTapeWorking(fed, values, better),
      next: nextOf(values, given, layout),
      alsoAssumed: cableAssumptions(fed, values),
      ...pictureOf(fed, values),
    }
  },
})
