import prompts from '../../prompts/en/circuit-room.yaml'
import { type CircuitLoad, type CircuitRoom, circuitRoom as roomOnCircuit } from '../calculators/circuit'
import type { Rules } from '../quantities/systems'
import { breakers } from '../tables/breakers'
import {
  assumed,
  list,
  type Measure,
  measure,
  optional,
  plainNumber,
  quantity,
  required,
  yesNo,
} from './common/fields'
import { breakerFaults, chosenSettings, lineCautions, supplyFaults, supplyInput } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { asInputs, defineQuestion, type Step } from './common/question'
import type { Values } from './common/read-inputs'
import { type Judged, verdictOf, verdictOfOne } from './common/verdict'
import { questionWordsOf } from './common/words'

const load = () => measure({ power: [0, 20000], current: [0, 100] })

const inputs = {
  breaker: required(quantity('current', 6, 32)),
  supply: supplyInput,
  existing: assumed(load(), { value: 0, unit: 'W' }),
  added: optional(list(load(), 1, 30)),
  powerFactor: assumed(plainNumber(0.3, 1), 0.9),
  continuous: assumed(yesNo(), true),
  factor: assumed(quantity('percent', 10, 100), (known) =>
    known.continuous ? breakers[known.rules === 'iec' ? 'iec' : 'nec'].continuousPercent : 100,
  ),
}

type Inputs = Values<typeof inputs>

/** The circuit with everything on it, and as it stands now. */
type Solution = { room: CircuitRoom; before: CircuitRoom }

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['spare', 'spareWatts', 'allowed', 'used', 'spareCurrent', 'usedPercent', 'driversMore'],
    limits: ['circuit'],
    sentences: {
      'headline.spare': ['breaker', 'spare', 'watts', 'amperes'],
      'headline.loaded': ['breaker', 'used', 'allowed', 'percent', 'watts'],
      'headline.loadedTight': ['breaker', 'used', 'allowed', 'percent', 'watts'],
      'headline.fits': ['breaker', 'used', 'allowed', 'percent', 'watts'],
      'headline.justFits': ['breaker', 'used', 'allowed', 'percent', 'watts'],
      'headline.more': ['count', 'driver'],
      'headline.noMore': ['driver'],
      'headline.ifEmpty': [],
      'headline.over': ['used', 'allowed', 'breaker', 'ways'],
      'headline.overAlready': ['used', 'allowed', 'breaker', 'ways'],
      'way.addLess': ['most', 'rest'],
      'way.addNone': [],
      'way.takeOff': ['watts'],
      'says.holds': [],
      'says.tight': [],
      'says.fails': [],
      'says.info': [],
    },
    cautions: [
      'dwelling-circuits',
      'all-that-is-on-it',
      'arc-fault',
      'over-twenty',
      'inrush',
      'no-iec-rule',
      'cable-of-the-circuit',
    ],
    working: ['existing', 'added', 'allowed', 'current', 'percent', 'spare', 'watts', 'drivers'],
    columns: [],
    faults: [],
  },
)

const asLoad = ({ value, unit }: Measure): CircuitLoad => ({ value, unit: unit === 'A' ? 'A' : 'W' })

const addedW = ({ added = [] }: Inputs): number[] =>
  added.flatMap(({ value, unit }) => (unit === 'W' && value > 0 ? [value] : []))

function solve(values: Inputs): Solution {
  const common = {
    rules: values.rules,
    breakerA: values.breaker,
    supplyV: values.supply,
    existing: [asLoad(values.existing)],
    powerFactor: values.powerFactor,
    continuous: values.continuous,
    factorPercent: values.factor,
  }
  return {
    room: roomOnCircuit({ ...common, added: (values.added ?? []).map(asLoad), driversW: addedW(values) }),
    before: roomOnCircuit({ ...common, added: [] }),
  }
}

const judgedCircuit = ({ room }: Solution): Judged => ({
  id: 'circuit',
  value: room.usedVA,
  limit: room.permittedVA,
  sense: 'at-most',
  unit: 'VA',
})

function headline({ room, before }: Solution, values: Inputs, given: ReadonlySet<string>): string {
  const print = (value: number, unit: string, rounding: 'up' | 'down') =>
    printValue(value, unit, values.units, rounding)
  const breaker = print(values.breaker, 'A', 'down')
  const allowed = `${print(room.permittedVA, 'VA', 'down')} (${print(room.permittedVA / values.supply, 'A', 'down')})`
  const used = `${print(room.usedVA, 'VA', 'up')} (${print(room.usedA, 'A', 'up')})`
  if (!before.allowed) {
    const ways = words.say('way.takeOff', { watts: print(-before.spareW, 'W', 'up') })
    return words.say('headline.overAlready', { used, allowed, breaker, ways })
  }
  if (!room.allowed) {
    const most = print(before.spareW, 'W', 'down')
    const rest = print(-room.spareW, 'W', 'up')
    const ways = before.spareW < 1 ? words.say('way.addNone', {}) : words.say('way.addLess', { most, rest })
    return words.say('headline.over', { used, allowed, breaker, ways })
  }
  const watts = print(room.spareW, 'W', 'down')
  if (room.usedVA === 0) {
    const [spare, amperes] = [print(room.spareVA, 'VA', 'down'), print(room.spareA, 'A', 'down')]
    return words.say('headline.spare', { breaker, spare, watts, amperes })
  }
  const percent = print(room.usedPercent, '%', 'up')
  const fits = words.say(fittingSentence({ room, before }, values), {
    breaker,
    used,
    allowed,
    percent,
    watts,
  })
  const empty = given.has('existing') ? [] : [words.say('headline.ifEmpty', {})]
  return [fits, ...furtherDrivers(room, values), ...empty].join(' ')
}

function furtherDrivers({ driversMore }: CircuitRoom, values: Inputs): string[] {
  if (driversMore === null) return []
  const driver = printValue(Math.max(...addedW(values)), 'W', values.units, 'up')
  return [
    driversMore > 0
      ? words.say('headline.more', { count: String(driversMore), driver })
      : words.say('headline.noMore', { driver }),
  ]
}

function fittingSentence(solution: Solution, { added }: Inputs) {
  const tight = verdictOfOne(judgedCircuit(solution)) === 'tight'
  if (added === undefined) return tight ? 'headline.loadedTight' : 'headline.loaded'
  return tight ? 'headline.justFits' : 'headline.fits'
}

/** Watts by the power factor, amperes by the voltage. */
function apparentStep(id: 'existing' | 'added', loads: readonly Measure[], values: Inputs): Step[] {
  const counted = loads.filter(({ value }) => value > 0)
  if (counted.length === 0) return []
  const parts = counted.map(({ value, unit }) =>
    unit === 'A'
      ? `${exactly(value, 'A')} × ${exactly(values.supply, 'V')}`
      : `${exactly(value, 'W')} / ${values.powerFactor}`,
  )
  const voltAmperes = counted.reduce(
    (sum, { value, unit }) => sum + (unit === 'A' ? value * values.supply : value / values.powerFactor),
    0,
  )
  return [
    {
      id,
      formula: counted.every(({ unit }) => unit === 'A') ? 'S = I · V' : 'S = Σ P / pf, or I · V',
      substituted: parts.join(' + '),
      result: exactly(voltAmperes, 'VA'),
    },
  ]
}

function workingOf({ room }: Solution, values: Inputs): Step[] {
  const { supply, breaker, factor, powerFactor, rules } = values
  const used = exactly(room.usedVA, 'VA')
  const allowed = exactly(room.permittedVA, 'VA')
  const spare = exactly(room.spareVA, 'VA')
  const largest = Math.max(0, ...addedW(values))
  return [
    ...apparentStep('existing', [values.existing], values),
    ...apparentStep('added', values.added ?? [], values),
    {
      id: 'allowed',
      formula: 'breaker · V · share',
      substituted: `${exactly(breaker, 'A')} × ${exactly(supply, 'V')} × ${exactly(factor, '%')}`,
      result: allowed,
      ...(factor === breakers[rules].continuousPercent
        ? { source: rules === 'iec' ? 'iec-60898-1' : 'nec-210-19-a-1' }
        : {}),
    },
    {
      id: 'current',
      formula: 'I = S / V',
      substituted: `${used} / ${exactly(supply, 'V')}`,
      result: `${exactly(room.usedA, 'A')}, against ${exactly(room.permittedVA / supply, 'A')}`,
    },
    {
      id: 'percent',
      formula: '100 · used / allowed',
      substituted: `100 × ${used} / ${allowed}`,
      result: exactly(room.usedPercent, '%'),
    },
    { id: 'spare', formula: 'allowed − used', substituted: `${allowed} − ${used}`, result: spare },
    {
      id: 'watts',
      formula: 'spare · pf',
      substituted: `${spare} × ${powerFactor}`,
      result: exactly(room.spareW, 'W'),
    },
    ...(room.driversMore === null
      ? []
      : [
          {
            id: 'drivers',
            formula: 'whole drivers in spare · pf / P',
            substituted: `${exactly(room.spareW, 'W')} / ${exactly(largest, 'W')}`,
            result: String(room.driversMore),
          },
        ]),
  ]
}

function cautionsOf({ room }: Solution, rules: Rules): string[] {
  const ofTheCode =
    rules === 'iec'
      ? ['inrush', 'no-iec-rule']
      : [...(room.cares.length > 0 ? ['over-twenty'] : []), 'dwelling-circuits', 'arc-fault']
  return [...lineCautions(rules), ...ofTheCode, 'all-that-is-on-it', 'cable-of-the-circuit']
}

/** Whether dimmer-fit takes them all as drivers: 0.5 to 1000 W each. */
const dimmable = (driversW: readonly number[]): boolean =>
  driversW.length > 0 && driversW.every((watts) => watts >= 0.5 && watts <= 1000)

/** Is there room left on this circuit? */
export const circuitRoom = defineQuestion<typeof inputs, Solution>({
  id: 'circuit-room',
  stage: 'switch',
  words,
  inputs,
  relations: (values) => [...breakerFaults(values), ...supplyFaults(values)],
  figures: {
    spare: { unit: 'VA', better: 'higher', round: 'down', value: ({ room }) => room.spareVA },
    spareWatts: { unit: 'W', better: 'higher', round: 'down', value: ({ room }) => room.spareW },
    allowed: { unit: 'VA', better: 'higher', round: 'down', value: ({ room }) => room.permittedVA },
    used: { unit: 'VA', better: 'lower', round: 'up', value: ({ room }) => room.usedVA },
    spareCurrent: { unit: 'A', better: 'higher', round: 'down', value: ({ room }) => room.spareA },
    usedPercent: { unit: '%', better: 'lower', round: 'up', value: ({ room }) => room.usedPercent },
    driversMore: {
      unit: 'count',
      better: 'higher',
      round: 'down',
      value: ({ room }) => room.driversMore ?? undefined,
    },
  },
  solve,
  outcome: (solution, _values, given) => ({
    step: '',
    binding: '',
    // What is on the circuit is judged once somebody says what that is, and always when it is too much.
    judged:
      given.has('existing') || given.has('added') || !solution.room.allowed ? [judgedCircuit(solution)] : [],
  }),
  says: ({ judged }) => words.say(`says.${verdictOf(judged)}`, {}),
  unsafe: { existing: 'up', added: 'up', powerFactor: 'down', supply: 'down' },
  compose: (solution, values, given) => {
    const settings = chosenSettings(values, given)
    const drivers = addedW(values)
    return {
      headline: headline(solution, values, given),
      limits: [{ id: 'circuit', value: solution.room.permittedVA, unit: 'VA', binds: true }],
      cautions: cautionsOf(solution, values.rules),
      working: workingOf(solution, values),
      next: [
        {
          question: 'dimmer-fit',
          inputs: {
            ...settings,
            drivers: dimmable(drivers) ? drivers.map((watts) => `${watts} W`) : undefined,
            ...asInputs(inputs, values, given.has('powerFactor') ? ['powerFactor'] : []),
          },
        },
        { question: 'shared-neutral', inputs: { ...settings, ...asInputs(inputs, values, ['breaker']) } },
        { question: 'box-fill', inputs: settings },
      ],
    }
  },
})
