import prompts from '../../prompts/en/feed-gauge.yaml'
import {
  type CableLoad,
  chooseGauge,
  type GaugeChoice,
  type GaugeQuestion,
  type GaugeRow,
  loadCurrentA,
  reachAtGaugeM,
  thinnestThatFits,
} from '../calculators/cable-drop'
import type { Strands } from '../calculators/conductor'
import { printConductorSize } from '../quantities/conductor-size'
import { capacityStep, resistanceStep } from './common/cable-steps'
import { classTwoStep, isPastClassTwo } from './common/class-two'
import {
  assumed,
  choice,
  knownAs,
  type Measure,
  measure,
  optional,
  plainNumber,
  quantity,
  required,
  yesNo,
} from './common/fields'
import { chosenSettings } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { asInputs, type Composition, defineQuestion, type Outcome, type Step } from './common/question'
import type { Values } from './common/read-inputs'
import { nearestChange } from './common/search'
import type { Claim } from './common/spec'
import { type Judged, verdictOf } from './common/verdict'
import { questionWordsOf } from './common/words'

const inputs = {
  distance: knownAs('feedDistance', required(quantity('length', 0, 200))),
  voltage: required(quantity('voltage', 3, 60, 'line-voltage')),
  load: optional(quantity('power', 0.1, 2000)),
  current: knownAs('feedCurrent', optional(quantity('current', 0.01, 60))),
  tapePower: optional(quantity('powerPerLength', 0.5, 40)),
  tapeLength: optional(quantity('length', 0.01, 100)),
  allowedDrop: assumed(quantity('percent', 0.5, 20), 3),
  feedKind: assumed(choice('dc', 'ac'), 'dc'),
  powerFactor: knownAs('feedPowerFactor', assumed(plainNumber(0.3, 1), 0.9)),
  strands: assumed(
    choice('stranded', 'solid', 'flexible'),
    (known): Strands => (known.rules === 'iec' ? 'flexible' : 'stranded'),
  ),
  conductorTemp: assumed(quantity('temperature', -20, 90), (known) => (known.rules === 'iec' ? 70 : 75)),
  loadStyle: assumed(choice('constant-current', 'constant-power'), 'constant-current'),
  continuous: assumed(yesNo(), true),
  supplyLimit: optional(measure({ current: [0.1, 200], power: [1, 5000] })),
}

type Inputs = Values<typeof inputs>

type Solution = { asked: GaugeQuestion; choice: GaugeChoice; currentA: number; powerW: number }

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['gauge', 'current', 'drop', 'dropPercent', 'farEndVoltage', 'loss', 'reachAtGauge'],
    limits: ['drop', 'capacity', 'supply', 'made'],
    sentences: {
      'headline.fits': ['gauge', 'drop', 'percent', 'farEnd'],
      'headline.enough': ['gauge', 'drop', 'percent', 'farEnd'],
      'headline.fuse': ['gauge', 'thinner', 'fuse'],
      'headline.none': ['largest', 'ways'],
      'says.gauge': ['gauge'],
      'says.tight': ['gauge'],
      'says.none': [],
      'way.voltage': ['value'],
      'way.distance': ['value'],
      'way.beside': [],
      'way.load': ['value'],
      'way.feeds': ['count', 'gauge'],
      'way.nothing': [],
      'fit.yes': [],
      'fit.classTwo': [],
      'fit.fuse': ['fuse'],
      'fit.drop': [],
      'fit.capacity': [],
      'fit.supply-limit': [],
      'fit.cannot-carry': [],
      'fit.flexible-only': [],
    },
    cautions: [
      'listed-cable',
      'listed-cable-iec',
      'thin-is-class-two',
      'fuse-unknown',
      'one-way',
      'copper',
      'bundles',
    ],
    working: [
      'power',
      'current',
      'resistance',
      'drop',
      'dropPower',
      'percent',
      'capacity',
      'capacityShort',
      'loss',
      'classTwo',
    ],
    columns: ['size', 'drop', 'dropPercent', 'farEnd', 'loss', 'capacity', 'fit'],
    faults: ['line-voltage', 'ac-voltage', 'strands-nec'],
  },
)

/** Watts of the load at the supply's voltage, however it was given. */
const powerOf = (values: Inputs): number => {
  if (values.load !== undefined) return values.load
  if (values.current !== undefined) return values.current * values.voltage * powerFactorOf(values)
  return (values.tapePower ?? 0) * (values.tapeLength ?? 0)
}

const powerFactorOf = ({ feedKind, powerFactor }: Inputs): number => (feedKind === 'ac' ? powerFactor : 1)

function askedOf(values: Inputs): GaugeQuestion {
  const powerW = powerOf(values)
  const powerFactor = powerFactorOf(values)
  const currentA = values.current ?? loadCurrentA(powerW, values.voltage, powerFactor)
  const load: CableLoad =
    values.loadStyle === 'constant-power'
      ? { kind: 'constant-power', powerW }
      : { kind: 'constant-current', currentA }
  return {
    rules: values.rules,
    strands: values.strands,
    conductorTempC: values.conductorTemp,
    distanceM: values.distance,
    voltageV: values.voltage,
    load,
    powerFactor,
    allowedDropPercent: values.allowedDrop,
    continuous: values.continuous,
    ...(values.supplyLimit ? { supplyLimitA: amperesOf(values.supplyLimit, values.voltage) } : {}),
  }
}

const amperesOf = (limit: Measure, voltageV: number): number =>
  limit.unit === 'A' ? limit.value : limit.value / voltageV

function solve(values: Inputs): Solution {
  const asked = askedOf(values)
  const powerW = powerOf(values)
  const currentA = values.current ?? loadCurrentA(powerW, values.voltage, asked.powerFactor)
  return { asked, choice: chooseGauge(asked), currentA, powerW }
}

const chosenRow = ({ choice }: Solution): GaugeRow | undefined =>
  choice.chosen === undefined ? undefined : choice.rows[choice.chosen]

/** The row whose figures are shown: the chosen size, or the largest there is when none fits. */
const shownRow = (solution: Solution): GaugeRow | undefined =>
  chosenRow(solution) ?? solution.choice.rows.at(-1)

const sizeText = ({ size }: GaugeRow): string => printConductorSize(size)

/** The limits that one size meets or breaks; the drop only where it was given or is claimed. */
function judgedRow(row: GaugeRow, asked: GaugeQuestion, withDrop: boolean): Judged[] {
  const capacity: Judged = {
    id: 'capacity',
    value: row.currentA,
    limit: row.loadCapacityA,
    sense: 'at-most',
    unit: 'A',
  }
  const drop: Judged = {
    id: 'drop',
    value: row.dropPercent,
    limit: asked.allowedDropPercent,
    sense: 'at-most',
    unit: '%',
  }
  const supply: Judged[] = row.reasons.includes('supply-limit')
    ? [
        {
          id: 'supply',
          value: asked.supplyLimitA ?? 0,
          limit: row.capacity.overcurrentA,
          sense: 'at-most',
          unit: 'A',
        },
      ]
    : []
  return [capacity, ...(withDrop ? [drop] : []), ...supply]
}

/** A claimed size: beside its limits, whether it is sold with these strands at all. */
function judgedClaim(row: GaugeRow, { choice, asked }: Solution): Judged[] {
  const thinnestMade = choice.rows.find(({ reasons }) => !reasons.includes('flexible-only'))
  const made: Judged[] =
    row.reasons.includes('flexible-only') && thinnestMade
      ? [
          {
            id: 'made',
            value: row.size.value,
            limit: thinnestMade.size.value,
            sense: 'at-least',
            unit: row.size.unit,
          },
        ]
      : []
  return [...judgedRow(row, asked, true), ...made]
}

const outcomeOf = (row: GaugeRow | undefined, asked: GaugeQuestion, given: ReadonlySet<string>): Outcome => ({
  step: row?.size.value ?? 'none',
  binding: '',
  judged: row ? judgedRow(row, asked, given.has('allowedDrop')) : [],
  fails: row === undefined,
})

const fitText = (row: GaugeRow): string => {
  if (row.fits)
    return row.capacity.limitedSupplyOnly ? words.say('fit.classTwo', {}) : words.say('fit.yes', {})
  if (row.fuseA !== undefined)
    return words.say('fit.fuse', { fuse: printValue(row.fuseA, 'A', 'us', 'down') })
  return row.reasons.map((reason) => words.say(`fit.${reason}`, {})).join(', ')
}

/** With less cable than this the driver sits beside the tape, m. */
const shortestCableM = 0.1

/** Every way out when no size fits, each with its number. */
function waysOut(values: Inputs): string[] {
  const fits = (changed: Inputs): boolean => solve(changed).choice.chosen !== undefined
  const until = (field: 'voltage' | 'distance' | 'load' | 'current' | 'tapeLength', end: number) => {
    const start = values[field]
    return start === undefined
      ? null
      : nearestChange(start, end, false, (value) => fits({ ...values, [field]: value }))
  }
  const print = (value: number, unit: string, rounding: 'up' | 'down') =>
    printValue(value, unit, values.units, rounding)
  const ways: string[] = []
  const voltage = values.current === undefined ? until('voltage', 60) : null
  if (voltage) ways.push(words.say('way.voltage', { value: print(voltage.outside, 'V', 'up') }))
  const distance = until('distance', 0)
  if (distance) {
    const value = print(distance.outside, 'm', 'down')
    const isBeside = distance.outside < shortestCableM
    ways.push(isBeside ? words.say('way.beside', {}) : words.say('way.distance', { value }))
  }
  const less = { load: 'W', current: 'A', tapeLength: 'm' } as const
  for (const field of Object.keys(less) as (keyof typeof less)[]) {
    const found = until(field, 0)
    if (found) ways.push(words.say('way.load', { value: print(found.outside, less[field], 'down') }))
  }
  const feeds = [2, 3, 4, 6, 8].flatMap((count) => {
    const row = chosenRow(solve(shareOf(values, count)))
    return row ? [words.say('way.feeds', { count: String(count), gauge: sizeText(row) })] : []
  })
  return [...ways, ...feeds.slice(0, 1)]
}

/** The same question for one of several equal runs, each with its own cable. */
const shareOf = (values: Inputs, count: number): Inputs => ({
  ...values,
  load: values.load === undefined ? undefined : values.load / count,
  current: values.current === undefined ? undefined : values.current / count,
  tapeLength: values.tapeLength === undefined ? undefined : values.tapeLength / count,
})

/** Whether somebody claims a thicker size than is needed: then it is not that size which is to be used. */
const isMoreThanEnough = (claim: Claim | undefined, solution: Solution): boolean =>
  claim?.figure === 'gauge' &&
  'value' in claim &&
  solution.choice.rows.findIndex(({ size }) => size.value === claim.value) > (solution.choice.chosen ?? 0)

function headline(solution: Solution, values: Inputs, claim: Claim | undefined): string {
  const row = chosenRow(solution)
  const fused =
    solution.choice.withFuse === undefined ? undefined : solution.choice.rows[solution.choice.withFuse]
  if (!row || 'impossible' in row.drop) {
    const largest = solution.choice.rows.at(-1)
    const ways = waysOut(values)
    return words.say('headline.none', {
      largest: largest ? sizeText(largest) : '',
      ways: ways.length ? ways.join('; ') : words.say('way.nothing', {}),
    })
  }
  const print = (value: number, unit: string, rounding: 'up' | 'down') =>
    printValue(value, unit, values.units, rounding)
  const fits = words.say(isMoreThanEnough(claim, solution) ? 'headline.enough' : 'headline.fits', {
    gauge: sizeText(row),
    drop: print(row.drop.dropV, 'V', 'up'),
    percent: print(row.dropPercent, '%', 'up'),
    farEnd: print(row.drop.farEndV, 'V', 'down'),
  })
  if (!fused?.fuseA) return fits
  const fuse = { gauge: sizeText(row), thinner: sizeText(fused), fuse: print(fused.fuseA, 'A', 'down') }
  return `${fits} ${words.say('headline.fuse', fuse)}`
}

function tableOf({ choice }: Solution): NonNullable<Composition['table']> {
  const print = (value: number, unit: string, rounding: 'up' | 'down') =>
    printValue(value, unit, 'us', rounding)
  const cannot = '–'
  return {
    columns: Object.values(words.columns),
    rows: choice.rows.map((row) => {
      const drop = 'impossible' in row.drop ? undefined : row.drop
      return [
        sizeText(row),
        drop ? print(drop.dropV, 'V', 'up') : cannot,
        drop ? print(row.dropPercent, '%', 'up') : cannot,
        drop ? print(drop.farEndV, 'V', 'down') : cannot,
        drop ? print(drop.lossW, 'W', 'up') : cannot,
        print(row.loadCapacityA, 'A', 'down'),
        fitText(row),
      ]
    }),
    ...(choice.chosen === undefined ? {} : { chosen: choice.chosen }),
  }
}

function limitsOf(row: GaugeRow, solution: Solution): NonNullable<Composition['limits']> {
  const thinner = solution.choice.rows[solution.choice.rows.indexOf(row) - 1]
  const kept = row.fits ? (thinner?.reasons ?? []) : row.reasons
  const { asked } = solution
  return [
    {
      id: 'drop',
      value: asked.allowedDropPercent,
      unit: '%',
      binds: kept.includes('drop') || kept.includes('cannot-carry'),
    },
    { id: 'capacity', value: row.loadCapacityA, unit: 'A', binds: kept.includes('capacity') },
    ...(asked.supplyLimitA === undefined
      ? []
      : [
          { id: 'supply', value: row.capacity.overcurrentA, unit: 'A', binds: kept.includes('supply-limit') },
        ]),
  ]
}

function workingOf(row: GaugeRow, solution: Solution, values: Inputs): Step[] {
  const { strands, conductorTemp, continuous, feedKind, rules, voltage } = values
  const { size, capacity, loadCapacityA: allowedA, currentA, drop } = row
  return [
    ...loadSteps(solution, values),
    resistanceStep({ size, strands, conductorTemp }),
    ...('impossible' in drop ? [] : dropSteps(row, drop, solution, values)),
    capacityStep(capacity, { size, allowedA, currentA }, continuous ? 'capacity' : 'capacityShort'),
    ...(feedKind === 'dc' && rules === 'nec' ? [classTwoStep(voltage)] : []),
  ]
}

function loadSteps({ currentA, powerW }: Solution, values: Inputs): Step[] {
  const { tapePower, tapeLength, voltage, feedKind, powerFactor } = values
  const steps: Step[] = []
  if (tapePower !== undefined && tapeLength !== undefined) {
    const substituted = `${exactly(tapePower, 'W/m')} × ${exactly(tapeLength, 'm')}`
    steps.push({ id: 'power', formula: 'P = w′ · L', substituted, result: exactly(powerW, 'W') })
  }
  if (values.current === undefined) {
    const ac = feedKind === 'ac'
    const formula = ac ? 'I = P / (V · pf)' : 'I = P / V'
    const substituted = `${exactly(powerW, 'W')} / ${ac ? '(' : ''}${exactly(voltage, 'V')}${ac ? ` × ${powerFactor})` : ''}`
    steps.push({ id: 'current', formula, substituted, result: exactly(currentA, 'A') })
  }
  return steps
}

function dropSteps(
  row: GaugeRow,
  drop: Exclude<GaugeRow['drop'], { impossible: string }>,
  { asked, powerW }: Solution,
  { voltage, distance, rules }: Inputs,
): Step[] {
  const ohm = exactly(row.ohmPerM, 'ohm/m')
  const way = exactly(distance, 'm')
  const dropV = exactly(drop.dropV, 'V')
  const first: Step =
    asked.load.kind === 'constant-power'
      ? {
          id: 'dropPower',
          formula: 'drop = V − (V + √(V² − 4 · P · 2 · R′ · d)) / 2',
          substituted: `${voltage} − (${voltage} + √(${voltage}² − 4 × ${exactly(powerW, 'W')} × 2 × ${ohm} × ${way})) / 2`,
          result: dropV,
        }
      : {
          id: 'drop',
          formula: 'drop = 2 · I · R′ · d',
          substituted: `2 × ${exactly(drop.currentA, 'A')} × ${ohm} × ${way}`,
          result: dropV,
        }
  return [
    first,
    {
      id: 'percent',
      formula: '100 · drop / V',
      substituted: `100 × ${dropV} / ${exactly(voltage, 'V')}`,
      result: exactly(row.dropPercent, '%'),
      source: rules === 'iec' ? 'iec-60364-5-52' : 'nec-210-19-a',
    },
    {
      id: 'loss',
      formula: 'P = I · drop',
      substituted: `${exactly(drop.currentA, 'A')} × ${dropV}`,
      result: exactly(drop.lossW, 'W'),
    },
  ]
}

/** What the supply can push into a fault, where nobody says, or where it is past Class 2. */
function supplyCautions(
  row: GaugeRow | undefined,
  { choice, asked }: Solution,
  { rules, feedKind, supplyLimit, voltage }: Inputs,
): Composition['cautions'] {
  if (rules === 'iec') {
    const capacity = row && printValue(row.capacity.overcurrentA, 'A', 'us', 'down')
    return capacity && !supplyLimit ? [{ id: 'fuse-unknown', values: { capacity } }] : []
  }
  const past =
    asked.supplyLimitA === undefined
      ? choice.aboveClassTwo
      : isPastClassTwo(asked.supplyLimitA * voltage, voltage)
  return feedKind === 'dc' && past ? ['past-class-two'] : []
}

function cautionsOf(row: GaugeRow | undefined, solution: Solution, values: Inputs): Composition['cautions'] {
  const listed =
    values.rules === 'iec' ? ['listed-cable-iec', 'line-apart-iec'] : ['listed-cable', 'line-apart']
  return [
    ...supplyCautions(row, solution, values),
    ...(row?.capacity.limitedSupplyOnly ? ['thin-is-class-two'] : []),
    ...listed,
    'one-way',
    'copper',
    'bundles',
  ]
}

/** What gauge for this distance, voltage and load? The low-voltage side only. */
export const feedGauge = defineQuestion<typeof inputs, Solution>({
  id: 'feed-gauge',
  stage: 'size',
  words,
  inputs,
  alternatives: [[['load'], ['current'], ['tapePower', 'tapeLength']]],
  relations: (values) => [
    ...(values.feedKind === 'ac' && (values.voltage < 6 || values.voltage > 30)
      ? [{ field: 'voltage', reason: 'ac-voltage', example: '24 V' }]
      : []),
    ...(values.rules === 'nec' && values.strands === 'flexible'
      ? [{ field: 'strands', reason: 'strands-nec', example: 'stranded' }]
      : []),
  ],
  figures: {
    gauge: {
      unit: 'size',
      better: 'higher',
      round: 'nearest',
      value: (solution) => chosenRow(solution)?.size.value,
    },
    current: {
      unit: 'A',
      better: 'lower',
      round: 'up',
      value: (solution) => shownRow(solution)?.currentA,
    },
    drop: { unit: 'V', better: 'lower', round: 'up', value: (solution) => dropOf(solution)?.dropV },
    dropPercent: {
      unit: '%',
      better: 'lower',
      round: 'up',
      value: (solution) => dropOf(solution) && shownRow(solution)?.dropPercent,
    },
    farEndVoltage: {
      unit: 'V',
      better: 'higher',
      round: 'down',
      value: (solution) => dropOf(solution)?.farEndV,
    },
    loss: { unit: 'W', better: 'lower', round: 'up', value: (solution) => dropOf(solution)?.lossW },
    reachAtGauge: {
      unit: 'm',
      better: 'higher',
      round: 'down',
      value: (solution) => {
        const row = shownRow(solution)
        return row && reachAtGaugeM(solution.asked, row)
      },
    },
  },
  solve,
  outcome: (solution, _, given) => outcomeOf(chosenRow(solution), solution.asked, given),
  outcomeAt: (values, given) => {
    const asked = askedOf(values)
    return outcomeOf(thinnestThatFits(asked), asked, given)
  },
  says: ({ step, judged }, { rules }) => {
    if (step === 'none') return words.say('says.none', {})
    const gauge = printConductorSize({ value: Number(step), unit: rules === 'iec' ? 'mm2' : 'AWG' })
    return words.say(verdictOf(judged) === 'tight' ? 'says.tight' : 'says.gauge', { gauge })
  },
  unsafe: {
    distance: 'up',
    load: 'up',
    current: 'up',
    tapePower: 'up',
    tapeLength: 'up',
    voltage: 'down',
    allowedDrop: 'down',
    conductorTemp: 'up',
    powerFactor: 'down',
    supplyLimit: 'up',
  },
  irrelevant: ({ feedKind, rules }) => [
    ...(feedKind === 'ac' ? [] : ['powerFactor']),
    ...(rules === 'iec' ? ['continuous'] : []),
  ],
  judgeClaim: (claim, solution) => {
    if (claim.figure !== 'gauge' || !('value' in claim)) return undefined
    const row = solution.choice.rows.find(({ size }) => size.value === claim.value)
    return row && judgedClaim(row, solution)
  },
  otherWays: ({ loadStyle, rules, strands }) => [
    ...(loadStyle === 'constant-power' ? [{ loadStyle: 'constant-current' as const }] : []),
    ...(rules === 'iec' && strands !== 'flexible' ? [{ strands: 'flexible' as const }] : []),
  ],
  compose: (solution, values, given, claim) => {
    const row = shownRow(solution)
    return {
      headline: headline(solution, values, claim),
      table: tableOf(solution),
      limits: row ? limitsOf(row, solution) : [],
      cautions: cautionsOf(chosenRow(solution), solution, values),
      working: row ? workingOf(row, solution, values) : [],
      next: nextOf(solution, values, given),
    }
  },
})

function nextOf(solution: Solution, values: Inputs, given: ReadonlySet<string>): Composition['next'] {
  const settings = chosenSettings(values, given)
  const load = `${Number(solution.powerW.toFixed(3))} W`
  const tape =
    values.tapePower === undefined ? { load } : asInputs(inputs, values, ['tapePower', 'tapeLength'])
  const driver = { ...settings, ...asInputs(inputs, values, ['voltage']), ...tape }
  return [
    ...(values.feedKind === 'dc' ? [{ question: 'driver-size', inputs: driver }] : []),
    { question: 'hole-fit', inputs: settings },
    { question: 'pull-plan', inputs: { ...settings, legs: [`${values.distance} m`] } },
  ]
}

const dropOf = (solution: Solution) => {
  const drop = shownRow(solution)?.drop
  return drop && !('impossible' in drop) ? drop : undefined
}
