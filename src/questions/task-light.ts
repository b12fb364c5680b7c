import prompts from '../../prompts/en/task-light.yaml'
import {
  illuminance,
  type LightKept,
  type LightOnWork,
  type LineOfLight,
  type LuxAt,
  lightOnWork,
  lightOverBench,
  type PointOnWork,
  perceivedBrightness,
} from '../calculators/line-light'
import { LUX_PER_FOOT_CANDLE } from '../quantities/convert'
import { printNumber } from '../quantities/print'
import { type Cover, coverRows, type LightTarget, lightTargetRows } from '../tables/light-targets'
import { assumed, choice, optional, quantity, required } from './common/fields'
import { chosenSettings } from './common/line-side'
import { exactly, printValue } from './common/printing'
import {
  asInputs,
  type Composition,
  defineQuestion,
  type Outcome,
  type Question,
  type Step,
} from './common/question'
import type { FieldFault, Values } from './common/read-inputs'
import { nearestChange } from './common/search'
import { type Judged, verdictOf } from './common/verdict'
import { questionWordsOf } from './common/words'

const inputs = {
  height: required(quantity('length', 0.05, 10)),
  tapeLumens: optional(quantity('lumensPerLength', 20, 6000)),
  tapePower: optional(quantity('powerPerLength', 0.5, 40)),
  efficacy: assumed(quantity('efficacy', 20, 220), 100),
  tapeLength: required(quantity('length', 0.01, 100)),
  offset: assumed(quantity('length', 0, 10), 0),
  along: assumed(quantity('length', -100, 100), 0),
  cover: assumed(choice('none', 'frosted', 'opal'), 'none'),
  coverPasses: optional(quantity('percent', 1, 100)),
  maintained: assumed(quantity('percent', 30, 100), 80),
  target: assumed(quantity('illuminance', 1, 5000), 500),
  dim: assumed(quantity('percent', 0.1, 100), 100),
}

type Inputs = Values<typeof inputs>

/** The other way round, when nobody says how much light the tape gives: then only what is needed is known. */
type Solution = { tape: LineOfLight; known: boolean; light: LightOnWork }

const bands = ['faint', 'mood', 'between', 'task'] as const

/** What the light is good for: less than mood, mood, more than that, work. */
type Band = (typeof bands)[number]

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['lux', 'luxNew', 'luxAtEnd', 'neededLumens', 'dimTo', 'seenAs'],
    limits: ['target'],
    sentences: {
      'headline.holds': ['lux', 'target', 'dimmed'],
      'headline.tight': ['lux', 'target', 'dimmed'],
      'headline.fails': ['lux', 'target', 'ways'],
      'headline.info': ['lux', 'band', 'more'],
      'headline.needed': ['needed', 'target', 'dimmed'],
      'more.dim': ['dim', 'target', 'seen'],
      'more.needed': ['needed', 'target'],
      'more.met': ['place', 'lux'],
      dimmed: ['dim', 'seen'],
      seen: ['dim', 'seen'],
      'band.faint': [],
      'band.mood': [],
      'band.between': [],
      'band.task': [],
      'says.enough': ['target'],
      'says.tight': ['target'],
      'says.short': ['target'],
      'says.needed': ['lumens'],
      'way.dim': ['value'],
      'way.lumens': ['value'],
      'way.lower': ['value'],
      'way.higher': ['value'],
      'way.longer': ['value'],
      'way.cover': [],
      'way.nothing': [],
      'row.place': ['place', 'wanted'],
      'row.range': ['from', 'to'],
      'row.dim': ['dim', 'seen'],
      'row.full': [],
      'row.part': ['lux'],
      'row.short': ['needed'],
      'picture.title': [],
      'picture.description': ['lux', 'target', 'end', 'along', 'across'],
      'picture.along': [],
      'picture.across': [],
      'picture.light': [],
      'picture.lightUs': [],
      'picture.distance': [],
      'picture.distanceUs': [],
      'picture.target': ['target'],
      'picture.here': ['lux'],
      'picture.tape': [],
    },
    cautions: ['glare', 'wet', 'direct-only', 'cover-spread', 'workplaces', 'dim-scale'],
    working: ['lumens', 'distance', 'bare', 'new', 'maintained', 'needed', 'dimTo', 'seenAs'],
    columns: ['place', 'dim'],
    faults: ['lumens-for-claim'],
  },
)

/** What the drawing of this answer needs: light in lux along two lines through the point, every text ready. */
export type TaskLightPicture = {
  units: 'us' | 'metric'
  along: LuxAt[]
  across: LuxAt[]
  point: { alongM: number; acrossM: number; lux: number }
  tapeLengthM: number
  targetLux: number
  title: string
  description: string
  labels: Record<'along' | 'across' | 'light' | 'distance' | 'target' | 'here' | 'tape', string>
}

const coverPassesOf = (cover: Cover): number => coverRows.find(({ id }) => id === cover)?.passesPercent ?? 100

const keptOf = ({ cover, coverPasses, maintained, dim }: Inputs): LightKept => ({
  coverPassesPercent: coverPasses ?? coverPassesOf(cover),
  maintainedPercent: maintained,
  dimPercent: dim,
})

const pointOf = ({ along, offset }: Inputs): PointOnWork => ({ alongM: along, acrossM: offset })

const lumensOf = ({ tapeLumens, tapePower, efficacy }: Inputs): number | undefined =>
  tapeLumens ?? (tapePower === undefined ? undefined : tapePower * efficacy)

function solve(values: Inputs): Solution {
  const given = lumensOf(values)
  const light = (lumensPerM: number) =>
    lightOnWork(
      { lumensPerM, lengthM: values.tapeLength, heightM: values.height },
      pointOf(values),
      keptOf(values),
      values.target,
    )
  const lumensPerM = given ?? light(1).neededLumensPerM
  return {
    tape: { lumensPerM, lengthM: values.tapeLength, heightM: values.height },
    known: given !== undefined,
    light: light(lumensPerM),
  }
}

function relations(values: Inputs, given: ReadonlySet<string>): FieldFault[] {
  if (given.has('tapeLumens') && given.has('tapePower')) {
    return [{ field: 'tapePower', reason: 'one-or-the-other', values: { other: 'tapeLumens' } }]
  }
  const nothing = lumensOf(values) === undefined && !given.has('target')
  return nothing ? [{ field: 'tapeLumens', reason: 'missing-alternative' }] : []
}

const rowOf = (id: string): LightTarget | undefined => lightTargetRows.find((row) => row.id === id)

/** Mood light or work light, by the rows of the table that say so. */
function bandOf(lux: number): Band {
  const mood = rowOf('mood')
  if (lux >= (rowOf('task-easy')?.luxFrom ?? 0)) return 'task'
  if (lux > (mood?.luxTo ?? 0)) return 'between'
  return lux >= (mood?.luxFrom ?? 0) ? 'mood' : 'faint'
}

/** The most demanding place or task that this light is enough for; mood light is no demand. */
const mostDemandingMet = (lux: number): LightTarget | undefined =>
  lightTargetRows.reduce<LightTarget | undefined>(
    (best, row) => (row.id !== 'mood' && row.luxTo <= lux && row.luxTo > (best?.luxTo ?? 0) ? row : best),
    undefined,
  )

/** The dim level that gives so much light at the point, %; above 100 where full light is not enough. */
const dimFor = (lux: number, { light }: Solution, { target }: Inputs): number =>
  (light.dimToPercent * lux) / target

/** The light at the point with the dimmer at full, lx. */
const luxAtFull = ({ light }: Solution, { dim }: Inputs): number => (light.lux * 100) / dim

const judgedTarget = ({ light }: Solution, { target }: Inputs): Judged => ({
  id: 'target',
  value: light.lux,
  limit: target,
  sense: 'at-least',
  unit: 'lx',
})

/** Tape is offered in steps; the next hundred lumens a metre is as fine as a choice needs. */
const tapeStep = (lumensPerM: number): number => Math.ceil((lumensPerM / 100) * (1 - 1e-9)) * 100

function outcomeOf(solution: Solution, values: Inputs, given: ReadonlySet<string>): Outcome {
  if (!solution.known) return { step: tapeStep(solution.light.neededLumensPerM), binding: '', judged: [] }
  return given.has('target')
    ? { step: '', binding: '', judged: [judgedTarget(solution, values)] }
    : { step: bandOf(solution.light.lux), binding: '', judged: [] }
}

const lx = (value: number, { units }: Inputs, rounding: 'up' | 'down' | 'nearest' = 'nearest'): string =>
  printValue(value, 'lx', units, rounding)

const lumens = (value: number, { units }: Inputs): string => printValue(value, 'lm/m', units, 'up')

const share = (value: number, rounding: 'up' | 'nearest' = 'up'): string =>
  printValue(value, '%', 'us', rounding)

function says({ step, judged }: Outcome, values: Inputs): string {
  const target = lx(values.target, values)
  if (typeof step === 'number') return words.say('says.needed', { lumens: lumens(step, values) })
  if (step !== '') return words.say(`band.${step as Band}`, {})
  const verdict = verdictOf(judged)
  const key = verdict === 'fails' ? 'short' : verdict === 'tight' ? 'tight' : 'enough'
  return words.say(`says.${key}`, { target })
}

/** Every way to reach the target, each with its number. */
function waysOut(solution: Solution, values: Inputs): string[] {
  const { light } = solution
  const reaches = (changed: Inputs): boolean => solve(changed).light.lux >= changed.target
  const until = (field: 'height' | 'tapeLength', end: number) =>
    nearestChange(values[field], end, false, (value) => reaches({ ...values, [field]: value }))
  const length = (value: number, rounding: 'up' | 'down') => printValue(value, 'm', values.units, rounding)
  const { height, tapeLength } = inputs
  const ways: string[] = []
  if (light.dimToPercent <= 100) ways.push(words.say('way.dim', { value: share(light.dimToPercent) }))
  const needed = light.neededLumensPerM
  const most = inputs.tapeLumens.field.range?.max ?? needed
  if (light.dimToPercent > 100 && needed <= most) {
    ways.push(words.say('way.lumens', { value: lumens(needed, values) }))
  }
  const lower = until('height', height.field.range?.min ?? 0)
  if (lower) ways.push(words.say('way.lower', { value: length(lower.outside, 'down') }))
  const higher = lower ? null : until('height', height.field.range?.max ?? 0)
  if (higher) ways.push(words.say('way.higher', { value: length(higher.outside, 'up') }))
  const longer = until('tapeLength', tapeLength.field.range?.max ?? 0)
  if (longer) ways.push(words.say('way.longer', { value: length(longer.outside, 'up') }))
  if (bareWays(values).some((way) => reaches({ ...values, ...way }))) ways.push(words.say('way.cover', {}))
  return ways
}

/** The same with the cover off, where there is one. */
const bareWays = ({ cover, coverPasses }: Inputs): Partial<Inputs>[] =>
  cover === 'none' || coverPasses !== undefined ? [] : [{ cover: 'none' }]

const dimTexts = ({ dimToPercent }: LightOnWork) => ({
  dim: share(dimToPercent),
  seen: share(perceivedBrightness(dimToPercent), 'nearest'),
})

function headline(solution: Solution, values: Inputs, given: ReadonlySet<string>): string {
  const { light, known } = solution
  const target = lx(values.target, values)
  const dimmed = values.dim < 100 ? ` ${words.say('seen', seenTexts(light, values))}` : ''
  if (!known) {
    return words.say('headline.needed', { needed: lumens(light.neededLumensPerM, values), target, dimmed })
  }
  const lux = lx(light.lux, values, 'down')
  if (!given.has('target')) {
    const band = words.say(`band.${bandOf(light.lux)}`, {})
    return words.say('headline.info', { lux, band, more: moreOf(solution, values) }) + dimmed
  }
  const verdict = verdictOf([judgedTarget(solution, values)])
  if (verdict === 'fails') {
    const ways = waysOut(solution, values)
    return words.say('headline.fails', {
      lux,
      target,
      ways: ways.length ? ways.join('; ') : words.say('way.nothing', {}),
    })
  }
  const lessDim = light.dimToPercent < values.dim ? ` ${words.say('dimmed', dimTexts(light))}` : ''
  return words.say(verdict === 'tight' ? 'headline.tight' : 'headline.holds', {
    lux,
    target,
    dimmed: lessDim,
  })
}

const seenTexts = ({ seenAsPercent }: LightOnWork, { dim }: Inputs) => ({
  dim: share(dim, 'nearest'),
  seen: share(seenAsPercent, 'nearest'),
})

/** What an unjudged light is enough for, and how it stands against the usual light for work. */
function moreOf({ light }: Solution, values: Inputs): string {
  const met = mostDemandingMet(light.lux)
  const target = lx(values.target, values)
  const parts = met ? [words.say('more.met', { place: met.place, lux: lx(met.luxTo, values) })] : []
  parts.push(
    light.dimToPercent <= 100
      ? words.say('more.dim', { target, ...dimTexts(light) })
      : words.say('more.needed', { target, needed: lumens(light.neededLumensPerM, values) }),
  )
  return parts.join(' ')
}

/** What each place or task wants, and the dim level that gives it here. */
function tableOf(solution: Solution, values: Inputs): NonNullable<Composition['table']> {
  const met = mostDemandingMet(solution.light.lux)
  const chosen = met ? lightTargetRows.indexOf(met) : -1
  return {
    columns: Object.values(words.columns),
    rows: lightTargetRows.map((row) => [
      words.say('row.place', { place: row.place, wanted: wantedText(row, values) }),
      dimText(row, solution, values),
    ]),
    ...(chosen >= 0 && solution.known ? { chosen } : {}),
  }
}

/** In the person's own unit alone, because a list of both is hard to read. */
function wantedText({ luxFrom, luxTo }: LightTarget, { units }: Inputs): string {
  const [unit, luxPerUnit] = units === 'us' ? ['fc', LUX_PER_FOOT_CANDLE] : ['lx', 1]
  const print = (lux: number) => printNumber(lux / luxPerUnit, { significantDigits: 3 })
  const wanted =
    luxFrom === luxTo ? print(luxTo) : words.say('row.range', { from: print(luxFrom), to: print(luxTo) })
  return `${wanted} ${unit}`
}

function dimText({ luxFrom, luxTo }: LightTarget, solution: Solution, values: Inputs): string {
  const dim = dimFor(luxTo, solution, values)
  const full = luxAtFull(solution, values)
  if (!solution.known || dimFor(luxFrom, solution, values) > 100) {
    const needed = (solution.light.neededLumensPerM * luxFrom) / values.target
    return words.say('row.short', { needed: lumens(needed, values) })
  }
  if (dim > 100) return words.say('row.part', { lux: lx(full, values, 'down') })
  if (dim > 99.5) return words.say('row.full', {})
  return words.say('row.dim', { dim: share(dim), seen: share(perceivedBrightness(dim), 'nearest') })
}

function workingOf(solution: Solution, values: Inputs): Step[] {
  const { tape, known, light } = solution
  const point = pointOf(values)
  const bare = illuminance(tape, point)
  const q = Math.hypot(values.height, values.offset)
  const ends = { a: -values.tapeLength / 2 - values.along, b: values.tapeLength / 2 - values.along }
  const kept = keptOf(values)
  const lux = (value: number) => exactly(value, 'lx')
  const perLumen = { ...tape, lumensPerM: 1 }
  return [
    ...(known ? powerStep(values) : []),
    {
      id: 'distance',
      formula: 'q = √(h² + offset²)',
      substituted: `√(${exactly(values.height, 'm')}² + ${exactly(values.offset, 'm')}²)`,
      result: exactly(q, 'm'),
    },
    {
      id: 'bare',
      formula:
        'E = (Φ′/π) · h² · [F(b) − F(a)], F(l) = l / (2·q²·(q² + l²)) + atan(l/q) / (2·q³), from end a to end b of the tape',
      substituted: `h = ${exactly(values.height, 'm')}, q = ${exactly(q, 'm')}, a = ${exactly(ends.a, 'm')}, b = ${exactly(ends.b, 'm')}, Φ′ = ${known ? exactly(tape.lumensPerM, 'lm/m') : exactly(1, 'lm/m')}`,
      result: lux(known ? bare : illuminance(perLumen, point)),
      source: 'ies-handbook-direct-light',
    },
    ...(known ? keptSteps(bare, light, kept) : []),
    {
      id: 'needed',
      formula: 'Φ′ = target / (E for 1 lm/m · cover · maintained)',
      substituted: `${lux(values.target)} / (${lux(illuminance(perLumen, point))} × ${exactly(kept.coverPassesPercent, '%')} × ${exactly(kept.maintainedPercent, '%')})`,
      result: exactly(light.neededLumensPerM, 'lm/m'),
    },
    ...(known ? dimSteps(solution, values) : []),
  ]
}

const powerStep = ({ tapeLumens, tapePower, efficacy }: Inputs): Step[] =>
  tapeLumens !== undefined || tapePower === undefined
    ? []
    : [
        {
          id: 'lumens',
          formula: 'Φ′ = w′ · efficacy',
          substituted: `${exactly(tapePower, 'W/m')} × ${exactly(efficacy, 'lm/W')}`,
          result: exactly(tapePower * efficacy, 'lm/m'),
        },
      ]

const keptSteps = (bare: number, light: LightOnWork, kept: LightKept): Step[] => [
  {
    id: 'new',
    formula: 'E · cover · dim',
    substituted: `${exactly(bare, 'lx')} × ${exactly(kept.coverPassesPercent, '%')} × ${exactly(kept.dimPercent, '%')}`,
    result: exactly(light.luxNew, 'lx'),
  },
  {
    id: 'maintained',
    formula: 'E new · maintained',
    substituted: `${exactly(light.luxNew, 'lx')} × ${exactly(kept.maintainedPercent, '%')}`,
    result: exactly(light.lux, 'lx'),
    source: 'common-practice-maintenance',
  },
]

const dimSteps = (solution: Solution, values: Inputs): Step[] => [
  {
    id: 'dimTo',
    formula: '100 · target / E maintained at full',
    substituted: `100 × ${exactly(values.target, 'lx')} / ${exactly(luxAtFull(solution, values), 'lx')}`,
    result: exactly(solution.light.dimToPercent, '%'),
  },
  {
    id: 'seenAs',
    formula: '100 · √(dim / 100)',
    substituted: `100 × √(${exactly(values.dim, '%')} / 100)`,
    result: exactly(solution.light.seenAsPercent, '%'),
    source: 'ies-handbook-square-law',
  },
]

/** How far the drawing goes to either side: past the tape's ends and past the point. */
const reachOf = ({ height, tapeLength, along, offset }: Inputs) => ({
  alongM: Math.max(tapeLength / 2 + height, 1.15 * Math.abs(along)),
  acrossM: Math.max(1.5 * height, 1.15 * offset),
})

function pictureOf(solution: Solution, values: Inputs): { kind: string; data: TaskLightPicture } {
  const { light, tape, known } = solution
  const point = pointOf(values)
  const kept = known ? keptOf(values) : { ...keptOf(values), dimPercent: 100 }
  const atPoint = known ? light.lux : values.target
  const print = (value: number) => lx(value, values, 'down')
  const metres = (value: number) => printValue(value, 'm', values.units)
  const lux = print(atPoint)
  const target = lx(values.target, values)
  const us = values.units === 'us'
  const data: TaskLightPicture = {
    units: values.units,
    ...lightOverBench(tape, point, kept, reachOf(values)),
    point: { ...point, lux: atPoint },
    tapeLengthM: values.tapeLength,
    targetLux: values.target,
    title: words.say('picture.title', {}),
    description: words.say('picture.description', {
      lux,
      target,
      end: print((light.luxAtEnd * kept.dimPercent) / values.dim),
      along: metres(values.along),
      across: metres(values.offset),
    }),
    labels: {
      along: words.say('picture.along', {}),
      across: words.say('picture.across', {}),
      light: words.say(us ? 'picture.lightUs' : 'picture.light', {}),
      distance: words.say(us ? 'picture.distanceUs' : 'picture.distance', {}),
      target: words.say('picture.target', { target }),
      here: words.say('picture.here', { lux }),
      tape: words.say('picture.tape', {}),
    },
  }
  return { kind: 'task-light', data }
}

/** Inputs without a part in this case, and those whose unsafe direction turns round here. */
function irrelevant(values: Inputs): string[] {
  const { tapePower, coverPasses, along, height, offset } = values
  const higherIsBrighter = () =>
    solve({ ...values, height: 1.01 * height }).light.lux > solve(values).light.lux
  return [
    'rules',
    ...(tapePower === undefined ? ['efficacy'] : []),
    ...(coverPasses === undefined ? [] : ['cover']),
    ...(lumensOf(values) === undefined ? ['dim'] : []),
    ...(along < 0 ? ['along'] : []),
    ...(offset > 0 && higherIsBrighter() ? ['height'] : []),
  ]
}

const whenKnown =
  (figure: (light: LightOnWork) => number) =>
  ({ known, light }: Solution): number | undefined =>
    known ? figure(light) : undefined

/** The longest opening that cut-plan takes, m. */
const longestOpeningM = 50

/** Figures that only a known tape has. */
const ofTheLight = new Set(['lux', 'luxNew', 'luxAtEnd', 'dimTo'])

const asked = defineQuestion<typeof inputs, Solution>({
  id: 'task-light',
  stage: 'light',
  words,
  inputs,
  relations,
  figures: {
    lux: { unit: 'lx', better: 'higher', round: 'down', value: whenKnown(({ lux }) => lux) },
    luxNew: { unit: 'lx', better: 'higher', round: 'down', value: whenKnown(({ luxNew }) => luxNew) },
    luxAtEnd: { unit: 'lx', better: 'higher', round: 'down', value: whenKnown(({ luxAtEnd }) => luxAtEnd) },
    neededLumens: {
      unit: 'lm/m',
      better: 'lower',
      round: 'up',
      value: ({ light }) => light.neededLumensPerM,
    },
    dimTo: { unit: '%', better: 'lower', round: 'up', value: whenKnown(({ dimToPercent }) => dimToPercent) },
    seenAs: { unit: '%', better: 'higher', round: 'nearest', value: ({ light }) => light.seenAsPercent },
  },
  solve,
  outcome: outcomeOf,
  says,
  unsafe: {
    height: 'up',
    tapeLumens: 'down',
    tapePower: 'down',
    efficacy: 'down',
    tapeLength: 'down',
    offset: 'up',
    along: 'up',
    coverPasses: 'down',
    maintained: 'down',
    target: 'up',
    dim: 'down',
  },
  irrelevant,
  claimFaults: ({ figure }, given) =>
    (figure === 'verdict' || ofTheLight.has(figure)) && !given.has('tapeLumens') && !given.has('tapePower')
      ? [{ field: 'tapeLumens', reason: 'lumens-for-claim' }]
      : [],
  // Whoever says that it is fine says that it is enough: for what was asked, else for work.
  judgeClaim: ({ figure }, solution, values) =>
    figure === 'verdict' ? [judgedTarget(solution, values)] : undefined,
  otherWays: bareWays,
  compose: (solution, values, given) => {
    const settings = chosenSettings(values, given)
    const covered = values.cover !== 'none' || values.coverPasses !== undefined
    return {
      headline: headline(solution, values, given),
      table: tableOf(solution, values),
      limits: [
        {
          id: 'target',
          value: values.target,
          unit: 'lx',
          text: lx(values.target, values),
          binds: given.has('target'),
        },
      ],
      cautions: [
        'glare',
        'wet',
        ...(covered ? ['cover-spread'] : []),
        'direct-only',
        ...(values.dim < 100 || solution.light.dimToPercent < 100 ? ['dim-scale'] : []),
        'workplaces',
      ],
      working: workingOf(solution, values),
      next: [
        { question: 'tape-reach', inputs: { ...settings, ...asInputs(inputs, values, ['tapePower']) } },
        { question: 'steady-light', inputs: settings },
        {
          question: 'cut-plan',
          inputs: {
            ...settings,
            openings: values.tapeLength <= longestOpeningM ? [`${values.tapeLength} m`] : undefined,
          },
        },
      ],
      picture: pictureOf(solution, values),
    }
  },
})

/**
 * How bright will it be on the work, and what does it take? Without the tape's light it answers the other way
 * round, from a target to the lumens that are needed; so the alternatives are told, and `relations` judges them.
 */
export const taskLight: Question = { ...asked, alternatives: [[['tapeLumens'], ['tapePower']]] }
