import prompts from '../../prompts/en/dimmer-fit.yaml'
import {
  type DimmerFit,
  type DimmerKind,
  type DimmerRating,
  type DriverDimming,
  driverInputsW,
  dimmerFit as fitOfDimmer,
  type SidesRemoved,
} from '../calculators/dimmer'
import { classTwoLimitA } from '../tables/class-two'
import {
  assumed,
  choice,
  count,
  list,
  type Measure,
  measure,
  optional,
  plainNumber,
  quantity,
  required,
  yesNo,
} from './common/fields'
import { chosenSettings, lineCautions } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { asInputs, defineQuestion, type Step } from './common/question'
import type { FieldFault, Values } from './common/read-inputs'
import { nearestChange } from './common/search'
import type { Claim } from './common/spec'
import { type Judged, use, verdictOf, verdictOfOne } from './common/verdict'
import { questionWordsOf } from './common/words'

const rating = () => measure({ power: [10, 2000], apparentPower: [10, 2000] })

const inputs = {
  dimmerRating: optional(rating()),
  drivers: required(list(quantity('power', 0.5, 1000), 1, 30)),
  efficiency: optional(quantity('percent', 50, 99)),
  powerFactor: assumed(plainNumber(0.3, 1), 0.9),
  sidesRemoved: assumed(count(0, 2), 0),
  ratingOneSide: optional(rating()),
  ratingBothSides: optional(rating()),
  dimmerMinimum: optional(quantity('power', 0.1, 500)),
  dimmerKind: optional(
    choice('forward-phase', 'reverse-phase', '0-10V', 'DALI', 'low-voltage-pwm', 'switch'),
  ),
  driverDimming: optional(choice('forward-phase', 'reverse-phase', 'either-phase', '0-10V', 'DALI', 'none')),
  dimmerCurrentRating: optional(quantity('current', 0.1, 100)),
  dimmedCurrent: optional(quantity('current', 0.01, 100)),
  voltage: optional(quantity('voltage', 3, 60)),
  heldAtFull: optional(yesNo()),
}

type Inputs = Values<typeof inputs>

type Solution = { fit: DimmerFit; driversW: readonly number[]; rating: DimmerRating; matches: boolean }

const kindSentences = {
  'dimmer.forward-phase': [],
  'dimmer.reverse-phase': [],
  'dimmer.0-10V': [],
  'dimmer.DALI': [],
  'dimmer.low-voltage-pwm': [],
  'dimmer.switch': [],
  'driver.forward-phase': [],
  'driver.reverse-phase': [],
  'driver.either-phase': [],
  'driver.0-10V': [],
  'driver.DALI': [],
  'driver.none': [],
} as const

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['driversAtMost', 'load', 'allowed', 'dimmerLoad', 'minimumMet'],
    limits: ['rating', 'minimum', 'match'],
    sentences: {
      'headline.countOne': ['count', 'driver', 'device', 'allowed'],
      'headline.fits': ['load', 'device', 'allowed', 'percent'],
      'headline.justFits': ['load', 'device', 'allowed', 'percent'],
      'headline.atMost': ['count'],
      'headline.over': ['load', 'device', 'allowed', 'ways'],
      'headline.minimum': ['load', 'minimum', 'missing'],
      'headline.mismatch': ['dimmer', 'driver', 'drivers', 'dimmers'],
      'headline.notDimmable': ['dimmer', 'dimmers'],
      'headline.notHeld': [],
      'allowed.whole': ['allowed'],
      'allowed.one': ['allowed'],
      'allowed.both': ['allowed'],
      'way.rating': ['value'],
      'way.fewer': ['count'],
      'way.sides': ['value'],
      'way.less': ['value'],
      'minimum.yes': [],
      'minimum.no': [],
      'minimum.met': ['load', 'minimum'],
      'minimum.missed': ['load', 'minimum', 'missing'],
      'match.assumed': [],
      'match.why': [],
      'current.assumed': ['value'],
      'current.why': [],
      'says.count': ['count'],
      'says.holds': [],
      'says.tight': [],
      'says.fails': [],
      or: [],
      'device.dimmer': [],
      'device.switch': [],
      ...kindSentences,
    },
    cautions: [
      'marked-driver',
      'side-by-side',
      'sides-by-habit',
      'sides-stay-off',
      'control-wires',
      'held-at-full',
      'try-lowest',
      'marking',
      'no-iec-rule',
    ],
    working: ['inputs', 'load', 'loadVA', 'current', 'allowed', 'percent', 'count', 'minimum'],
    columns: [],
    faults: ['low-voltage-only', 'no-sides', 'minimum-for-claim', 'no-count'],
  },
)

const isLowVoltage = ({ dimmerKind }: Inputs): boolean => dimmerKind === 'low-voltage-pwm'

/** The unit that the load is counted in: that of the dimmer's rating. */
const ratedIn = (values: Inputs): DimmerRating['unit'] => {
  if (isLowVoltage(values)) return 'A'
  return values.dimmerRating?.unit === 'VA' ? 'VA' : 'W'
}

/** A rating in the unit that the dimmer is rated in. */
const inUnit = (said: Measure | undefined, unit: string, powerFactor: number): number | undefined => {
  if (said === undefined || said.unit === unit) return said?.value
  return unit === 'VA' ? said.value / powerFactor : said.value * powerFactor
}

/** Watts at the tape's voltage, where a low-voltage dimmer is not rated in amperes. */
function ratingOf(values: Inputs): DimmerRating {
  const { dimmerRating, dimmerCurrentRating, voltage = 1 } = values
  if (isLowVoltage(values)) {
    return { value: dimmerCurrentRating ?? (dimmerRating?.value ?? 0) / voltage, unit: 'A' }
  }
  return { value: dimmerRating?.value ?? 0, unit: ratedIn(values) }
}

/** All that the drivers could give, where nobody says what the dimmed tape takes. */
const dimmedCurrentOf = ({ dimmedCurrent, drivers, voltage = 1 }: Inputs): number =>
  dimmedCurrent ?? drivers.reduce((sum, watts) => sum + watts, 0) / voltage

/** What a low-voltage dimmer has behind it, to be held against its least load. */
const dimmedW = (currentA: number, voltageV: number | undefined): number[] =>
  voltageV === undefined ? [] : [currentA * voltageV]

function solve(values: Inputs): Solution {
  const { efficiency, powerFactor } = values
  const driversW = efficiency === undefined ? values.drivers : driverInputsW(values.drivers, efficiency)
  const rating = ratingOf(values)
  const dimmedCurrentA = dimmedCurrentOf(values)
  const fit = fitOfDimmer({
    rating,
    driversW: isLowVoltage(values) ? dimmedW(dimmedCurrentA, values.voltage) : driversW,
    dimmedCurrentA,
    powerFactor,
    sidesRemoved: values.sidesRemoved as SidesRemoved,
    ratingOneSide: inUnit(values.ratingOneSide, rating.unit, powerFactor),
    ratingBothSides: inUnit(values.ratingBothSides, rating.unit, powerFactor),
    minimumW: values.dimmerMinimum,
    dimmerKind: values.dimmerKind,
    driverDimming: values.driverDimming,
    heldAtFull: values.heldAtFull,
  })
  return { fit, driversW, rating, matches: (fit.match?.matches ?? true) && !isDimmedTwice(values) }
}

/** A low-voltage dimmer behind a driver of which somebody says that it is dimmed as well. */
const isDimmedTwice = (values: Inputs): boolean =>
  isLowVoltage(values) && values.heldAtFull === false && values.driverDimming !== 'none'

function relations(values: Inputs, given: ReadonlySet<string>): FieldFault[] {
  const missing = (field: string): FieldFault => ({ field, reason: 'missing' })
  if (!isLowVoltage(values)) {
    return ['dimmerCurrentRating', 'dimmedCurrent', 'heldAtFull']
      .filter((field) => given.has(field))
      .map((field) => ({ field, reason: 'low-voltage-only' }))
  }
  const { dimmerCurrentRating, dimmedCurrent, dimmerMinimum, voltage } = values
  const needsVoltage = dimmerCurrentRating === undefined || dimmerMinimum !== undefined
  const sides = ['ratingOneSide', 'ratingBothSides'].filter((field) => given.has(field))
  if (values.sidesRemoved > 0) sides.push('sidesRemoved')
  return [
    ...(voltage === undefined && needsVoltage ? [missing('voltage')] : []),
    ...(voltage === undefined && !needsVoltage && dimmedCurrent === undefined
      ? [missing('dimmedCurrent')]
      : []),
    ...sides.map((field) => ({ field, reason: 'no-sides' })),
  ]
}

const isAllowed = ({ fit, matches }: Solution): boolean => matches && fit.allowed

function judgedFit({ fit }: Solution, { dimmerMinimum }: Inputs): Judged[] {
  const rating: Judged = {
    id: 'rating',
    value: fit.load,
    limit: fit.permitted,
    sense: 'at-most',
    unit: fit.unit,
  }
  if (!fit.minimum || dimmerMinimum === undefined) return [rating]
  const { loadW } = fit.minimum
  return [rating, { id: 'minimum', value: loadW, limit: dimmerMinimum, sense: 'at-least', unit: 'W' }]
}

/** How many like the largest of them; for equal drivers the figure, for others only a claim's measure. */
const countOfLargest = ({ fit, driversW }: Solution, { powerFactor, voltage = 1 }: Inputs): number => {
  const wattsInUnit = { W: 1, VA: powerFactor, A: voltage }[fit.unit]
  const largest = Math.max(...driversW) / wattsInUnit
  return fit.driversAtMost ?? Math.floor((fit.permitted / largest) * (1 + 1e-9))
}

/** The ratings that carry the load, the fewer drivers, the sides left on: each with its number. */
function waysOutOfOverload(solution: Solution, values: Inputs): string[] {
  const { fit, rating } = solution
  const holds = (changed: Inputs): boolean => !solve(changed).fit.reasons.includes('over-rating')
  const ways: string[] = []
  const lowVoltage = isLowVoltage(values)
  const larger = nearestChange(rating.value, lowVoltage ? 100 : 2000, false, (value) =>
    holds({
      ...values,
      ...(lowVoltage ? { dimmerCurrentRating: value } : { dimmerRating: { value, unit: rating.unit } }),
    }),
  )
  if (larger) {
    ways.push(words.say('way.rating', { value: printValue(larger.outside, fit.unit, values.units, 'up') }))
  }
  if (values.sidesRemoved > 0 && holds({ ...values, sidesRemoved: 0 })) {
    ways.push(words.say('way.sides', { value: printValue(rating.value, fit.unit, values.units, 'down') }))
  }
  if (fit.driversAtMost !== null && fit.driversAtMost > 0)
    ways.push(words.say('way.fewer', { count: String(fit.driversAtMost) }))
  else if (fit.driversAtMost === null)
    ways.push(words.say('way.less', { value: printValue(fit.permitted, fit.unit, values.units, 'down') }))
  return ways
}

const either = (parts: readonly string[]): string => {
  const [last] = parts.slice(-1)
  return parts.length < 2
    ? (last ?? '')
    : `${parts.slice(0, -1).join(', ')} ${words.say('or', {})} ${last ?? ''}`
}

const dimmerName = (kind: DimmerKind): string => words.say(`dimmer.${kind}`, {})
const driverName = (dimming: DriverDimming): string => words.say(`driver.${dimming}`, {})

/** A switch goes with every driver and dims none of them, so it is a way out only where nothing else is. */
const otherDimmers = (kinds: readonly DimmerKind[]): DimmerKind[] => {
  const dimming = kinds.filter((kind) => kind !== 'switch' && kind !== 'low-voltage-pwm')
  return dimming.length > 0 ? dimming : [...kinds]
}

function mismatchSentence({ fit }: Solution, values: Inputs): string[] {
  const { dimmerKind, driverDimming } = values
  if (isDimmedTwice(values) || (isLowVoltage(values) && fit.match?.matches === false)) {
    return [words.say('headline.notHeld', {})]
  }
  if (!fit.match || fit.match.matches || !dimmerKind || !driverDimming) return []
  const dimmers = either(otherDimmers(fit.match.dimmersThatWould).map(dimmerName))
  const dimmer = dimmerName(dimmerKind)
  if (driverDimming === 'none') return [words.say('headline.notDimmable', { dimmer, dimmers })]
  const drivers = either(fit.match.dimmingThatWould.map(driverName))
  return [words.say('headline.mismatch', { dimmer, driver: driverName(driverDimming), drivers, dimmers })]
}

/** What it may carry, and how many of its side sections are gone. */
function allowedText({ fit }: Solution, { sidesRemoved, units }: Inputs): string {
  const allowed = printValue(fit.permitted, fit.unit, units, 'down')
  if (fit.unit === 'A' || sidesRemoved === 0) return words.say('allowed.whole', { allowed })
  return words.say(sidesRemoved === 1 ? 'allowed.one' : 'allowed.both', { allowed })
}

function loadSentences(solution: Solution, values: Inputs): string[] {
  const { fit } = solution
  const load = printValue(fit.load, fit.unit, values.units, 'up')
  const allowed = allowedText(solution, values)
  const device = words.say(values.dimmerKind === 'switch' ? 'device.switch' : 'device.dimmer', {})
  if (fit.reasons.includes('over-rating')) {
    const ways = waysOutOfOverload(solution, values).join('; ')
    return [words.say('headline.over', { load, device, allowed, ways })]
  }
  const atMost = fit.driversAtMost
  if (values.drivers.length === 1 && atMost !== null) {
    return [words.say('headline.countOne', { count: String(atMost), driver: load, device, allowed })]
  }
  const percent = printValue(fit.loadPercent, '%', values.units, 'up')
  const tight = verdictOf(judgedFit(solution, values)) === 'tight'
  const fits = words.say(tight ? 'headline.justFits' : 'headline.fits', { load, device, allowed, percent })
  return atMost === null ? [fits] : [fits, words.say('headline.atMost', { count: String(atMost) })]
}

function minimumSentence({ fit }: Solution, values: Inputs): string[] {
  const { dimmerMinimum } = values
  if (!fit.minimum || fit.minimum.met || dimmerMinimum === undefined) return []
  return [
    words.say('headline.minimum', {
      load: watts(fit.minimum.loadW, values, 'down'),
      minimum: watts(dimmerMinimum, values, 'up'),
      missing: watts(fit.minimum.missingW, values, 'up'),
    }),
  ]
}

/** What is wrong first; the load only where it is that, or nothing is. */
function headline(solution: Solution, values: Inputs): string {
  const wrong = [...mismatchSentence(solution, values), ...minimumSentence(solution, values)]
  const over = solution.fit.reasons.includes('over-rating')
  return [...wrong, ...(over || wrong.length === 0 ? loadSentences(solution, values) : [])].join(' ')
}

function workingOf({ fit, driversW, rating }: Solution, values: Inputs): Step[] {
  const { efficiency, powerFactor, drivers, dimmerMinimum } = values
  const sumW = exactly(
    driversW.reduce((sum, watts) => sum + watts, 0),
    'W',
  )
  const each = driversW.map((watts) => exactly(watts, 'W')).join(' + ')
  const steps: Step[] = []
  if (efficiency !== undefined && fit.unit !== 'A') {
    const substituted = `(${drivers.map((watts) => exactly(watts, 'W')).join(' + ')}) / ${exactly(efficiency, '%')}`
    steps.push({ id: 'inputs', formula: 'P = Σ P_out / efficiency', substituted, result: sumW })
  }
  if (fit.unit === 'A') steps.push(...currentSteps(fit, values))
  else steps.push({ id: 'load', formula: 'P = Σ P of the drivers', substituted: each, result: sumW })
  if (fit.unit === 'VA') {
    const substituted = `${sumW} / ${powerFactor}`
    steps.push({ id: 'loadVA', formula: 'S = P / pf', substituted, result: exactly(fit.load, 'VA') })
  }
  const load = exactly(fit.load, fit.unit)
  const permitted = exactly(fit.permitted, fit.unit)
  steps.push(allowedStep(fit, rating, values), {
    id: 'percent',
    formula: '100 · load / allowed',
    substituted: `100 × ${load} / ${permitted}`,
    result: exactly(fit.loadPercent, '%'),
  })
  if (fit.driversAtMost !== null) {
    const one = exactly(fit.load / drivers.length, fit.unit)
    const substituted = `${permitted} / ${one}`
    steps.push({
      id: 'count',
      formula: 'whole drivers in allowed / P',
      substituted,
      result: String(fit.driversAtMost),
    })
  }
  if (fit.minimum && dimmerMinimum !== undefined) {
    const substituted = `${exactly(fit.minimum.loadW, 'W')} ≥ ${exactly(dimmerMinimum, 'W')}`
    steps.push({ id: 'minimum', formula: 'P ≥ minimum', substituted, result: fit.minimum.met ? 'yes' : 'no' })
  }
  return steps
}

const currentSteps = (fit: DimmerFit, { dimmedCurrent, drivers, voltage = 1 }: Inputs): Step[] =>
  dimmedCurrent === undefined
    ? [
        {
          id: 'current',
          formula: 'I = Σ P / V, all that the drivers could give',
          substituted: `(${drivers.map((watts) => exactly(watts, 'W')).join(' + ')}) / ${exactly(voltage, 'V')}`,
          result: exactly(fit.load, 'A'),
        },
      ]
    : []

function allowedStep(fit: DimmerFit, rating: DimmerRating, values: Inputs): Step {
  const whole = exactly(rating.value, rating.unit)
  const permitted = { id: 'allowed', result: exactly(fit.permitted, fit.unit) }
  if (fit.permittedBy === 'rating') {
    const source = values.rules === 'nec' && fit.unit !== 'A' ? { source: 'nec-404-14' } : {}
    return { ...permitted, formula: 'its rating', substituted: whole, ...source }
  }
  if (fit.permittedBy === 'instructions') {
    return { ...permitted, formula: 'what its instructions say', substituted: permitted.result }
  }
  const share = values.sidesRemoved === 1 ? '5/6' : '2/3'
  return {
    ...permitted,
    formula: `rating · ${share}`,
    substituted: `${whole} × ${share}`,
    source: 'common-practice-dimmer-sides',
  }
}

function cautionsOf({ fit }: Solution, values: Inputs): string[] {
  const { dimmerKind, driverDimming, sidesRemoved, voltage, rules } = values
  const isSwitch = dimmerKind === 'switch'
  const analogue = dimmerKind === '0-10V' || driverDimming === '0-10V'
  const limitA = voltage === undefined ? undefined : classTwoLimitA(voltage)
  const pastClassTwo = fit.unit === 'A' && rules === 'nec' && limitA !== undefined && fit.load > limitA
  return [
    ...lineCautions(rules),
    'marked-driver',
    ...(pastClassTwo ? ['past-class-two'] : []),
    ...(fit.unit === 'A' ? ['held-at-full'] : []),
    ...(fit.unit === 'A' || isSwitch ? [] : ['side-by-side']),
    ...(fit.permittedBy === 'common-practice' ? ['sides-by-habit'] : []),
    ...(sidesRemoved > 0 ? ['sides-stay-off'] : []),
    ...(analogue ? ['control-wires'] : []),
    rules === 'iec' ? 'no-iec-rule' : 'marking',
    ...(isSwitch ? [] : ['try-lowest']),
  ]
}

/** What nobody said and the answer still rests on. */
function alsoAssumed(solution: Solution, values: Inputs) {
  const unmatched = values.dimmerKind === undefined || values.driverDimming === undefined
  const settled = values.dimmerKind === 'switch' || isLowVoltage(values)
  const field = values.dimmerKind === undefined ? 'dimmerKind' : 'driverDimming'
  const worst = isLowVoltage(values) && values.dimmedCurrent === undefined
  const value = printValue(solution.fit.load, solution.fit.unit, values.units, 'up')
  return [
    ...(unmatched && !settled
      ? [
          {
            field,
            text: words.say('match.assumed', {}),
            why: words.say('match.why', {}),
            source: 'common-practice-dimmer-match',
          },
        ]
      : []),
    ...(worst
      ? [
          {
            field: 'dimmedCurrent',
            text: words.say('current.assumed', { value }),
            why: words.say('current.why', {}),
          },
        ]
      : []),
  ]
}

function irrelevant(values: Inputs): string[] {
  const { dimmerRating, ratingOneSide, ratingBothSides } = values
  if (isLowVoltage(values)) return ['powerFactor', 'sidesRemoved', 'efficiency']
  const apparent = [dimmerRating, ratingOneSide, ratingBothSides].some((said) => said?.unit === 'VA')
  return apparent ? [] : ['powerFactor']
}

const watts = (value: number, { units }: Inputs, rounding: 'up' | 'down'): string =>
  printValue(value, 'W', units, rounding)

/** The load against the least load, with both numbers. */
function minimumText({ fit }: Solution, values: Inputs): string {
  const said = {
    load: watts(fit.minimum?.loadW ?? 0, values, 'down'),
    minimum: watts(values.dimmerMinimum ?? 0, values, 'up'),
  }
  if (fit.minimum?.met) return words.say('minimum.met', said)
  return words.say('minimum.missed', { ...said, missing: watts(fit.minimum?.missingW ?? 0, values, 'up') })
}

/** Enough load wants a least load; a dimmer that is rated in amperes does not count drivers. */
function claimFaults({ figure }: Claim, given: ReadonlySet<string>): FieldFault[] {
  if (figure === 'minimumMet' && !given.has('dimmerMinimum')) {
    return [{ field: 'dimmerMinimum', reason: 'minimum-for-claim' }]
  }
  const counts = figure === 'driversAtMost' && given.has('dimmerCurrentRating')
  return counts ? [{ field: 'claim', reason: 'no-count', example: '4 A' }] : []
}

/** A claim on how many drivers, or on enough load; the others are compared with their figure. */
function judgeClaim(claim: Claim, solution: Solution, values: Inputs): Judged[] | undefined {
  if (claim.figure === 'minimumMet' && 'choice' in claim) {
    const minimum = judgedFit(solution, values).filter(({ id }) => id === 'minimum')
    return claim.choice === 'yes' ? minimum : minimum.map((each) => ({ ...each, sense: 'at-most' }))
  }
  if (claim.figure !== 'driversAtMost' || !('value' in claim)) return undefined
  const known = countOfLargest(solution, values)
  const count = { sense: 'at-least', unit: 'count' } as const
  const enough: Judged = { ...count, id: 'driversAtMost', value: known, limit: claim.value }
  return solution.matches ? [enough] : [enough, { ...count, id: 'match', value: 0, limit: 1 }]
}

/** Will this dimmer run these drivers, in this gang? */
export const dimmerFit = defineQuestion<typeof inputs, Solution>({
  id: 'dimmer-fit',
  stage: 'switch',
  words,
  inputs,
  alternatives: [[['dimmerRating'], ['dimmerCurrentRating']]],
  relations,
  figures: {
    driversAtMost: {
      unit: 'count',
      better: 'higher',
      round: 'down',
      value: ({ fit }) => fit.driversAtMost ?? undefined,
    },
    load: { unit: 'W', unitOf: ratedIn, better: 'lower', round: 'up', value: ({ fit }) => fit.load },
    allowed: {
      unit: 'W',
      unitOf: ratedIn,
      better: 'higher',
      round: 'down',
      value: ({ fit }) => fit.permitted,
    },
    dimmerLoad: { unit: '%', better: 'lower', round: 'up', value: ({ fit }) => fit.loadPercent },
    minimumMet: {
      unit: '',
      better: 'same',
      round: 'nearest',
      choices: ['no', 'yes'],
      choiceText: (choice) => words.say(choice === 'yes' ? 'minimum.yes' : 'minimum.no', {}),
      value: ({ fit }) => (fit.minimum ? (fit.minimum.met ? 'yes' : 'no') : undefined),
      text: minimumText,
    },
  },
  solve,
  outcome: (solution, values) => ({
    // With one driver the count is what is asked; with several, whether they fit.
    step: values.drivers.length === 1 && isAllowed(solution) ? (solution.fit.driversAtMost ?? '') : '',
    binding: '',
    judged: solution.matches ? judgedFit(solution, values) : [],
    fails: !solution.matches,
  }),
  says: ({ step, judged, fails }) => {
    const verdict = fails ? 'fails' : verdictOf(judged)
    if (typeof step === 'number' && verdict !== 'fails')
      return words.say('says.count', { count: String(step) })
    return words.say(`says.${verdict === 'info' ? 'holds' : verdict}`, {})
  },
  unsafe: {
    drivers: 'up',
    dimmerRating: 'down',
    efficiency: 'down',
    powerFactor: 'down',
    sidesRemoved: 'up',
    ratingOneSide: 'down',
    ratingBothSides: 'down',
    dimmerMinimum: 'up',
    dimmerCurrentRating: 'down',
    dimmedCurrent: 'up',
    voltage: 'down',
  },
  claimFaults,
  judgeClaim,
  irrelevant,
  otherWays: ({ dimmerKind }) => [
    ...(dimmerKind === undefined || dimmerKind === 'low-voltage-pwm'
      ? []
      : (['forward-phase', 'reverse-phase', '0-10V', 'DALI'] as const)
          .filter((kind) => kind !== dimmerKind)
          .map((kind) => ({ dimmerKind: kind }))),
    ...(dimmerKind === 'low-voltage-pwm' ? [{ heldAtFull: true }] : []),
  ],
  compose: (solution, values, given) => {
    const { fit } = solution
    const judged = judgedFit(solution, values)
    const [first] = [...judged].sort((one, other) => use(other) - use(one))
    const settings = chosenSettings(values, given)
    return {
      headline: headline(solution, values),
      limits: judged.map((each) => ({
        id: each.id,
        value: each.limit,
        unit: each.unit,
        binds: each === first || verdictOfOne(each) === 'fails',
      })),
      cautions: cautionsOf(solution, values),
      working: workingOf(solution, values),
      alsoAssumed: alsoAssumed(solution, values),
      next: [
        {
          question: 'circuit-room',
          inputs: {
            ...settings,
            added: solution.driversW.map((watts) => `${watts} W`),
            ...asInputs(inputs, values, given.has('powerFactor') ? ['powerFactor'] : []),
          },
        },
        { question: 'steady-light', inputs: settings },
        {
          question: 'box-fill',
          inputs: fit.unit === 'A' ? settings : { ...settings, devices: [{ gangs: '1' }] },
        },
      ],
    }
  },
})
