import * as z from 'zod/mini'
import prompts from '../../prompts/en/steady-light.yaml'
import {
  type FlickerCategory,
  type FlickerLimits,
  flickerCategory,
  flickerLimits,
  percentModulation,
} from '../calculators/steady-light'
import {
  type Fault,
  type Field,
  knownAs,
  type Measure,
  measure,
  optional,
  plainNumber,
  quantity,
  refuse,
  required,
} from './common/fields'
import { chosenSettings } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { defineQuestion, type Step } from './common/question'
import type { FieldFault, Values } from './common/read-inputs'
import { nearestChange } from './common/search'
import type { Judged } from './common/verdict'
import { questionWordsOf } from './common/words'

const anyReading = [0, 1e9] as const
const bareReading = plainNumber(...anyReading)
const unitReading = measure({
  illuminance: anyReading,
  voltage: anyReading,
  current: anyReading,
  power: anyReading,
  percent: anyReading,
})

/** Light at one moment as an instrument shows it: in any unit or none, because only a ratio of two counts. */
const lightReading: Field<Measure> = {
  ...unitReading,
  kind: 'number',
  ranges: { ...unitReading.ranges, '': { min: anyReading[0], max: anyReading[1] } },
  schema: (system) =>
    z.pipe(
      z.union([z.number(), z.string().check(z.maxLength(200))]),
      z.transform((said, context) => {
        const bare = bareReading.schema(system).safeParse(said)
        if (bare.success) return { value: bare.data, unit: '' }
        const withUnit = unitReading.schema(system).safeParse(String(said))
        if (withUnit.success) return withUnit.data
        const [issue] = (/[a-z%]/i.test(String(said)) ? withUnit : bare).error.issues
        const fault: Fault = issue?.code === 'custom' ? (issue.params as Fault) : { reason: 'not-understood' }
        return refuse(context, fault)
      }),
    ),
  json: (reading) => (reading.unit === '' ? { value: reading.value } : reading),
  input: ({ value, unit }) => `${value} ${unit}`.trimEnd(),
}

const inputs = {
  frequency: required(quantity('frequency', 1, 100_000)),
  modulation: optional(quantity('percent', 0, 100)),
  max: knownAs('brightestReading', optional(lightReading)),
  min: knownAs('darkestReading', optional(lightReading)),
}

type Inputs = Values<typeof inputs>

type Solution = FlickerLimits & { modulationPercent: number; category: FlickerCategory }

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['category', 'lowRiskLimit', 'noEffectLimit'],
    limits: ['lowRisk', 'noEffect'],
    sentences: {
      'category.no-effect': [],
      'category.low-risk': [],
      'category.above': [],
      'headline.no-effect': ['modulation', 'frequency', 'noEffect'],
      'headline.any': ['modulation', 'frequency'],
      'headline.low-risk': ['modulation', 'frequency', 'lowRisk', 'noEffect'],
      'headline.above': ['modulation', 'frequency', 'lowRisk', 'ways'],
      'way.modulation': ['value'],
      'way.frequency': ['value'],
      'limit.any': [],
      'picture.title': [],
      'picture.description': ['modulation', 'frequency', 'lowRisk', 'noEffect', 'category'],
      'picture.frequency': [],
      'picture.modulation': [],
      'picture.here': ['modulation', 'frequency'],
      'picture.above': [],
      'picture.low-risk': [],
      'picture.no-effect': [],
      'picture.lowRiskLine': [],
      'picture.noEffectLine': [],
    },
    cautions: ['slow', 'turning', 'recommended', 'lowest-setting', 'of-the-light', 'class-two-pulsed'],
    working: ['modulation', 'lowRisk', 'noEffect', 'category'],
    columns: [],
    faults: ['min-not-below-max', 'units-differ'],
  },
)

/** What the drawing of this answer needs: the point, the limits' words, and every text ready to be shown. */
export type SteadyLightPicture = {
  frequencyHz: number
  modulationPercent: number
  title: string
  description: string
  labels: Record<
    'frequency' | 'modulation' | 'here' | 'above' | 'lowRisk' | 'noEffect' | 'lowRiskLine' | 'noEffectLine',
    string
  >
}

const modulationOf = ({ modulation, max, min }: Inputs): number =>
  modulation ?? Math.max(0, percentModulation(max?.value ?? 0, min?.value ?? 0))

function solve(values: Inputs): Solution {
  const modulationPercent = modulationOf(values)
  const category = flickerCategory(values.frequency, modulationPercent)
  return { ...flickerLimits(values.frequency), modulationPercent, category }
}

function relations({ max, min }: Inputs): FieldFault[] {
  if (!max || !min) return []
  if (max.unit !== min.unit) return [{ field: 'min', reason: 'units-differ' }]
  return min.value < max.value ? [] : [{ field: 'min', reason: 'min-not-below-max' }]
}

const judgedBy = (id: 'lowRisk' | 'noEffect', solution: Solution): Judged => ({
  id,
  value: solution.modulationPercent,
  limit: id === 'lowRisk' ? solution.lowRiskPercent : solution.noEffectPercent,
  sense: 'at-most',
  unit: '%',
})

const percent = (value: number): string => printValue(value, '%', 'us', 'down')

const said = (solution: Solution, { frequency, units }: Inputs) => ({
  modulation: printValue(solution.modulationPercent, '%', units, 'up'),
  frequency: printValue(frequency, 'Hz', units),
  lowRisk: percent(solution.lowRiskPercent),
  noEffect: percent(solution.noEffectPercent),
})

/** What would bring the light down into low risk, each way with its number. */
function waysOut({ lowRiskPercent, modulationPercent }: Solution, { frequency }: Inputs): string {
  const faster = nearestChange(
    frequency,
    inputs.frequency.field.range?.max ?? frequency,
    false,
    (value) => flickerCategory(value, modulationPercent) !== 'above',
  )
  const ways = [words.say('way.modulation', { value: percent(lowRiskPercent) })]
  if (faster) ways.push(words.say('way.frequency', { value: printValue(faster.outside, 'Hz', 'us', 'up') }))
  return ways.join('; ')
}

const headline = (solution: Solution, values: Inputs): string =>
  words.say(solution.noEffectPercent < 100 ? `headline.${solution.category}` : 'headline.any', {
    ...said(solution, values),
    ways: solution.category === 'above' ? waysOut(solution, values) : '',
  })

const cautionsOf = (solution: Solution, { frequency }: Inputs): string[] => [
  ...(frequency < 90 && solution.modulationPercent > 0 ? ['slow'] : []),
  ...(solution.category === 'no-effect' ? [] : ['turning']),
  ...(frequency < 200 ? ['class-two-pulsed'] : []),
  'lowest-setting',
  'of-the-light',
  'recommended',
]

function workingOf(solution: Solution, { frequency, max, min }: Inputs): Step[] {
  const { modulationPercent, lowRiskPercent, noEffectPercent, category } = solution
  const slow = frequency < 90
  const limit = (id: 'lowRisk' | 'noEffect', formula: string, factor: string, result: number): Step => ({
    id,
    formula: `${formula}, at most 100 %`,
    substituted: `${factor} × ${exactly(frequency, 'Hz')}`,
    result: exactly(result, '%'),
    source: 'ieee-1789',
  })
  const ofReadings: Step[] =
    max && min
      ? [
          {
            id: 'modulation',
            formula: '100 · (max − min) / (max + min)',
            substituted: `100 × (${max.value} − ${min.value}) / (${max.value} + ${min.value})`,
            result: exactly(modulationPercent, '%'),
            source: 'ieee-1789',
          },
        ]
      : []
  return [
    ...ofReadings,
    limit(
      'lowRisk',
      slow ? '0.025 · f below 90 Hz' : '0.08 · f from 90 Hz',
      slow ? '0.025' : '0.08',
      lowRiskPercent,
    ),
    limit(
      'noEffect',
      slow ? '0.01 · f below 90 Hz' : 'f / 30 from 90 Hz',
      slow ? '0.01' : '1/30',
      noEffectPercent,
    ),
    {
      id: 'category',
      formula: 'modulation ≤ limit',
      substituted: `${exactly(modulationPercent, '%')} against ${exactly(noEffectPercent, '%')} and ${exactly(lowRiskPercent, '%')}`,
      result: words.say(`category.${category}`, {}),
      source: 'ieee-1789',
    },
  ]
}

function pictureOf(solution: Solution, values: Inputs): { kind: string; data: SteadyLightPicture } {
  const texts = said(solution, values)
  const category = words.say(`category.${solution.category}`, {})
  const data: SteadyLightPicture = {
    frequencyHz: values.frequency,
    modulationPercent: solution.modulationPercent,
    title: words.say('picture.title', {}),
    description: words.say('picture.description', { ...texts, category }),
    labels: {
      frequency: words.say('picture.frequency', {}),
      modulation: words.say('picture.modulation', {}),
      here: words.say('picture.here', texts),
      above: words.say('picture.above', {}),
      lowRisk: words.say('picture.low-risk', {}),
      noEffect: words.say('picture.no-effect', {}),
      lowRiskLine: words.say('picture.lowRiskLine', {}),
      noEffectLine: words.say('picture.noEffectLine', {}),
    },
  }
  return { kind: 'steady-light', data }
}

const limitOf = (id: 'lowRisk' | 'noEffect', value: number, binds: boolean) => ({
  id,
  value,
  unit: '%',
  ...(value < 100 ? {} : { text: words.say('limit.any', {}) }),
  binds,
})

/** From the worst to the best. */
const categories: readonly FlickerCategory[] = ['above', 'low-risk', 'no-effect']

/** Will it flicker when dimmed like this? */
export const steadyLight = defineQuestion<typeof inputs, Solution>({
  id: 'steady-light',
  stage: 'light',
  words,
  inputs,
  alternatives: [[['modulation'], ['max', 'min']]],
  relations,
  figures: {
    category: {
      unit: '',
      better: 'higher',
      round: 'nearest',
      choices: categories,
      choiceText: (category) => words.say(`category.${category as FlickerCategory}`, {}),
      value: ({ category }) => category,
      text: ({ category }) => words.say(`category.${category}`, {}),
    },
    lowRiskLimit: { unit: '%', better: 'higher', round: 'down', value: (s) => s.lowRiskPercent },
    noEffectLimit: { unit: '%', better: 'higher', round: 'down', value: (s) => s.noEffectPercent },
  },
  solve,
  outcome: (solution) => ({
    step: solution.category,
    binding: '',
    judged: solution.category === 'above' ? [judgedBy('lowRisk', solution)] : [],
    sound: solution.category !== 'above',
  }),
  says: ({ step }) => words.say(`category.${step as FlickerCategory}`, {}),
  unsafe: { frequency: 'down', modulation: 'up', max: 'up', min: 'down' },
  judgeClaim: (claim, solution) => {
    if (!('choice' in claim)) return undefined
    if (claim.choice === 'above') return [{ ...judgedBy('lowRisk', solution), sense: 'at-least' }]
    return [judgedBy(claim.choice === 'no-effect' ? 'noEffect' : 'lowRisk', solution)]
  },
  irrelevant: () => ['rules'],
  compose: (solution, values, given) => ({
    headline: headline(solution, values),
    limits: [
      limitOf('lowRisk', solution.lowRiskPercent, solution.category !== 'no-effect'),
      limitOf('noEffect', solution.noEffectPercent, solution.category === 'no-effect'),
    ],
    cautions: cautionsOf(solution, values),
    working: workingOf(solution, values),
    next: [
      { question: 'dimmer-fit', inputs: chosenSettings(values, given) },
      { question: 'task-light', inputs: chosenSettings(values, given) },
    ],
    picture: pictureOf(solution, values),
  }),
})
