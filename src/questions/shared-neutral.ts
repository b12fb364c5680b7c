import prompts from '../../prompts/en/shared-neutral.yaml'
import { capacityA } from '../calculators/conductor'
import {
  type Hot,
  hotCurrentA,
  type Leg,
  type NeutralReason,
  sharedNeutral as neutralOf,
  type SharedNeutral,
  type SupplyKind,
  supplyKindOf,
} from '../calculators/neutral'
import {
  assumed,
  choice,
  conductorSize,
  knownAs,
  list,
  name,
  optional,
  plainNumber,
  quantity,
  required,
  row,
  yesNo,
} from './common/fields'
import { breakerFaults, chosenSettings, lineCautions, supplyFaults, supplyInput } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { asInputs, defineQuestion, type Step } from './common/question'
import type { FieldFault, Values } from './common/read-inputs'
import { sizeFaultAt } from './common/relations'
import { type Judged, verdictOf } from './common/verdict'
import { questionWordsOf } from './common/words'

type SaidHot = {
  load?: number
  current?: number
  circuit?: string
  leg?: Leg
}

const inputs = {
  hots: required(
    list(
      row(
        {},
        {
          load: quantity('power', 0, 20000),
          current: quantity('current', 0, 100),
          circuit: name(),
          leg: choice('A', 'B', 'C'),
        },
      ),
      2,
      6,
    ),
  ),
  supplyKind: assumed(
    choice('one-circuit', 'single-phase-three-wire', 'three-phase-wye'),
    (known): SupplyKind => supplyOf(known.hots) ?? usualSupply(known.rules),
  ),
  electronic: assumed(yesNo(), true),
  gauge: knownAs('neutralSize', optional(conductorSize())),
  breaker: optional(quantity('current', 6, 32)),
  supply: supplyInput,
  powerFactor: assumed(plainNumber(0.3, 1), 0.9),
}

const usualSupply = (rules: unknown): SupplyKind =>
  rules === 'iec' ? 'three-phase-wye' : 'single-phase-three-wire'

/** The supply that the named breakers and legs leave no choice about. */
const supplyOf = (hots: readonly SaidHot[]): SupplyKind | undefined =>
  supplyKindOf(hots.map((hot) => ({ circuit: circuitName(hot) ?? '', leg: hot.leg })))

type Inputs = Values<typeof inputs>

type Solution = { hots: readonly Hot[]; neutral: SharedNeutral; limitA: number | undefined }

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['neutralCurrent', 'neutralAtWorst', 'neutralCapacity'],
    limits: ['capacity'],
    sentences: {
      'headline.oneCircuit': ['count', 'current'],
      'headline.multiwire': ['current', 'worst'],
      'headline.multiwireLinear': ['current', 'worst'],
      'headline.ofCapacity': ['capacity', 'percent'],
      'headline.noGauge': [],
      'headline.overCapacity': ['worst', 'capacity', 'over'],
      'headline.two-breakers-one-leg': ['worst'],
      'headline.circuits-never-share': [],
      'headline.more-than-one-breaker': ['circuits'],
      'headline.leg-not-told': ['worst'],
      'says.allowed': [],
      'says.tight': [],
      'says.notAllowed': [],
      'says.over': [],
    },
    cautions: [
      'not-allowed',
      'measure-one-circuit',
      'measure-legs',
      'measure-phases',
      'different-panels',
      'off-together',
      'never-open-live',
      'join-with-tail',
      'counts-as-loaded',
      'same-cable',
      'same-cable-iec',
    ],
    working: ['hot', 'sum', 'difference', 'wye', 'worst', 'worstOne', 'capacity'],
    columns: [],
    faults: ['load-or-current', 'load-and-current', 'which-breaker', 'no-such-leg', 'too-thin'],
  },
)

/** A circuit's name as it is compared: "Circuit 5" and "5" are one breaker. */
const circuitName = ({ circuit }: Pick<SaidHot, 'circuit'>): string | undefined =>
  circuit
    ?.toLowerCase()
    .replace(/^(?:circuit|breaker|no\.?|number|#)\s*/, '')
    .trim() || undefined

/** Nobody needs to name the breaker of what is said to be one circuit, or is alone on its leg. */
function circuitOf(hot: SaidHot, { hots, supplyKind }: Inputs): string {
  const own = circuitName(hot)
  if (own !== undefined) return own
  const named = hots.map(circuitName).find((each) => each !== undefined)
  return supplyKind === 'one-circuit' ? (named ?? 'one') : `leg ${hot.leg ?? ''}`
}

const currentOf = ({ load, current }: SaidHot, { supply, powerFactor }: Inputs): number =>
  current ?? hotCurrentA(load ?? 0, supply, powerFactor)

function solve(values: Inputs): Solution {
  const hots = values.hots.map((hot) => ({
    currentA: currentOf(hot, values),
    circuit: circuitOf(hot, values),
    leg: hot.leg,
  }))
  const limitA = values.gauge && capacityA(values.gauge)?.overcurrentA
  const neutral = neutralOf({
    rules: values.rules,
    supplyKind: values.supplyKind,
    hots,
    electronic: values.electronic,
    neutralLimitA: limitA,
    breakerA: values.breaker,
  })
  return { hots, neutral, limitA }
}

function relations(values: Inputs, given: ReadonlySet<string>): FieldFault[] {
  const { gauge, rules } = values
  const sizeFaults = sizeFaultAt('gauge', gauge, rules)
  const capacity = gauge && capacityA(gauge)
  const tooThin = capacity?.limitedSupplyOnly || capacity?.flexibleOnly
  return [
    ...values.hots.flatMap((hot, at) => hotFaults(hot, at, values, given)),
    ...sizeFaults,
    ...(tooThin && sizeFaults.length === 0 ? [thinFault(rules)] : []),
    ...breakerFaults(values),
    ...supplyFaults(values),
  ]
}

const thinFault = (rules: Inputs['rules']): FieldFault => ({
  field: 'gauge',
  reason: 'too-thin',
  example: rules === 'iec' ? '1.5 mm2' : '14 AWG',
})

function hotFaults(hot: SaidHot, at: number, values: Inputs, given: ReadonlySet<string>): FieldFault[] {
  const faults: FieldFault[] = []
  if (hot.load === undefined && hot.current === undefined) {
    faults.push({ field: `hots.${at}.current`, reason: 'load-or-current' })
  }
  if (hot.load !== undefined && hot.current !== undefined) {
    faults.push({ field: `hots.${at}.load`, reason: 'load-and-current' })
  }
  const saidToBeOne = given.has('supplyKind') && values.supplyKind === 'one-circuit'
  const aloneOnLeg = hot.leg !== undefined && values.hots.filter(({ leg }) => leg === hot.leg).length === 1
  if (circuitName(hot) === undefined && !saidToBeOne && !aloneOnLeg) {
    faults.push({ field: `hots.${at}.circuit`, reason: 'which-breaker' })
  }
  if (hot.leg === 'C' && values.supplyKind === 'single-phase-three-wire') {
    faults.push({ field: `hots.${at}.leg`, reason: 'no-such-leg' })
  }
  return faults
}

/** What makes it wrong beside the load: the reasons that no number mends. */
const forbidden = ({ neutral }: Solution): NeutralReason[] =>
  neutral.reasons.filter((reason) => reason !== 'over-capacity')

/** Judged against the neutral's own size; without one, only where even the breaker is passed. */
function judgedNeutral({ neutral, limitA }: Solution): Judged[] {
  const { capacityA: limit, atWorstA: value, reasons } = neutral
  if (reasons.some((reason) => reason !== 'over-capacity')) return []
  if (limit === null || (limitA === undefined && !reasons.includes('over-capacity'))) return []
  return [{ id: 'capacity', value, limit, sense: 'at-most', unit: 'A' }]
}

function headline(solution: Solution, values: Inputs): string {
  const { neutral } = solution
  const print = (value: number, unit: string, rounding: 'up' | 'down') =>
    printValue(value, unit, values.units, rounding)
  const current = print(neutral.neutralA, 'A', 'up')
  const worst = print(neutral.atWorstA, 'A', 'up')
  const [reason] = forbidden(solution)
  if (reason) return forbiddenSentence(reason, worst, solution)
  if (neutral.reasons.includes('over-capacity')) {
    const capacity = neutral.capacityA ?? 0
    const over = print(neutral.atWorstA - capacity, 'A', 'up')
    return words.say('headline.overCapacity', { worst, capacity: print(capacity, 'A', 'down'), over })
  }
  const multiwire = values.electronic ? 'headline.multiwire' : 'headline.multiwireLinear'
  const allowed = neutral.multiwire
    ? words.say(multiwire, { current, worst })
    : words.say('headline.oneCircuit', { count: String(values.hots.length), current })
  if (solution.limitA === undefined || neutral.capacityA === null) {
    return `${allowed} ${words.say('headline.noGauge', {})}`
  }
  const percent = print((100 * neutral.atWorstA) / neutral.capacityA, '%', 'up')
  const capacity = print(neutral.capacityA, 'A', 'down')
  return `${allowed} ${words.say('headline.ofCapacity', { capacity, percent })}`
}

function forbiddenSentence(reason: NeutralReason, worst: string, { hots }: Solution): string {
  if (reason === 'two-breakers-one-leg' || reason === 'leg-not-told') {
    return words.say(`headline.${reason}`, { worst })
  }
  if (reason === 'more-than-one-breaker') {
    const circuits = [...new Set(hots.map(({ circuit }) => circuit))].join(', ')
    return words.say('headline.more-than-one-breaker', { circuits })
  }
  return words.say('headline.circuits-never-share', {})
}

function workingOf(solution: Solution, values: Inputs): Step[] {
  const { hots, neutral, limitA } = solution
  const { supply, powerFactor, rules } = values
  const steps: Step[] = values.hots.flatMap(({ load }, at) =>
    load === undefined
      ? []
      : [
          {
            id: 'hot',
            formula: 'I = P / (V · pf)',
            substituted: `${exactly(load, 'W')} / (${exactly(supply, 'V')} × ${powerFactor})`,
            result: exactly(hots[at]?.currentA ?? 0, 'A'),
          },
        ],
  )
  steps.push(...combinationSteps(solution, values))
  if (neutral.capacityA !== null) {
    const parts = [limitA, values.breaker].flatMap((each) => (each === undefined ? [] : [exactly(each, 'A')]))
    const source = values.gauge && capacityA(values.gauge)?.source
    steps.push({
      id: 'capacity',
      formula: 'the smaller of the neutral’s limit and the breaker',
      substituted: parts.join(' and '),
      result: `${exactly(neutral.capacityA, 'A')}, against ${exactly(neutral.atWorstA, 'A')}`,
      ...(source ? { source } : rules === 'iec' ? {} : { source: 'nec-240-6-a' }),
    })
  }
  return steps
}

/** How the currents meet in the neutral; where the legs cannot be relied on, all of them add up. */
function combinationSteps({ hots, neutral }: Solution, { supplyKind, electronic, rules }: Inputs): Step[] {
  const result = exactly(neutral.neutralA, 'A')
  const worst = exactly(neutral.atWorstA, 'A')
  if (!neutral.multiwire) {
    const sum = hots.map(({ currentA }) => exactly(currentA, 'A')).join(' + ')
    const source = rules === 'iec' ? 'bs-7671-314-4' : 'nec-200-4'
    return [{ id: 'sum', formula: 'Σ I', substituted: sum, result, source }]
  }
  const parts = neutral.legs.map(({ leg, currentA }) => `${leg} ${exactly(currentA, 'A')}`).join(', ')
  const wye = supplyKind === 'three-phase-wye'
  const noCancelling = wye ? '√(a² + b² + c²)' : '√(a² + b²)'
  const greatest = wye ? 'the greatest of a, b, c' : 'the greater of a, b'
  return [
    {
      id: wye ? 'wye' : 'difference',
      formula: wye ? '√(a² + b² + c² − ab − bc − ca)' : '|a − b|',
      substituted: parts,
      result,
      source: 'phasor-sum',
    },
    {
      id: electronic ? 'worst' : 'worstOne',
      formula: electronic ? noCancelling : greatest,
      substituted: parts,
      result: worst,
      source: electronic && wye && rules === 'nec' ? 'nec-310-15-e' : 'phasor-sum',
    },
  ]
}

function cautionsOf(solution: Solution, values: Inputs): string[] {
  const { neutral } = solution
  const nec = values.rules === 'nec'
  const several = new Set(solution.hots.map(({ circuit }) => circuit)).size > 1 || neutral.multiwire
  return [
    ...(forbidden(solution).length > 0 ? ['not-allowed'] : []),
    ...lineCautions(values.rules),
    'never-open-live',
    ...(several ? [nec ? 'measure-legs' : 'measure-phases', 'different-panels'] : ['measure-one-circuit']),
    ...(several && nec ? ['off-together'] : []),
    ...(neutral.multiwire && values.electronic && nec ? ['counts-as-loaded'] : []),
    ...(nec ? ['join-with-tail', 'same-cable'] : ['same-cable-iec']),
  ]
}

/** May these switched hots share a neutral, and what does it carry? */
export const sharedNeutral = defineQuestion<typeof inputs, Solution>({
  id: 'shared-neutral',
  stage: 'switch',
  words,
  inputs,
  relations,
  figures: {
    neutralCurrent: { unit: 'A', better: 'lower', round: 'up', value: ({ neutral }) => neutral.neutralA },
    neutralAtWorst: { unit: 'A', better: 'lower', round: 'up', value: ({ neutral }) => neutral.atWorstA },
    neutralCapacity: {
      unit: 'A',
      better: 'higher',
      round: 'down',
      value: ({ neutral }) => neutral.capacityA ?? undefined,
    },
  },
  solve,
  outcome: (solution) => ({
    step: '',
    binding: '',
    judged: judgedNeutral(solution),
    fails: forbidden(solution).length > 0,
  }),
  says: ({ judged, fails }) => {
    if (fails) return words.say('says.notAllowed', {})
    const verdict = verdictOf(judged)
    if (verdict === 'fails') return words.say('says.over', {})
    return words.say(verdict === 'tight' ? 'says.tight' : 'says.allowed', {})
  },
  unsafe: { 'hots.current': 'up', 'hots.load': 'up', supply: 'down', powerFactor: 'down' },
  irrelevant: ({ hots }) => (hots.some(({ load }) => load !== undefined) ? [] : ['supply', 'powerFactor']),
  compose: (solution, values, given) => {
    const { neutral } = solution
    const settings = chosenSettings(values, given)
    return {
      headline: headline(solution, values),
      limits:
        neutral.capacityA === null
          ? []
          : [{ id: 'capacity', value: neutral.capacityA, unit: 'A', binds: true }],
      cautions: cautionsOf(solution, values),
      working: workingOf(solution, values),
      next: [
        {
          question: 'circuit-room',
          inputs: {
            ...settings,
            ...asInputs(inputs, values, [
              'breaker',
              ...['supply', 'powerFactor'].filter((id) => given.has(id)),
            ]),
            added: values.hots.map(({ load, current }) =>
              load === undefined ? `${current} A` : `${load} W`,
            ),
          },
        },
        { question: 'box-fill', inputs: settings },
      ],
    }
  },
})
