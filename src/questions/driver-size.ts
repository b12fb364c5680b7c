import prompts from '../../prompts/en/driver-size.yaml'
import { type ClassTwoShare, type DriverLoad, type DriverSize, sizeDriver } from '../calculators/driver'
import { countCutUnits } from '../calculators/tape-network'
import type { Rounding } from '../quantities/print'
import { classTwoLimitA, classTwoNameplateW, classTwo as classTwoTable } from '../tables/class-two'
import { isPastClassTwo } from './common/class-two'
import {
  countsOutputs,
  deratingOf,
  driverSteps,
  driverWorking,
  largestDriverW,
} from './common/driver-working'
import { assumed, choice, list, optional, plainNumber, quantity, required } from './common/fields'
import { chosenSettings, lineCautions, supplyFaults, supplyInput } from './common/line-side'
import { printValue } from './common/printing'
import { asInputs, type Composition, defineQuestion, type Outcome } from './common/question'
import type { FieldFault, Values } from './common/read-inputs'
import { lengthFaults, usualCutLengthM } from './common/tape-inputs'
import { questionWordsOf } from './common/words'

/** Loads that are worked out, W. */
const loadRange = { min: 0.5, max: 5000 }

const temperature = quantity('temperature', -40, 90)

const inputs = {
  voltage: required(quantity('voltage', 3, 60)),
  load: optional(quantity('power', loadRange.min, loadRange.max)),
  tapePower: optional(quantity('powerPerLength', 0.5, 40)),
  tapeLength: optional(list(quantity('length', 0.01, 100), 1, 50)),
  driverLoadLimit: assumed(quantity('percent', 10, 100), 80),
  ambient: assumed(temperature, 25),
  fullOutputTo: optional(temperature),
  derateAt: optional(quantity('temperature', -40, 120)),
  derateTo: optional(quantity('percent', 1, 99)),
  efficiency: assumed(quantity('percent', 50, 99), 88),
  powerFactor: assumed(plainNumber(0.3, 1), 0.9),
  supply: supplyInput,
  classTwo: assumed(choice('prefer', 'no-matter'), ({ rules }) => (rules === 'iec' ? 'no-matter' : 'prefer')),
  classTwoNameplate: assumed(quantity('power', 1, 100), ({ voltage }) => classTwoNameplateW(voltage)),
  cutLength: assumed(quantity('length', 0.005, 0.5), usualCutLengthM),
}

type Inputs = Values<typeof inputs>

/** A driver of a size, or air too hot for any with this label. */
type Solution = ReturnType<typeof sizeDriver>

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: [
      'rating',
      'load',
      'needed',
      'driverLoad',
      'outputCurrent',
      'inputPower',
      'inputCurrent',
      'heat',
      'classTwoOutputs',
      'lengthPerOutput',
    ],
    limits: ['ambient', 'loadLimit', 'classTwo'],
    sentences: {
      'headline.classTwoDriver': ['rating', 'load', 'share'],
      'headline.classTwoOutput': ['nameplate', 'usable', 'load'],
      'headline.classTwoCuts': ['nameplate', 'length'],
      'headline.outputs': ['count', 'nameplate', 'each', 'load', 'single'],
      'headline.each': ['length'],
      'headline.single.past': ['rating'],
      'headline.single.within': ['rating'],
      'headline.driver': ['rating', 'load', 'share'],
      'headline.noOutput': ['rating', 'load', 'share', 'nameplate'],
      'headline.tooLarge': ['needed', 'largest', 'drivers', 'outputs'],
      'headline.orOutputs': ['count', 'nameplate'],
      'headline.tooHot': ['ambient', 'end'],
      'says.rating': ['rating'],
      'says.outputs': ['rating', 'count'],
      'says.output': ['rating'],
      'says.noOutput': ['rating'],
      'says.tooLarge': ['count', 'largest'],
      'says.hot': ['answer'],
      'says.tooHot': [],
      'rating.notClassTwo': ['rating'],
      'share.plain': ['share', 'rating'],
      'share.derated': ['share', 'rating', 'left', 'derated'],
      piece: ['length', 'run'],
      'piece.whole': ['run', 'length'],
      'piece.only': ['length'],
      apart: [],
    },
    cautions: [
      'listed-for-place',
      'listed-for-place-iec',
      'over-thirty-volts',
      'reachable',
      'outputs-apart',
      'past-class-two',
      'fuse-thin-feed',
      'no-line',
      'enclosure',
      'not-proven',
      'surge',
    ],
    working: driverSteps,
    columns: ['output', 'feeds', 'load'],
    faults: [
      'derating-incomplete',
      'derating-order',
      'past-class-two-limit',
      'too-much-tape',
      'outputs-not-counted',
    ],
  },
)

/** What is told of Class 2 outputs, where they count. */
const outputFigures: readonly string[] = ['classTwoOutputs', 'lengthPerOutput']

/** Above this a driver whose label is not known may give less than its rating, °C (common practice). */
const hotFromC = 40

/** More outputs than this are counted, but not listed one by one. */
const mostOutputsListed = 24

/** More drivers than this are too many for one circuit or one dimmer to be asked about. */
const mostDriversFollowed = 30

const loadOf = ({ load, tapePower, tapeLength, cutLength }: Inputs): DriverLoad =>
  tapePower === undefined || tapeLength === undefined
    ? { kind: 'watts', loadW: load ?? 0 }
    : { kind: 'runs', runsM: tapeLength, ratedWPerM: tapePower, cutLengthM: cutLength }

function solve(values: Inputs): Solution {
  const derating = deratingOf(values)
  return sizeDriver({
    voltageV: values.voltage,
    load: loadOf(values),
    loadLimitPercent: values.driverLoadLimit,
    ambientC: values.ambient,
    ...(derating ? { derating } : {}),
    efficiencyPercent: values.efficiency,
    powerFactor: values.powerFactor,
    supplyV: values.supply,
    classTwoNameplateW: values.classTwoNameplate,
  })
}

const sizeOf = (solution: Solution): DriverSize | undefined =>
  'tooHotAboveC' in solution ? undefined : solution

const watts = (value: number, rounding: Rounding = 'nearest'): string =>
  printValue(value, 'W', 'us', rounding)
const percent = (value: number): string => printValue(value, '%', 'us', 'up')
const lengthText = (lengthM: number, { units }: Inputs): string => printValue(lengthM, 'm', units, 'down')

function faultsOf(values: Inputs, given: ReadonlySet<string>): FieldFault[] {
  return [
    ...supplyFaults(values),
    ...deratingFaults(values, given),
    ...nameplateFaults(values, given),
    ...tapeFaults(values),
  ]
}

function deratingFaults({ fullOutputTo, derateAt, units }: Inputs, given: ReadonlySet<string>): FieldFault[] {
  const line = ['fullOutputTo', 'derateAt', 'derateTo']
  const missing = line.filter((field) => !given.has(field))
  if (missing.length === line.length) return []
  if (missing.length > 0) return missing.map((field) => ({ field, reason: 'derating-incomplete' }))
  if (fullOutputTo === undefined || derateAt === undefined || derateAt > fullOutputTo) return []
  return [
    {
      field: 'derateAt',
      reason: 'derating-order',
      values: { least: printValue(fullOutputTo, 'degC', units) },
    },
  ]
}

function nameplateFaults(values: Inputs, given: ReadonlySet<string>): FieldFault[] {
  const { voltage, classTwoNameplate } = values
  if (!given.has('classTwoNameplate') || !isPastClassTwo(classTwoNameplate, voltage)) return []
  const most = watts((classTwoLimitA(voltage) ?? 0) * voltage, 'down')
  const example = watts(classTwoNameplateW(voltage), 'down')
  return [{ field: 'classTwoNameplate', reason: 'past-class-two-limit', values: { most }, example }]
}

function tapeFaults(values: Inputs): FieldFault[] {
  const { tapePower, tapeLength } = values
  if (tapePower === undefined || tapeLength === undefined) return []
  const ofRuns = tapeLength.flatMap((lengthM, at) =>
    lengthFaults(tapeLength.length > 1 ? `tapeLength.${at}` : 'tapeLength', lengthM, values),
  )
  const powerW = tapePower * tapeLength.reduce((total, lengthM) => total + lengthM, 0)
  if (powerW <= loadRange.max * (1 + 1e-9)) return ofRuns
  const said = { found: watts(powerW), most: watts(loadRange.max) }
  return [...ofRuns, { field: 'tapeLength', reason: 'too-much-tape', values: said }]
}

function headline(solution: Solution, values: Inputs): string {
  if ('tooHotAboveC' in solution) return headlineTooHot(solution.tooHotAboveC, values)
  const { ratingW, loadPercentOfRating, classTwo: share, loadW } = solution
  if (ratingW === undefined || loadPercentOfRating === undefined) return headlineTooLarge(solution, values)
  const said = { rating: watts(ratingW), load: watts(loadW, 'up'), share: percent(loadPercentOfRating) }
  if (values.classTwo === 'no-matter') return words.say('headline.driver', said)
  const nameplate = watts(values.classTwoNameplate)
  if (share.outputs === undefined) return words.say('headline.noOutput', { ...said, nameplate })
  if (share.outputs > 1) return headlineOfOutputs(solution, ratingW, values)
  return isWithinNameplate(ratingW, values)
    ? words.say('headline.classTwoDriver', said)
    : headlineOfOneOutput(solution, values)
}

const isWithinNameplate = (ratingW: number, { classTwoNameplate }: Inputs): boolean =>
  ratingW <= classTwoNameplate * (1 + 1e-9)

/** What lies past the last whole cut does not light, so that an output may do where the watts alone would say no. */
function headlineOfOneOutput({ classTwo, loadW }: DriverSize, values: Inputs): string {
  const nameplate = watts(values.classTwoNameplate)
  const { usableW, lengthPerOutputM } = classTwo
  return loadW > usableW && lengthPerOutputM !== undefined
    ? words.say('headline.classTwoCuts', { nameplate, length: lengthText(lengthPerOutputM, values) })
    : words.say('headline.classTwoOutput', {
        nameplate,
        usable: watts(usableW, 'down'),
        load: watts(loadW, 'up'),
      })
}

function headlineOfOutputs({ classTwo, loadW }: DriverSize, ratingW: number, values: Inputs): string {
  const { lengthPerOutputM, outputs, usableW } = classTwo
  const past = isPastClassTwo(ratingW, values.voltage)
  return words.say('headline.outputs', {
    count: String(outputs),
    nameplate: watts(values.classTwoNameplate),
    each:
      lengthPerOutputM === undefined
        ? watts(usableW, 'down')
        : words.say('headline.each', { length: lengthText(lengthPerOutputM, values) }),
    load: watts(loadW, 'up'),
    single: words.say(past ? 'headline.single.past' : 'headline.single.within', { rating: watts(ratingW) }),
  })
}

function headlineTooLarge({ neededW, drivers, classTwo }: DriverSize, values: Inputs): string {
  const nameplate = watts(values.classTwoNameplate)
  const offered = countsOutputs(values) && classTwo.outputs !== undefined
  return words.say('headline.tooLarge', {
    needed: watts(neededW, 'up'),
    largest: watts(largestDriverW),
    drivers: String(drivers),
    outputs: offered ? words.say('headline.orOutputs', { count: String(classTwo.outputs), nameplate }) : '',
  })
}

const headlineTooHot = (endC: number, { ambient, units }: Inputs): string =>
  words.say('headline.tooHot', {
    ambient: printValue(ambient, 'degC', units, 'up'),
    end: printValue(endC, 'degC', units, 'down'),
  })

/** Whether several Class 2 outputs are advised rather than one driver. */
const sharesOutputs = ({ classTwo }: DriverSize, values: Inputs): boolean =>
  values.classTwo === 'prefer' && (classTwo.outputs ?? 0) > 1

/** The answer in a few words. */
function inFewWords(solution: Solution, values: Inputs): string {
  if ('tooHotAboveC' in solution) return words.say('says.tooHot', {})
  const { ratingW, drivers, classTwo } = solution
  if (ratingW === undefined) {
    return words.say('says.tooLarge', { count: String(drivers), largest: watts(largestDriverW) })
  }
  const rating = watts(ratingW)
  if (values.classTwo === 'no-matter') return words.say('says.rating', { rating })
  if (classTwo.outputs === undefined) return words.say('says.noOutput', { rating })
  return classTwo.outputs === 1
    ? words.say('says.output', { rating })
    : words.say('says.outputs', { rating, count: String(classTwo.outputs) })
}

/** Without the label's line nobody knows what the driver gives in the heat: there the answer is a different one. */
const isHotUnknown = (values: Inputs): boolean => values.ambient > hotFromC && !deratingOf(values)

function stepOf(solution: Solution, values: Inputs): string {
  const answer = inFewWords(solution, values)
  return isHotUnknown(values) ? words.say('says.hot', { answer }) : answer
}

const outcomeOf = (solution: Solution, values: Inputs): Outcome => ({
  step: stepOf(solution, values),
  binding: '',
  judged: [],
  fails: sizeOf(solution)?.ratingW === undefined,
})

function ratingText(solution: Solution, values: Inputs): string {
  const ratingW = sizeOf(solution)?.ratingW ?? 0
  const rating = watts(ratingW)
  return countsOutputs(values) && isPastClassTwo(ratingW, values.voltage)
    ? words.say('rating.notClassTwo', { rating })
    : rating
}

function driverLoadText(solution: Solution): string {
  const {
    ratingW = 0,
    loadPercentOfRating = 0,
    loadPercentOfDerated = 0,
    deratedToPercent,
  } = sizeOf(solution) ?? { deratedToPercent: 100 }
  const said = { share: percent(loadPercentOfRating), rating: watts(ratingW) }
  if (deratedToPercent >= 100) return words.say('share.plain', said)
  const derated = watts((ratingW * deratedToPercent) / 100, 'down')
  return words.say('share.derated', { ...said, left: percent(loadPercentOfDerated), derated })
}

function limitsOf(solution: Solution, values: Inputs): NonNullable<Composition['limits']> {
  const { derateAt } = values
  const size = sizeOf(solution)
  const ambient =
    derateAt === undefined
      ? []
      : [{ id: 'ambient', value: derateAt, unit: 'degC', binds: size === undefined }]
  if (!size) return ambient
  const byOutputs = size.ratingW !== undefined && sharesOutputs(size, values)
  const usable = (size.ratingW ?? largestDriverW) * usableShare(size, values)
  return [
    { id: 'loadLimit', value: usable, unit: 'W', binds: !byOutputs },
    ...(countsOutputs(values)
      ? [{ id: 'classTwo', value: size.classTwo.usableW, unit: 'W', binds: byOutputs }]
      : []),
    ...ambient,
  ]
}

const usableShare = ({ deratedToPercent }: DriverSize, { driverLoadLimit }: Inputs): number =>
  (driverLoadLimit / 100) * (deratedToPercent / 100)

/** What each Class 2 output feeds, where several share the tape. */
function tableOf({ classTwo }: DriverSize, values: Inputs): Composition['table'] | undefined {
  const { pieces = [] } = classTwo
  if (values.classTwo === 'no-matter' || pieces.length < 2 || pieces.length > mostOutputsListed)
    return undefined
  const { cutLength, tapePower = 0 } = values
  return {
    columns: Object.values(words.columns),
    rows: pieces.map((fed, at) => {
      const units = fed.reduce((total, piece) => total + piece.units, 0)
      const feeds = fed.map((piece) => pieceText(piece, values)).join(words.say('apart', {}))
      return [String(at + 1), feeds, watts(units * cutLength * tapePower)]
    }),
  }
}

function pieceText({ run, units }: { run: number; units: number }, values: Inputs): string {
  const { tapeLength = [], cutLength } = values
  const said = { run: String(run + 1), length: lengthText(units * cutLength, values) }
  if (tapeLength.length === 1) return words.say('piece.only', said)
  const whole = countCutUnits(tapeLength[run] ?? 0, cutLength) === units
  return words.say(whole ? 'piece.whole' : 'piece', said)
}

function cautionsOf(solution: Solution, values: Inputs): Composition['cautions'] {
  const { rules, voltage, classTwo, ambient, units } = values
  const size = sizeOf(solution)
  const share = size?.classTwo
  return [
    ...lineCautions(rules),
    'constant-voltage',
    rules === 'iec' ? 'listed-for-place-iec' : 'listed-for-place',
    ...(rules === 'nec' && voltage > classTwoTable.wetContact.continuousV ? ['over-thirty-volts'] : []),
    'reachable',
    'enclosure',
    ...(isHotUnknown(values)
      ? [{ id: 'no-line', values: { ambient: printValue(ambient, 'degC', units) } }]
      : []),
    ...(size && sharesOutputs(size, values) ? ['outputs-apart'] : []),
    ...(size ? supplyCautions(size, values) : []),
    ...(share && classTwo === 'prefer' && !share.proven ? ['not-proven'] : []),
    'surge',
  ]
}

/** What a driver that is not Class 2 can push into a fault decides about wiring and fuses. */
function supplyCautions(
  { ratingW = largestDriverW }: DriverSize,
  { rules, voltage }: Inputs,
): Composition['cautions'] {
  if (rules === 'iec') {
    return [{ id: 'fuse-thin-feed', values: { current: printValue(ratingW / voltage, 'A', 'us', 'up') } }]
  }
  return isPastClassTwo(ratingW, voltage)
    ? [{ id: 'past-class-two', values: { rating: watts(ratingW) } }]
    : []
}

function nextOf(size: DriverSize, values: Inputs, given: ReadonlySet<string>): Composition['next'] {
  const settings = chosenSettings(values, given)
  const carry = (...ids: (keyof typeof inputs)[]) =>
    asInputs(
      inputs,
      values,
      ids.filter((id) => given.has(id)),
    )
  const supplies = suppliesOf(size, values)
  const share = (totalW: number) => `${Number((totalW / supplies.count).toFixed(3))} W`
  const drivers = Array.from({ length: supplies.count }, () => share(size.inputW))
  const line = { ...settings, ...carry('supply', 'powerFactor') }
  return [
    ...(values.tapePower === undefined
      ? []
      : [
          {
            question: 'tape-reach',
            inputs: {
              ...settings,
              ...carry('voltage', 'tapePower', 'driverLoadLimit', 'cutLength'),
              driverPower: `${supplies.ratingW} W`,
            },
          },
        ]),
    { question: 'feed-gauge', inputs: { ...settings, ...carry('voltage'), load: share(size.loadW) } },
    ...(supplies.count > mostDriversFollowed
      ? []
      : [
          { question: 'circuit-room', inputs: { ...line, added: drivers } },
          { question: 'dimmer-fit', inputs: { ...settings, ...carry('powerFactor'), drivers } },
        ]),
  ]
}

/** What is to be bought: how many supplies, and of which rating, W; the load is shared alike between them. */
function suppliesOf(size: DriverSize, values: Inputs): { count: number; ratingW: number } {
  const { outputs } = size.classTwo
  const oneDriverDoes = size.ratingW !== undefined && isWithinNameplate(size.ratingW, values)
  return values.classTwo === 'prefer' && outputs !== undefined && !oneDriverDoes
    ? { count: outputs, ratingW: values.classTwoNameplate }
    : { count: size.drivers, ratingW: size.ratingW ?? largestDriverW }
}

/** What driver does this much tape need? */
export const driverSize = defineQuestion<typeof inputs, Solution>({
  id: 'driver-size',
  stage: 'size',
  words,
  inputs,
  alternatives: [[['load'], ['tapePower', 'tapeLength']]],
  relations: faultsOf,
  figures: {
    rating: {
      unit: 'W',
      better: 'lower',
      round: 'nearest',
      value: (solution) => sizeOf(solution)?.ratingW,
      text: ratingText,
    },
    load: { unit: 'W', better: 'lower', round: 'up', value: (solution) => sizeOf(solution)?.loadW },
    needed: { unit: 'W', better: 'lower', round: 'up', value: (solution) => sizeOf(solution)?.neededW },
    driverLoad: {
      unit: '%',
      better: 'lower',
      round: 'up',
      value: (solution) => sizeOf(solution)?.loadPercentOfRating,
      text: driverLoadText,
    },
    outputCurrent: {
      unit: 'A',
      better: 'lower',
      round: 'up',
      value: (solution) => sizeOf(solution)?.outputA,
    },
    inputPower: { unit: 'W', better: 'lower', round: 'up', value: (solution) => sizeOf(solution)?.inputW },
    inputCurrent: { unit: 'A', better: 'lower', round: 'up', value: (solution) => sizeOf(solution)?.inputA },
    heat: { unit: 'W', better: 'lower', round: 'up', value: (solution) => sizeOf(solution)?.heatW },
    classTwoOutputs: {
      unit: 'count',
      better: 'lower',
      round: 'up',
      value: (solution, values) => shareOf(solution, values)?.outputs,
    },
    lengthPerOutput: {
      unit: 'm',
      better: 'higher',
      round: 'down',
      value: (solution, values) => {
        const share = shareOf(solution, values)
        return share?.outputs === undefined ? undefined : share.lengthPerOutputM
      },
    },
  },
  solve,
  outcome: outcomeOf,
  says: ({ step }) => String(step),
  unsafe: {
    load: 'up',
    tapePower: 'up',
    tapeLength: 'up',
    driverLoadLimit: 'down',
    ambient: 'up',
    fullOutputTo: 'down',
    derateAt: 'down',
    derateTo: 'down',
    classTwoNameplate: 'down',
  },
  claimFaults: ({ figure }, given, { rules }) => [
    ...(figure === 'lengthPerOutput' && given.has('load')
      ? ['tapePower', 'tapeLength'].map((field) => ({ field, reason: 'missing' }))
      : []),
    ...(outputFigures.includes(figure) && rules === 'iec' && !given.has('classTwo')
      ? [{ field: 'classTwo', reason: 'outputs-not-counted' }]
      : []),
  ],
  judgeClaim: (claim, solution, { ambient }) => {
    if (claim.figure !== 'rating' || !('value' in claim)) return undefined
    if ('tooHotAboveC' in solution) {
      const limit = solution.tooHotAboveC
      return [{ id: 'ambient', value: ambient, limit, sense: 'at-most', unit: 'degC' }]
    }
    return [{ id: 'needed', value: solution.neededW, limit: claim.value, sense: 'at-most', unit: 'W' }]
  },
  irrelevant: (values) => [
    ...(countsOutputs(values) ? [] : ['classTwo', 'classTwoNameplate']),
    ...(countsOutputs(values) && values.load === undefined ? [] : ['cutLength']),
  ],
  compose: (solution, values, given) => {
    const size = sizeOf(solution)
    const table = size && tableOf(size, values)
    return {
      headline: headline(solution, values),
      limits: limitsOf(solution, values),
      ...(table ? { table } : {}),
      cautions: cautionsOf(solution, values),
      working: size ? driverWorking(size, values) : [],
      next: size ? nextOf(size, values, given) : [],
    }
  },
})

const shareOf = (solution: Solution, values: Inputs): ClassTwoShare | undefined =>
  countsOutputs(values) ? sizeOf(solution)?.classTwo : undefined
