import prompts from '../../prompts/en/meter-check.yaml'
import { addedResistanceAs } from '../calculators/added-resistance'
import { conductorOhmPerM, copperRise } from '../calculators/conductor'
import {
  type Circuit,
  meterCheck as checkReadings,
  type Estimate,
  type Finding,
  type MeterCheck,
  type MeterCheckInputs,
  PRESUMED_SOUND,
  type ReadingId,
  type Readings,
  readingDeviation,
  readingIds,
  voltagesAlong,
} from '../calculators/meter-check'
import { type ExplanationId, explanationIds } from '../calculators/meter-explanations'
import { countCutUnits } from '../calculators/tape-network'
import { printConductorSize } from '../quantities/conductor-size'
import { METRES_PER_FOOT, METRES_PER_INCH } from '../quantities/convert'
import { printNumber, printQuantity } from '../quantities/print'
import type { System } from '../quantities/systems'
import type { Finding as AnswerFinding, Assumption } from './common/answer'
import { cableOhmPerM, usualSize, usualStrands } from './common/fed-tape'
import { assumed, conductorSize, knownAs, optional, quantity, required } from './common/fields'
import { chosenSettings, lineCautions } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { asInputs, type Composition, defineQuestion, type FigureSpec, type Step } from './common/question'
import type { FieldFault, Values } from './common/read-inputs'
import { sizeFaultAt } from './common/relations'
import { irrelevantOfRails, railOhmPerMOf, railSteps, tapeFaults, tapeInputs } from './common/tape-inputs'
import { questionWordsOf } from './common/words'

/** A reading is believed up to this many times the tape's voltage, either way round. */
const readingSpan = 1.5
const voltageRange = { min: 3, max: 60 }
const reading = quantity('voltage', -readingSpan * voltageRange.max, readingSpan * voltageRange.max)

const inputs = {
  voltage: required(quantity('voltage', voltageRange.min, voltageRange.max)),
  tapePower: required(quantity('powerPerLength', 0.5, 40)),
  tapeLength: required(quantity('length', 0.01, 100)),
  driverOpen: optional(reading),
  driverLoaded: optional(reading),
  tapeStart: optional(reading),
  tapeEnd: optional(reading),
  current: knownAs('measuredCurrent', optional(quantity('current', 0, 100))),
  feedDistance: assumed(quantity('length', 0, 200), 0),
  gauge: assumed(conductorSize(), usualSize),
  ...tapeInputs,
  conductorTemp: assumed(quantity('temperature', -20, 90), 30),
  tapeTemp: assumed(quantity('temperature', -20, 90), 40),
  meterPercent: assumed(quantity('percent', 0.01, 10), 0.5),
  meterVolts: assumed(quantity('voltage', 0.001, 1), 0.02),
  clampPercent: assumed(quantity('percent', 0.01, 20), 2),
  clampAmps: assumed(quantity('current', 0.001, 2), 0.1),
}

type Inputs = Values<typeof inputs>

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['findings', 'expectedStart', 'expectedEnd', 'expectedCurrent'],
    limits: ['faultLead'],
    sentences: {
      'headline.unexplained': ['nearest'],
      'headline.notRuledOut': ['others', 'reading'],
      'headline.alsoLikely': ['others', 'tell'],
      'tell.reading': ['reading'],
      'tell.along': [],
      'tell.nothing': [],
      'name.as-designed': [],
      'name.feed-resistance': [],
      'name.rails': [],
      'name.source-low': [],
      'name.more-load': [],
      'name.poor-joint': [],
      'name.other-voltage': [],
      'name.reversed': [],
      'name.no-output': [],
      'name.open-circuit': [],
      'as-designed': [],
      'feed-resistance': ['ohm', 'as'],
      'as.longer': ['length'],
      'as.thinner': ['length', 'size'],
      'as.cable': ['length', 'size'],
      'as.splice': [],
      'rails.more': ['times'],
      'rails.less': ['times'],
      'source-low.itself': ['volts', 'rated'],
      'source-low.sags': ['volts'],
      'source-low.unknown': ['volts', 'rated'],
      'more-load': ['times'],
      'poor-joint': ['place', 'volts', 'ohm'],
      'other-voltage': ['volts', 'rated'],
      reversed: [],
      'no-output': [],
      'open-circuit.feed': [],
      'open-circuit.tape': ['place'],
      'open-circuit.either': ['high'],
      'place.about': ['at'],
      'place.between': ['low', 'high'],
      'size.about': ['value', 'unit'],
      'size.range': ['value', 'low', 'high', 'unit'],
      'size.orMore': ['value', 'low', 'unit'],
      'size.two': ['low', 'high'],
      'do.as-designed': [],
      'do.feed-resistance': [],
      'do.rails': [],
      'do.source-low.itself': [],
      'do.source-low.sags': [],
      'do.source-low.unknown': [],
      'do.more-load': [],
      'do.poor-joint': ['volts'],
      'do.other-voltage': [],
      'do.reversed': [],
      'do.no-output': [],
      'do.open-circuit': [],
      'reading.driverOpen': [],
      'reading.driverLoaded': [],
      'reading.tapeStart': [],
      'reading.tapeEnd': [],
      'reading.current': [],
      'table.none': [],
      'assumed.stranded': [],
      'assumed.flexible': [],
      'assumed.strands.why': [],
      'assumed.driver': [],
      'assumed.tape': [],
      'assumed.tolerance.why': [],
      'picture.title': [],
      'picture.description': ['expected', 'best', 'measured'],
      'picture.best': ['fault', 'values'],
      'picture.values': ['driver', 'start', 'end'],
      'picture.measured': ['reading', 'value'],
      'picture.voltage': [],
      'picture.position.us': [],
      'picture.position.metric': [],
      'picture.driver': [],
      'picture.expected': [],
      'picture.measuredLabel': [],
      'picture.unplugged': [],
    },
    cautions: ['low-side-only', 'volts-sockets', 'slipped-probe', 'full-brightness', 'wait', 'two-causes'],
    working: [
      'rails',
      'warmRails',
      'resistance',
      'feed',
      'network',
      'deviation',
      'asDesigned',
      'best',
      'ranking',
      'presumed',
      'extraLength',
    ],
    columns: ['reading', 'measured', 'expected', 'best'],
    faults: [],
  },
)

type Solution = { asked: MeterCheckInputs; check: MeterCheck }

/** What the drawing of this answer needs: plain numbers for the lines, and every text ready to be shown. */
export type MeterCheckPicture = {
  units: System
  lengthM: number
  expected: DrawnCircuit
  /** What explains the readings best, where that is a fault. */
  best?: DrawnCircuit & { label: string }
  /** Without a place: at the driver. */
  measured: { id: ReadingId; atM?: number; voltageV: number; text: string }[]
  title: string
  description: string
  labels: Record<'voltage' | 'position' | 'driver' | 'expected' | 'measured' | 'unplugged', string>
}

type DrawnCircuit = { driverV: number; along: { atM: number; voltageV: number }[] }

const readingsOf = (values: Inputs): Partial<Readings> =>
  Object.fromEntries(
    readingIds.flatMap((id) => (values[id] === undefined ? [] : [[id, values[id]]])),
  ) as Partial<Readings>

const takenOf = (values: Inputs): { id: ReadingId; value: number }[] =>
  readingIds.flatMap((id) => {
    const value = values[id]
    return value === undefined ? [] : [{ id, value }]
  })

function askedOf(values: Inputs): MeterCheckInputs {
  const { voltage, tapePower, tapeLength, cutLength, tapeTemp, knee, tapeStyle, feedDistance, gauge } = values
  return {
    tape: {
      lengthM: countCutUnits(tapeLength, cutLength) * cutLength,
      cutLengthM: cutLength,
      ratedV: voltage,
      ratedWPerM: tapePower,
      railOhmPerM: railOhmPerMOf(values) * copperRise(tapeTemp),
      knee,
      style: tapeStyle,
    },
    feedOhm: 2 * feedDistance * cableOhmPerM(gauge, values),
    readings: readingsOf(values),
    accuracy: values,
  }
}

function solve(values: Inputs): Solution {
  const asked = askedOf(values)
  return { asked, check: checkReadings(asked) }
}

function relations(values: Inputs, given: ReadonlySet<string>): FieldFault[] {
  const { rules, gauge, voltage, units } = values
  const mostV = readingSpan * voltage
  const print = (volts: number): string => printValue(volts, 'V', units)
  const beyond = takenOf(values).filter(
    ({ id, value }) => id !== 'current' && Math.abs(value) > mostV * (1 + 1e-9),
  )
  return [
    ...(takenOf(values).length === 0 ? [{ field: 'tapeEnd', reason: 'missing-alternative' }] : []),
    ...beyond.map(({ id }) => ({
      field: id,
      reason: 'out-of-range',
      values: { least: print(-mostV), most: print(mostV) },
      example: print(voltage),
    })),
    ...sizeFaultAt('gauge', gauge, rules),
    ...tapeFaults(values, given),
  ]
}

const volts = (value: number): string => printQuantity(value, 'V', { decimals: 1 })
const twoDigits = (value: number): string => printNumber(value, { significantDigits: 2 })

/** Where a length is better said in feet than in inches. */
const leastFeetM = 2 * METRES_PER_FOOT

/** A length as one would pace it off, not as one would cut it. */
function roughly(lengthM: number, units: System): string {
  if (units === 'metric') return `${twoDigits(lengthM)} m`
  return lengthM < leastFeetM
    ? `${printNumber(lengthM / METRES_PER_INCH, { decimals: 0 })} in`
    : `${twoDigits(lengthM / METRES_PER_FOOT)} ft`
}

/** Within a tenth either way a size is taken as known, and its range is not worth saying. */
const isKnown = ({ value, low, high }: Estimate): boolean => low >= 0.9 * value && high <= 1.1 * value

/** The unit, with the space before it, stands once behind the value. */
function sizeText(size: Estimate, print: (value: number) => string, unit = ''): string {
  const [value, low, high] = [size.value, size.low, size.high].map(print) as [string, string, string]
  if (isKnown(size) || low === high) return words.say('size.about', { value, unit })
  if (size.high > 10 * size.value) return words.say('size.orMore', { value, low, unit })
  return words.say('size.range', { value, low, high, unit })
}

const ohmsText = (size: Estimate): string => sizeText(size, twoDigits, ' ohm')
const timesText = (size: Estimate): string => sizeText(size, twoDigits)
const voltsText = (size: Estimate): string =>
  sizeText(size, (value) => printNumber(value, { decimals: 1 }), ' V')

function placeText({ value, low, high }: Estimate, units: System): string {
  const [at, from, to] = [value, low, high].map((lengthM) => roughly(lengthM, units)) as [
    string,
    string,
    string,
  ]
  return isKnown({ value, low, high }) || from === to
    ? words.say('place.about', { at })
    : words.say('place.between', { low: from, high: to })
}

const none: Estimate = { value: 0, low: 0, high: 0 }

type Kind = 'itself' | 'sags' | 'unknown'
const kindOf = ({ sags }: Finding): Kind => (sags === undefined ? 'unknown' : sags ? 'sags' : 'itself')

/** What a finding says, with its fitted size. */
function findingText(finding: Finding, values: Inputs): string {
  const { id, size = none, at = none, lostV = none } = finding
  const rated = volts(values.voltage)
  switch (id) {
    case 'feed-resistance':
      return capital(words.say(id, { ohm: ohmsText(size), as: resistanceAs(size.value, values) }))
    case 'rails':
      return words.say(size.value < 1 ? 'rails.less' : 'rails.more', { times: timesText(size) })
    case 'more-load':
      return capital(words.say(id, { times: timesText(size) }))
    case 'source-low':
      return words.say(`source-low.${kindOf(finding)}`, { volts: voltsText(size), rated })
    case 'poor-joint': {
      const place = placeText(at, values.units)
      return words.say(id, { place, volts: voltsText(lostV), ohm: ohmsText(size) })
    }
    case 'other-voltage':
      return words.say(id, { volts: tapeVolts(size), rated })
    case 'open-circuit':
      return breakText(at, values.units)
    default:
      return words.say(id, {})
  }
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

const tapeVolts = ({ low, high }: Estimate): string =>
  low === high ? volts(low) : words.say('size.two', { low: volts(low), high: volts(high) })

function breakText(at: Estimate, units: System): string {
  if (at.high === 0) return words.say('open-circuit.feed', {})
  if (at.low === 0) return words.say('open-circuit.either', { high: roughly(at.high, units) })
  return words.say('open-circuit.tape', { place: placeText(at, units) })
}

/** Cable longer than this says nothing to anybody. */
const longestExtraM = 100

function resistanceAs(addedOhm: number, values: Inputs): string {
  const { gauge, feedDistance, conductorTemp, rules, units } = values
  const strands = usualStrands(values)
  const cable = { size: gauge, strands, temperatureC: conductorTemp, distanceM: feedDistance, rules }
  const as = addedResistanceAs(addedOhm, cable)
  if (!as || as.extraLengthM > longestExtraM) return words.say('as.splice', {})
  const length = roughly(as.extraLengthM, units)
  if (feedDistance === 0) return words.say('as.cable', { length, size: printConductorSize(gauge) })
  return as.likeSize
    ? words.say('as.thinner', { length, size: printConductorSize(as.likeSize) })
    : words.say('as.longer', { length })
}

function actionFor(finding: Finding): string {
  const { id, lostV = none } = finding
  if (id === 'source-low') return words.say(`do.source-low.${kindOf(finding)}`, {})
  if (id === 'poor-joint') return words.say('do.poor-joint', { volts: volts(lostV.value) })
  return words.say(`do.${id}`, {})
}

const nameOf = ({ id }: Pick<Finding, 'id'>): string => words.say(`name.${id}`, {})

/** More names than this in one sentence help nobody. */
const mostNamed = 4

function headline({ check }: Solution, values: Inputs): string {
  const [first, ...rest] = check.findings
  const text = findingText(first, values)
  if (check.unexplained) return words.say('headline.unexplained', { nearest: text })
  const close = rest.filter(({ toldApart }) => !toldApart)
  if (close.length === 0) return `${text} ${actionFor(first)}`
  const others = close.slice(0, mostNamed).map(nameOf).join(', ')
  const [telling] = check.wouldTell
  const reading = telling && words.say(`reading.${telling.reading}`, {})
  if (first.id === 'as-designed') {
    return reading ? `${text} ${words.say('headline.notRuledOut', { others, reading })}` : text
  }
  const tell = reading ? words.say('tell.reading', { reading }) : untold([first, ...close])
  return `${text} ${words.say('headline.alsoLikely', { others, tell })} ${actionFor(first)}`
}

/** A poor joint shows where no end of the tape can. */
const untold = (likeliest: readonly Finding[]): string =>
  words.say(likeliest.some(({ id }) => id === 'poor-joint') ? 'tell.along' : 'tell.nothing', {})

const findingsOf = ({ check }: Solution, values: Inputs): AnswerFinding[] =>
  check.findings.map((finding) => ({
    id: finding.id,
    text: findingText(finding, values),
    ...(finding.size ? { size: { ...finding.size, unit: finding.size.unit ?? '' } } : {}),
    ...(finding.at ? { at: { ...finding.at, unit: 'm' } } : {}),
    ...(finding.lostV ? { lost: { ...finding.lostV, unit: 'V' } } : {}),
    misfit: finding.misfit,
    toldApart: finding.toldApart,
  }))

const printReading = (id: ReadingId, value: number): string =>
  printQuantity(value, id === 'current' ? 'A' : 'V', { decimals: 2 })

/** What was measured beside what a sound run and the best explanation would read. */
function tableOf({ check }: Solution, values: Inputs): NonNullable<Composition['table']> {
  const [first] = check.findings
  const isFault = first.id !== 'as-designed'
  const { reading: label = '', measured = '', expected = '', best = '' } = words.columns
  return {
    columns: [label, measured, expected, ...(isFault ? [best] : [])],
    rows: readingIds.map((id) => {
      const value = values[id]
      return [
        words.fields[id]?.label ?? id,
        value === undefined ? words.say('table.none', {}) : printReading(id, value),
        printReading(id, check.expected[id]),
        ...(isFault ? [printReading(id, first.predicted[id])] : []),
      ]
    }),
  }
}

function workingOf(solution: Solution, values: Inputs): Step[] {
  const { check } = solution
  const [first] = check.findings
  const sound = check.findings.find(({ id }) => id === 'as-designed') ?? first
  return [
    ...railSteps(values),
    warmRailsStep(solution, values),
    ...(values.feedDistance > 0 ? cableSteps(solution, values) : []),
    networkStep(solution),
    ...takenOf(values).map((taken) => deviationStep(taken, values)),
    misfitStep('asDesigned', sound, values),
    ...(first === sound ? [] : [misfitStep('best', first, values)]),
    ...(first.id === 'feed-resistance' ? extraLengthSteps(first, values) : []),
    rankingStep(solution),
    {
      id: 'presumed',
      formula: `score(sound) − score(best) > ${PRESUMED_SOUND}`,
      substituted: exactly(check.faultLead, ''),
      result: check.faultLead > PRESUMED_SOUND ? nameOf(first) : nameOf(sound),
      source: 'akaike-1974',
    },
  ]
}

const warmRailsStep = ({ asked }: Solution, values: Inputs): Step => ({
  id: 'warmRails',
  formula: 'r′(T) = r′ · (1 + 0.00393 · (T − 20))',
  substituted: `${exactly(railOhmPerMOf(values), 'ohm/m')} × (1 + 0.00393 × (${exactly(values.tapeTemp, 'degC')} − 20))`,
  result: exactly(asked.tape.railOhmPerM, 'ohm/m'),
  source: 'iec-60028',
})

function cableSteps({ asked }: Solution, values: Inputs): Step[] {
  const { gauge, conductorTemp, feedDistance, rules } = values
  const strands = usualStrands(values)
  const ohmPerM = exactly(
    conductorOhmPerM({ size: gauge, strands, temperatureC: conductorTemp }) ?? 0,
    'ohm/m',
  )
  return [
    {
      id: 'resistance',
      formula:
        rules === 'iec'
          ? 'R′ = R′(20 °C) · (1 + 0.00393 · (T − 20))'
          : 'R′ = R′(75 °C) · (1 + 0.00323 · (T − 75))',
      substituted: `${printConductorSize(gauge)} ${strands}, copper at ${exactly(conductorTemp, 'degC')}`,
      result: ohmPerM,
      source: rules === 'iec' ? 'iec-60228' : gauge.value > 18 ? 'iec-60028' : 'nec-ch9-t8',
    },
    {
      id: 'feed',
      formula: 'R = 2 · R′ · d',
      substituted: `2 × ${ohmPerM} × ${exactly(feedDistance, 'm')}`,
      result: exactly(asked.feedOhm, 'ohm'),
    },
  ]
}

const networkStep = ({ asked, check }: Solution): Step => ({
  id: 'network',
  formula: 'Σ I = 0 at each cut unit, fed at the start',
  substituted: `${countCutUnits(asked.tape.lengthM, asked.tape.cutLengthM)} cut units of ${exactly(asked.tape.ratedWPerM * asked.tape.cutLengthM, 'W')}, ${exactly(asked.feedOhm, 'ohm')} ahead`,
  result: `${exactly(check.expected.tapeStart, 'V')}, ${exactly(check.expected.tapeEnd, 'V')}, ${exactly(check.expected.current, 'A')}`,
  source: 'common-practice-tape-knee',
})

function deviationStep({ id, value }: { id: ReadingId; value: number }, values: Inputs): Step {
  const isCurrent = id === 'current'
  const unit = isCurrent ? 'A' : 'V'
  const part = isCurrent ? values.clampPercent : values.meterPercent
  const fixed = isCurrent ? values.clampAmps : values.meterVolts
  return {
    id: 'deviation',
    formula: 'σ = part · reading + fixed part',
    substituted: `${exactly(part, '%')} × ${exactly(Math.abs(value), unit)} + ${exactly(fixed, unit)}`,
    result: exactly(readingDeviation(id, value, values), unit),
    source: 'common-practice-meter-accuracy',
  }
}

function misfitStep(id: 'asDesigned' | 'best', { predicted, misfit }: Finding, values: Inputs): Step {
  const terms = takenOf(values).map(({ id: taken, value }) => {
    const deviation = readingDeviation(taken, value, values)
    return {
      squared: ((value - predicted[taken]) / deviation) ** 2,
      text: `((${exactly(value, '')} − ${exactly(predicted[taken], '')}) / ${exactly(deviation, '')})²`,
    }
  })
  const ofReadings = terms.reduce((sum, { squared }) => sum + squared, 0)
  return {
    id,
    formula: 'χ² = Σ ((reading − predicted) / σ)² + (driver off / 3 %)² + (tape off / 10 %)²',
    substituted: [...terms.map(({ text }) => text), exactly(Math.max(0, misfit - ofReadings), '')].join(
      ' + ',
    ),
    result: exactly(misfit, ''),
    source: 'least-squares',
  }
}

function extraLengthSteps({ size = none }: Finding, values: Inputs): Step[] {
  const ohmPerM = cableOhmPerM(values.gauge, values)
  return [
    {
      id: 'extraLength',
      formula: 'd₊ = R₊ / (2 · R′)',
      substituted: `${exactly(size.value, 'ohm')} / (2 × ${exactly(ohmPerM, 'ohm/m')})`,
      result: exactly(size.value / (2 * ohmPerM), 'm'),
    },
  ]
}

/** The explanations that are worth comparing in the working. */
const mostRanked = 5

const rankingStep = ({ check }: Solution): Step => ({
  id: 'ranking',
  formula: 'score = χ² + 2 · free quantities',
  substituted: check.findings
    .slice(0, mostRanked)
    .map((each) => `${nameOf(each)}: ${exactly(each.misfit, '')} + ${exactly(each.score - each.misfit, '')}`)
    .join('; '),
  result: nameOf(check.findings[0]),
  source: 'akaike-1974',
})

function cautionsOf({ check }: Solution, { rules }: Inputs): string[] {
  const reachesLineSide = check.findings[0].id === 'no-output'
  return [
    'low-side-only',
    'volts-sockets',
    ...(reachesLineSide ? lineCautions(rules) : []),
    'slipped-probe',
    'full-brightness',
    'wait',
    'two-causes',
  ]
}

function assumptionsOf(values: Inputs): Assumption[] {
  const strands = usualStrands(values) === 'flexible' ? 'flexible' : 'stranded'
  const tolerance = { why: words.say('assumed.tolerance.why', {}), source: 'common-practice-tape-tolerance' }
  const cable: Assumption = {
    field: 'gauge',
    text: words.say(`assumed.${strands}`, {}),
    why: words.say('assumed.strands.why', {}),
  }
  return [
    ...(values.feedDistance > 0 ? [cable] : []),
    { field: 'voltage', text: words.say('assumed.driver', {}), ...tolerance },
    { field: 'tapePower', text: words.say('assumed.tape', {}), ...tolerance },
  ]
}

/** Faults that a driver of another size may cure. */
const ofTheDriver: readonly string[] = ['source-low', 'more-load', 'no-output']

function nextOf({ check }: Solution, values: Inputs, given: ReadonlySet<string>): Composition['next'] {
  const settings = chosenSettings(values, given)
  const typed = asInputs(inputs, values, ['voltage', 'tapePower', 'tapeLength', 'feedDistance', 'gauge'])
  const { feedDistance: distance, gauge, ...tape } = typed
  const feed = values.feedDistance > 0 ? { at: '0 m', distance, gauge } : { at: '0 m' }
  const { id } = check.findings[0]
  return [
    { question: 'along-the-tape', inputs: { ...settings, ...tape, feeds: [feed] } },
    ...(id === 'feed-resistance'
      ? [
          {
            question: 'feed-gauge',
            inputs: { ...settings, ...tape, ...(values.feedDistance > 0 ? { distance } : {}) },
          },
        ]
      : []),
    ...(ofTheDriver.includes(id) ? [{ question: 'driver-size', inputs: { ...settings, ...tape } }] : []),
  ]
}

const drawn = (circuit: Circuit): DrawnCircuit => ({
  driverV: circuit.loadedV,
  along: voltagesAlong(circuit),
})

function pictureOf({ asked, check }: Solution, values: Inputs): { kind: string; data: MeterCheckPicture } {
  const [first] = check.findings
  const isFault = first.id !== 'as-designed'
  const { lengthM } = asked.tape
  const places: Partial<Record<ReadingId, number>> = { tapeStart: 0, tapeEnd: lengthM }
  const measured = takenOf(values)
    .filter(({ id }) => id !== 'current')
    .map(({ id, value }) => {
      const atM = places[id]
      return { id, ...(atM === undefined ? {} : { atM }), voltageV: value, text: printReading(id, value) }
    })
  const data: MeterCheckPicture = {
    units: values.units,
    lengthM,
    expected: drawn(check.sound),
    ...(isFault ? { best: { ...drawn(first.circuit), label: nameOf(first) } } : {}),
    measured,
    title: words.say('picture.title', {}),
    description: describe(check, values),
    labels: {
      voltage: words.say('picture.voltage', {}),
      position: words.say(`picture.position.${values.units}`, {}),
      driver: words.say('picture.driver', {}),
      expected: words.say('picture.expected', {}),
      measured: words.say('picture.measuredLabel', {}),
      unplugged: words.say('picture.unplugged', {}),
    },
  }
  return { kind: 'meter-check', data }
}

/** The drawing in words, for those who do not see it. */
function describe(check: MeterCheck, values: Inputs): string {
  const [first] = check.findings
  const said = ({ driverLoaded, tapeStart, tapeEnd }: Readings): string =>
    words.say('picture.values', { driver: volts(driverLoaded), start: volts(tapeStart), end: volts(tapeEnd) })
  const measured = takenOf(values).map(({ id, value }) =>
    words.say('picture.measured', {
      reading: words.say(`reading.${id}`, {}),
      value: printReading(id, value),
    }),
  )
  return words.say('picture.description', {
    expected: said(check.expected),
    best:
      first.id === 'as-designed'
        ? ''
        : words.say('picture.best', { fault: nameOf(first), values: said(first.predicted) }),
    measured: measured.join(', '),
  })
}

const expected = (
  id: ReadingId,
  unit: 'V' | 'A',
  better: 'higher' | 'lower',
): FigureSpec<Solution, Inputs> => ({
  unit,
  better,
  round: 'nearest',
  value: ({ check }) => check.expected[id],
})

/** My meter reads this: what is wrong? */
export const meterCheck = defineQuestion<typeof inputs, Solution>({
  id: 'meter-check',
  stage: 'prove',
  words,
  inputs,
  relations,
  figures: {
    findings: {
      unit: '',
      better: 'same',
      round: 'nearest',
      choices: explanationIds,
      choiceText: (id) => nameOf({ id: id as ExplanationId }),
      value: ({ check }) => check.findings[0].id,
      text: ({ check }) => nameOf(check.findings[0]),
    },
    expectedStart: expected('tapeStart', 'V', 'higher'),
    expectedEnd: expected('tapeEnd', 'V', 'higher'),
    expectedCurrent: expected('current', 'A', 'lower'),
  },
  solve,
  outcome: ({ check }) => ({
    step: check.findings[0].id,
    binding: '',
    judged: [
      {
        id: 'faultLead',
        value: Number(printNumber(Math.max(0, check.faultLead), { decimals: 1, rounding: 'up' })),
        limit: PRESUMED_SOUND,
        sense: 'at-most',
        unit: '',
      },
    ],
    fails: check.unexplained,
  }),
  says: ({ step }) => nameOf({ id: step as Finding['id'] }),
  unsafe: {},
  irrelevant: (values) => [
    ...irrelevantOfRails(values),
    ...(values.feedDistance > 0 ? [] : ['conductorTemp']),
    ...(values.current === undefined ? ['clampPercent', 'clampAmps'] : []),
    ...(takenOf(values).some(({ id }) => id !== 'current') ? [] : ['meterPercent', 'meterVolts']),
  ],
  compose: (solution, values, given) => ({
    headline: headline(solution, values),
    table: tableOf(solution, values),
    cautions: cautionsOf(solution, values),
    working: workingOf(solution, values),
    next: nextOf(solution, values, given),
    picture: pictureOf(solution, values),
    findings: findingsOf(solution, values),
    alsoAssumed: assumptionsOf(values),
  }),
})
