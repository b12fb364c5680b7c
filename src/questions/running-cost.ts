import prompts from '../../prompts/en/running-cost.yaml'
import { type RunningCost, runningCost as yearOf } from '../calculators/running-cost'
import { numeralValue } from '../quantities/numerals'
import { printNumber } from '../quantities/print'
import { assumed, count, described, type Fault, knownAs, optional, quantity, required } from './common/fields'
import { chosenSettings } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { asInputs, defineQuestion, type Step } from './common/question'
import type { Values } from './common/read-inputs'
import { questionWordsOf } from './common/words'

/** What a kilowatt hour costs; the currency as it was written, so that the answer can say it back. */
type Price = { value: number; currency: string }

const priceForm =
  /^\s*([^\d\s.,+-]{0,3})\s*(\d[\d.,]*|\.\d+)\s*([^\d\s.,/]{0,5})\s*(?:per|\/|an?|each)\s*(?:kwh|kw-?h|kilowatt[- ]?hours?)\s*$/i

/** A hundredth of a currency, as it is said. */
const hundredth = /^(?:¢|c|ct|cts|cents?|p|pence)$/i

/** "$0.31 per kWh", "0,31 €/kWh", "31 cents a kWh". */
function readPrice(said: string): { ok: true; value: Price } | { ok: false; fault: Fault } {
  const refuse = (reason: string) => ({ ok: false as const, fault: { reason, values: { said } } })
  if (said.trim() === '') return refuse('empty')
  const form = priceForm.exec(said)
  if (!form) return refuse(/\d/.test(said) ? 'price-form' : 'no-number')
  const [, before = '', numeral = '', after = ''] = form
  const value = numeralValue(numeral, /^\d+,\d{1,2}$/.test(numeral) ? 'metric' : 'us')
  if (typeof value !== 'number') return refuse(value)
  const price = hundredth.test(after)
    ? { value: value / 100, currency: before }
    : { value, currency: before || after }
  return price.value <= 1000 ? { ok: true, value: price } : refuse('price-too-high')
}

/** A currency's sign stands before its amount, its letters behind: `$12`, `12 EUR`. */
const money = (amount: string, currency: string): string => {
  if (currency === '') return amount
  return /[a-z]/i.test(currency) ? `${amount} ${currency}` : `${currency}${amount}`
}

const priceText = ({ value, currency }: Price): string => `${money(String(value), currency)} per kWh`

const price = described<Price>({
  read: readPrice,
  text: priceText,
  input: priceText,
  json: ({ value }) => ({ value, unit: 'per kWh' }),
})

const inputs = {
  load: required(quantity('power', 0.1, 100_000)),
  hoursPerDay: assumed(quantity('time', 0, 24), 4),
  daysPerYear: assumed(count(0, 366), 365),
  price: optional(price),
  dim: knownAs('usualDim', assumed(quantity('percent', 0, 100), 100)),
  efficiency: assumed(quantity('percent', 50, 100), 88),
  standby: assumed(quantity('power', 0, 100), 0.5),
}

type Inputs = Values<typeof inputs>

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['cost', 'energy'],
    limits: [],
    sentences: {
      'headline.cost': ['cost', 'energy', 'standby'],
      'headline.energy': ['energy', 'standby'],
      'says.cost': ['cost'],
      'says.energy': ['energy'],
    },
    cautions: ['dimming', 'standby', 'your-figures', 'tariff'],
    working: ['inputPower', 'onTime', 'standby', 'energy', 'cost'],
    columns: [],
    faults: ['price-form', 'price-too-high', 'price-for-claim'],
  },
)

const solve = (values: Inputs): RunningCost =>
  yearOf({
    loadW: values.load,
    hoursPerDay: values.hoursPerDay,
    daysPerYear: values.daysPerYear,
    dimPercent: values.dim,
    efficiencyPercent: values.efficiency,
    standbyW: values.standby,
    ...(values.price ? { pricePerKwh: values.price.value } : {}),
  })

/** To the hundredth, upwards: a bill is not less than it says. */
const amountOf = (cost: number): string => printNumber(cost, { decimals: 2, keepZeros: true, rounding: 'up' })

const kWh = (value: number): string => printValue(value, 'kWh', 'us', 'up')

/** The next of 1, 2, 5, 10, 20, 50 … that is enough: how a year's budget is spoken of. */
function roundBudget(value: number): number {
  if (value <= 0) return 0
  const decade = 10 ** Math.floor(Math.log10(value))
  const step = [1, 2, 5, 10].find((times) => times * decade >= value * (1 - 1e-9)) ?? 10
  return Number((step * decade).toPrecision(1))
}

function headline(year: RunningCost, { price: paid }: Inputs): string {
  const energy = { energy: kWh(year.energyKwh), standby: kWh(year.standbyKwh) }
  return paid === undefined || year.cost === undefined
    ? words.say('headline.energy', energy)
    : words.say('headline.cost', { ...energy, cost: money(amountOf(year.cost), paid.currency) })
}

function workingOf(year: RunningCost, values: Inputs): Step[] {
  const { load, hoursPerDay, daysPerYear, dim, efficiency, standby, price: paid } = values
  const hoursOn = hoursPerDay * daysPerYear
  const hoursOff = Math.max(365, daysPerYear) * 24 - hoursOn
  const inputW = (load * dim) / efficiency
  const energySource = 'iso-80000-5-energy'
  return [
    {
      id: 'inputPower',
      formula: 'P = load · dim / efficiency',
      substituted: `${exactly(load, 'W')} × ${exactly(dim, '%')} / ${exactly(efficiency, '%')}`,
      result: exactly(inputW, 'W'),
    },
    {
      id: 'onTime',
      formula: 'E = P · hours a day · days a year',
      substituted: `${exactly(inputW, 'W')} × ${exactly(hoursPerDay, 'h')} × ${daysPerYear}`,
      result: exactly(year.onTimeKwh, 'kWh'),
      source: energySource,
    },
    {
      id: 'standby',
      formula: 'E = standby · hours off in the year',
      substituted: `${exactly(standby, 'W')} × ${exactly(hoursOff, 'h')}`,
      result: exactly(year.standbyKwh, 'kWh'),
      source: energySource,
    },
    {
      id: 'energy',
      formula: 'on + off',
      substituted: `${exactly(year.onTimeKwh, 'kWh')} + ${exactly(year.standbyKwh, 'kWh')}`,
      result: exactly(year.energyKwh, 'kWh'),
    },
    ...(paid && year.cost !== undefined
      ? [
          {
            id: 'cost',
            formula: 'cost = E · price',
            substituted: `${exactly(year.energyKwh, 'kWh')} × ${priceText(paid)}`,
            result: money(amountOf(year.cost), paid.currency),
          },
        ]
      : []),
  ]
}

/** The most that circuit-room takes as one load, W. */
const mostOnCircuitW = 20_000

/** What does it cost to run? */
export const runningCost = defineQuestion<typeof inputs, RunningCost>({
  id: 'running-cost',
  stage: 'hand-over',
  words,
  inputs,
  figures: {
    cost: {
      unit: '',
      better: 'lower',
      round: 'up',
      value: ({ cost }) => cost,
      text: ({ cost }, { price: paid }) => money(amountOf(cost ?? 0), paid?.currency ?? ''),
    },
    energy: { unit: 'kWh', better: 'lower', round: 'up', value: ({ energyKwh }) => energyKwh },
  },
  solve,
  outcome: ({ cost, energyKwh }) => ({ step: roundBudget(cost ?? energyKwh), binding: '', judged: [] }),
  says: ({ step }, { price: paid }) =>
    paid
      ? words.say('says.cost', { cost: money(String(step), paid.currency) })
      : words.say('says.energy', { energy: kWh(Number(step)) }),
  unsafe: {
    load: 'up',
    hoursPerDay: 'up',
    daysPerYear: 'up',
    dim: 'up',
    efficiency: 'down',
    standby: 'up',
  },
  claimFaults: ({ figure }, given) =>
    figure === 'cost' && !given.has('price') ? [{ field: 'price', reason: 'price-for-claim' }] : [],
  judgeClaim: (claim, { cost }) =>
    claim.figure === 'cost' && 'value' in claim && cost !== undefined
      ? [{ id: 'cost', value: Number(amountOf(cost)), limit: claim.value, sense: 'at-most', unit: '' }]
      : undefined,
  irrelevant: () => ['rules'],
  compose: (year, values, given) => {
    const settings = chosenSettings(values, given)
    const again = asInputs(inputs, values, [...given])
    const inputW = (values.load * 100) / values.efficiency
    return {
      headline: headline(year, values),
      cautions: ['dimming', 'standby', 'tariff', 'your-figures'],
      working: workingOf(year, values),
      next: [
        ...(values.dim === 100 ? [{ question: 'running-cost', inputs: { ...again, dim: '50 %' } }] : []),
        {
          question: 'circuit-room',
          inputs: { ...settings, added: inputW <= mostOnCircuitW ? [`${inputW} W`] : undefined },
        },
      ],
    }
  },
})
