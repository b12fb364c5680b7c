import prompts from '../../prompts/en/pull-plan.yaml'
import { roughSearch } from '../calculators/packing'
import { type LegEnd, type PullInput, type PullPlan, pullPlan as planOfRoute } from '../calculators/pull'
import { assumed, choice, list, optional, quantity, required, row } from './common/fields'
import { chosenSettings } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { type Composition, defineQuestion, type Outcome, type Step } from './common/question'
import type { Values } from './common/read-inputs'
import { holds, type Judged, verdictOf } from './common/verdict'
import { questionWordsOf } from './common/words'

const end = () => choice('box', 'tape')

const inputs = {
  legs: required(
    list(row({ length: quantity('length', 0.1, 300) }, { from: end(), to: end() }, 'length'), 1, 30),
  ),
  endSlack: assumed(quantity('length', 0, 5), ({ units }) => (units === 'metric' ? 0.3 : 12 * 0.0254)),
  slack: assumed(quantity('percent', 0, 50), 10),
  rodLength: optional(quantity('length', 0.3, 3)),
  spool: optional(quantity('length', 5, 1000)),
}

type Inputs = Values<typeof inputs>

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['cable', 'rods', 'spools', 'left'],
    limits: ['atBox', 'spool'],
    sentences: {
      'headline.cable': ['cable', 'legs'],
      'headline.oneSpool': ['spool', 'left'],
      'headline.spools': ['count', 'spool', 'left'],
      'left.each': ['left'],
      'headline.rods': ['count'],
      'headline.oneRod': [],
      'headline.shortAtBox': ['least', 'found', 'cable'],
      'headline.tooLong': ['leg', 'needs', 'spool'],
      'legs.one': [],
      'legs.several': ['count'],
      and: [],
      'says.none': [],
      'says.shortAtBox': [],
      'says.tight': ['plan'],
      'says.tooLong': [],
      'says.oneSpool': [],
      'says.spools': ['count'],
      'says.rods': ['count'],
      route: ['from', 'to'],
      'end.box': [],
      'end.tape': [],
      noSpool: [],
    },
    cautions: [
      'nothing-live',
      'no-hidden-splice',
      'no-hidden-splice-iec',
      'support',
      'clear-of-edges',
      'clear-of-edges-iec',
      'along-the-route',
      'not-proven',
      'no-rule-at-box',
    ],
    working: ['legs', 'sum', 'atBox', 'rods', 'spools'],
    columns: ['leg', 'route', 'along', 'cut', 'spool'],
    faults: [],
  },
)

/** Beyond so many legs, how far each may grow is neither quick to find nor short to read. */
const mostLegsWithRoom = 16

/** Free cable that NEC 300.14 asks for at a box, m. */
const leastAtBoxM = 6 * 0.0254

const endsOf = ({ from = 'box', to = 'tape' }: { from?: LegEnd; to?: LegEnd }) => ({ from, to })

const askedOf = ({ rules, legs, endSlack, slack, rodLength, spool }: Inputs): PullInput => ({
  rules,
  legs: legs.map(({ length, ...ends }) => ({ lengthM: length, ...ends })),
  endSlackM: endSlack,
  slackPercent: slack,
  rodLengthM: rodLength,
  spoolM: spool,
})

const solve = (values: Inputs): PullPlan => planOfRoute(askedOf(values))

/** The plan that one answer starts from, for the search around it: the answer's set of given inputs stands for it. */
const plannedFor = new WeakMap<object, PullPlan>()

function judgedOf({ legsM }: PullPlan, values: Inputs, given: ReadonlySet<string>): Judged[] {
  const { rules, legs, endSlack, spool } = values
  const atBox = legs.map(endsOf).some(({ from, to }) => from === 'box' || to === 'box')
  const judged: Judged[] = []
  if (rules === 'nec' && atBox && given.has('endSlack'))
    judged.push({ id: 'atBox', value: endSlack, limit: leastAtBoxM, sense: 'at-least', unit: 'm' })
  if (spool !== undefined)
    judged.push({ id: 'spool', value: Math.max(...legsM), limit: spool, sense: 'at-most', unit: 'm' })
  return judged
}

const outcomeOf = (plan: PullPlan, values: Inputs, given: ReadonlySet<string>): Outcome => ({
  step: stepText(plan),
  binding: '',
  judged: judgedOf(plan, values, given),
})

function outcomeText({ step, judged }: Outcome): string {
  const ofAll = verdictOf(judged)
  if (ofAll === 'tight') return words.say('says.tight', { plan: String(step) })
  const shortAtBox = judged.some((limit) => limit.id === 'atBox' && !holds(limit))
  return shortAtBox ? words.say('says.shortAtBox', {}) : String(step)
}

/** What comes in whole numbers: spools and rods. */
function stepText({ spools, rods, tooLong }: PullPlan): string {
  const bySpool = spools
    ? [spools.count === 1 ? words.say('says.oneSpool', {}) : sayCount('says.spools', spools.count)]
    : []
  const noSpool = tooLong.length > 0 ? [words.say('says.tooLong', {})] : []
  const byRod = rods === null ? [] : [sayCount('says.rods', rods)]
  const counted = [...bySpool, ...noSpool, ...byRod]
  return counted.length > 0 ? counted.join(words.say('and', {})) : words.say('says.none', {})
}

const sayCount = (key: 'says.spools' | 'says.rods' | 'headline.rods' | 'legs.several', count: number) =>
  words.say(key, { count: String(count) })

const lengthText = (lengthM: number, { units }: Inputs, rounding: 'up' | 'down'): string =>
  printValue(lengthM, 'm', units, rounding)

function headline(plan: PullPlan, values: Inputs): string {
  const cable = lengthText(plan.cableM, values, 'up')
  const tooLong = plan.tooLong[0]
  if (tooLong !== undefined) {
    return words.say('headline.tooLong', {
      leg: String(tooLong + 1),
      needs: lengthText(plan.legsM[tooLong] ?? 0, values, 'up'),
      spool: lengthText(values.spool ?? 0, values, 'down'),
    })
  }
  if (plan.reasons.includes('short-at-box')) {
    const enough = solve({ ...values, endSlack: leastAtBoxM })
    return words.say('headline.shortAtBox', {
      least: printValue(leastAtBoxM, 'm', values.units),
      found: printValue(values.endSlack, 'm', values.units),
      cable: lengthText(enough.cableM, values, 'up'),
    })
  }
  const count = values.legs.length
  const legs = count === 1 ? words.say('legs.one', {}) : sayCount('legs.several', count)
  return [words.say('headline.cable', { cable, legs }), ...spoolSaid(plan, values), ...rodSaid(plan)].join(
    ' ',
  )
}

function spoolSaid({ spools }: PullPlan, values: Inputs): string[] {
  if (!spools) return []
  const spool = lengthText(values.spool ?? 0, values, 'down')
  const eachLeft = [...new Set(spools.leftM.map((leftM) => lengthText(leftM, values, 'down')))]
  const [only = ''] = eachLeft
  if (spools.count === 1) return [words.say('headline.oneSpool', { spool, left: only })]
  const left = eachLeft.length === 1 ? words.say('left.each', { left: only }) : eachLeft.join(', ')
  return [words.say('headline.spools', { count: String(spools.count), spool, left })]
}

const rodSaid = ({ rods }: PullPlan): string[] => {
  if (rods === null) return []
  return [rods === 1 ? words.say('headline.oneRod', {}) : sayCount('headline.rods', rods)]
}

function tableOf(plan: PullPlan, values: Inputs): NonNullable<Composition['table']> {
  const { spools, legsM, tooLong } = plan
  const { leg, route, along, cut, spool } = words.columns
  const spoolOf = (at: number): string => {
    if (tooLong.includes(at)) return words.say('noSpool', {})
    return spools ? String(spools.legs.findIndex((legs) => legs.includes(at)) + 1) : ''
  }
  const withSpool = spools !== null || tooLong.length > 0
  return {
    columns: [leg, route, along, cut, ...(withSpool ? [spool] : [])].map((column) => column ?? ''),
    rows: values.legs.map((each, at) => {
      const { from, to } = endsOf(each)
      return [
        String(at + 1),
        words.say('route', { from: words.say(`end.${from}`, {}), to: words.say(`end.${to}`, {}) }),
        printValue(each.length, 'm', values.units),
        lengthText(legsM[at] ?? 0, values, 'up'),
        ...(withSpool ? [spoolOf(at)] : []),
      ]
    }),
  }
}

const limitsOf = (judged: readonly Judged[]): NonNullable<Composition['limits']> =>
  judged.map(({ id, limit, unit }) => ({ id, value: limit, unit, binds: true }))

function workingOf(plan: PullPlan, values: Inputs): Step[] {
  const { legs, slack, endSlack, rules } = values
  const ends = `2 × ${exactly(endSlack, 'm')}`
  const steps: Step[] = legs.map(({ length }, at) => ({
    id: 'legs',
    formula: 'leg · (1 + slack) + 2 · spare at each end',
    substituted: `${exactly(length, 'm')} × (1 + ${exactly(slack, '%')}) + ${ends}`,
    result: exactly(plan.legsM[at] ?? 0, 'm'),
    source: 'common-practice-end-slack',
  }))
  steps.push({
    id: 'sum',
    formula: 'Σ legs',
    substituted: plan.legsM.map((legM) => exactly(legM, 'm')).join(' + '),
    result: exactly(plan.cableM, 'm'),
  })
  if (rules === 'nec') {
    steps.push({
      id: 'atBox',
      formula: 'spare at each end ≥ 6 in at a box',
      substituted: `${exactly(endSlack, 'm')} against ${exactly(leastAtBoxM, 'm')}`,
      result: exactly(endSlack, 'm'),
      source: 'nec-300-14',
    })
  }
  return [...steps, ...rodSteps(plan, values), ...spoolSteps(plan, values)]
}

function rodSteps({ rods }: PullPlan, { legs, slack, rodLength }: Inputs): Step[] {
  if (rods === null || rodLength === undefined) return []
  const longest = Math.max(...legs.map(({ length }) => length))
  return [
    {
      id: 'rods',
      formula: 'longest leg · (1 + slack) / rod, whole rods',
      substituted: `${exactly(longest, 'm')} × (1 + ${exactly(slack, '%')}) / ${exactly(rodLength, 'm')}`,
      result: String(rods),
    },
  ]
}

function spoolSteps({ spools, legsM }: PullPlan, { spool }: Inputs): Step[] {
  if (!spools || spool === undefined) return []
  const one = (legs: readonly number[]) => legs.map((at) => exactly(legsM[at] ?? 0, 'm')).join(' + ')
  return spools.legs.map((legs, at) => ({
    id: 'spools',
    formula: 'whole legs on a spool; what is left',
    substituted: `${exactly(spool, 'm')} − (${one(legs)})`,
    result: exactly(spools.leftM[at] ?? 0, 'm'),
  }))
}

const cautionsOf = ({ spools }: PullPlan, { rules }: Inputs): string[] => [
  'nothing-live',
  ...(rules === 'iec'
    ? ['no-hidden-splice-iec', 'clear-of-edges-iec', 'line-apart-iec', 'no-rule-at-box']
    : ['no-hidden-splice', 'support', 'clear-of-edges', 'line-apart']),
  'along-the-route',
  ...(spools && !spools.proven ? ['not-proven'] : []),
]

/** How much cable for this route? */
export const pullPlan = defineQuestion<typeof inputs, PullPlan>({
  id: 'pull-plan',
  stage: 'way',
  words,
  inputs,
  figures: {
    cable: { unit: 'm', better: 'lower', round: 'up', value: ({ cableM }) => cableM },
    rods: { unit: 'count', better: 'lower', round: 'up', value: ({ rods }) => rods ?? undefined },
    spools: { unit: 'count', better: 'lower', round: 'up', value: ({ spools }) => spools?.count },
    left: { unit: 'm', better: 'higher', round: 'down', value: ({ spools }) => spools?.leftM },
  },
  solve,
  solveRoughly: (values) => planOfRoute(askedOf(values), roughSearch),
  outcome: (plan, values, given) => {
    if (!plannedFor.has(given)) plannedFor.set(given, plan)
    return outcomeOf(plan, values, given)
  },
  outcomeAt: (values, given) =>
    outcomeOf(
      planOfRoute(askedOf(values), { ...roughSearch, known: plannedFor.get(given)?.spools?.legs }),
      values,
      given,
    ),
  says: outcomeText,
  unsafe: { 'legs.length': 'up', slack: 'up', endSlack: 'up', rodLength: 'down', spool: 'down' },
  // Without spools and rods nothing comes in steps, so a longer leg is just more cable.
  irrelevant: ({ legs, spool, rodLength }) =>
    (spool === undefined && rodLength === undefined) || legs.length > mostLegsWithRoom ? ['legs'] : [],
  compose: (plan, values, given) => {
    const settings = chosenSettings(values, given)
    const longest = Math.max(...values.legs.map(({ length }) => length))
    return {
      headline: headline(plan, values),
      table: tableOf(plan, values),
      limits: limitsOf(judgedOf(plan, values, given)),
      cautions: cautionsOf(plan, values),
      working: workingOf(plan, values),
      next: [
        { question: 'feed-gauge', inputs: { ...settings, distance: `${longest} m` } },
        { question: 'hole-fit', inputs: settings },
        { question: 'framing-hole', inputs: settings },
      ],
    }
  },
})
