import prompts from '../../prompts/en/box-fill.yaml'
import { type BoxFill, type FillRow, boxFill as fillOfBox } from '../calculators/box-fill'
import type { ConductorSize } from '../quantities/conductor-size'
import { CM3_PER_CUBIC_INCH } from '../quantities/convert'
import { printNumber, type Rounding } from '../quantities/print'
import type { System } from '../quantities/systems'
import { readBox } from '../tables/box-codes'
import { boxes } from '../tables/boxes'
import { type Cable, readCable } from '../tables/cable-codes'
import {
  assumed,
  choice,
  conductorSize,
  count,
  described,
  type Field,
  knownAs,
  list,
  name,
  optional,
  required,
  row,
  yesNo,
} from './common/fields'
import { chosenSettings, lineCautions } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { type Composition, defineQuestion, type Question, type Step } from './common/question'
import type { FieldFault, Values } from './common/read-inputs'
import { sizeFaultAt } from './common/relations'
import { type Judged, verdictOf } from './common/verdict'
import { questionWordsOf } from './common/words'

/** A box as it is named, or as the volume marked in it. */
const box = described<{ code: string | null; volumeIn3: number }>({
  read: (said) => {
    const reading = readBox(said)
    if (reading.ok) return { ok: true, value: { code: reading.code, volumeIn3: reading.volumeIn3 } }
    const { fault, piece, near } = reading
    return { ok: false, fault: { reason: `box-${fault}`, values: { said: piece, near: near.join('; ') } } }
  },
  text: ({ code, volumeIn3 }, system) => code ?? volumeText(volumeIn3, system, 'nearest'),
  input: ({ code, volumeIn3 }) => code ?? `${volumeIn3} in3`,
  json: ({ code, volumeIn3 }) =>
    code === null ? { value: volumeIn3 * CM3_PER_CUBIC_INCH, unit: 'cm3' } : { value: code },
})

/** Most cables of one kind that may be said, and most more that are looked for. */
const mostCables = 30

/** One cable of its kind, as the trade writes it. */
const cableCode = ({ gauge, insulated, ground, isolatedGround }: Cable): string =>
  `${gauge}/${insulated}${ground ? '' : ' no ground'}${isolatedGround ? ' with isolated ground' : ''}`

const cableText = (cable: Cable): string => `${cable.count} x ${cableCode(cable)}`

/** So many cables of one kind; `12/2/2` is written back as `12/4`, which counts the same. */
const cable: Field<Cable> = {
  ...described<Cable>({
    read: (said) => {
      const reading = readCable(said)
      if (reading.ok) return { ok: true, value: reading.cable }
      return { ok: false, fault: { reason: `cable-${reading.fault}`, values: { said: reading.piece } } }
    },
    text: cableText,
    input: cableText,
    json: (value) => ({ value: cableText(value) }),
  }),
  columns: { count: { field: count(1, mostCables), required: false } },
}

const inputs = {
  box: required(box),
  cables: knownAs('boxCables', optional(list(cable, 1, 30))),
  conductors: optional(
    list(
      row(
        { gauge: conductorSize() },
        {
          count: count(1, 60),
          kind: choice('hot', 'neutral', 'ground', 'isolated-ground', 'through', 'pigtail'),
        },
      ),
      1,
      30,
    ),
  ),
  looped: optional(list(row({ gauge: conductorSize() }, { count: count(1, 60), long: yesNo() }), 1, 30)),
  devices: optional(list(row({}, { gauge: conductorSize(), gangs: count(1, 6), wide: yesNo() }), 1, 10)),
  clamps: assumed(yesNo(), true),
  supportFittings: optional(list(choice('stud', 'hickey'), 1, 10)),
  terminalBlocks: optional(list(conductorSize(), 1, 10)),
  isolatedGrounds: assumed(count(0, 20), 0),
  edition: assumed(choice('2023', '2020', '2017'), '2023'),
}

type Inputs = Values<typeof inputs>
type Solution = BoxFill & { ok: true }

const figures = ['spare', 'required', 'boxVolume', 'allowances'] as const

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures,
    limits: ['box'],
    sentences: {
      'headline.fits': ['required', 'box', 'spare'],
      'headline.justFits': ['required', 'box', 'spare'],
      'headline.more': ['count', 'cable'],
      'headline.noMore': ['cable'],
      'headline.full': ['required', 'box', 'over', 'ways'],
      'headline.noRule': [],
      'way.box': ['box', 'volume'],
      'way.volume': ['volume'],
      'way.clamps': [],
      'says.holds': [],
      'says.tight': [],
      'says.fails': [],
      'part.conductors': ['count', 'gauge'],
      'part.through': ['count', 'gauge'],
      'part.long-loops': ['count', 'gauge'],
      'part.clamps': ['count', 'gauge'],
      'part.support-fittings': ['count', 'gauge'],
      'part.devices': ['count', 'gauge'],
      'part.grounds': ['count', 'gauge'],
      'part.isolated-grounds': ['count', 'gauge'],
      'part.terminal-blocks': ['count', 'gauge'],
      'row.together': [],
      'row.box': [],
      'picture.title': [],
      'picture.fits': ['required', 'box', 'spare'],
      'picture.over': ['required', 'box', 'over'],
      'picture.box': ['box'],
      'picture.boxOver': ['box', 'over'],
      'picture.free': [],
    },
    cautions: [
      'barrier',
      'reachable',
      'free-wire',
      'older-editions',
      'bulky-dimmer',
      'uncounted-blocks',
      'ask-maker',
    ],
    working: [
      'conductors',
      'through',
      'long-loops',
      'clamps',
      'support-fittings',
      'devices',
      'grounds',
      'isolated-grounds',
      'terminal-blocks',
      'together',
      'volume',
      'spare',
    ],
    columns: ['kind', 'allowances', 'volume'],
    faults: [
      'box-not-a-box',
      'box-not-understood',
      'box-ambiguous',
      'box-not-in-table',
      'box-volume-out-of-range',
      'cable-no-cable',
      'cable-no-such-gauge',
      'cable-no-such-cable',
      'cable-no-such-count',
      'cable-not-understood',
    ],
  },
)

/** A volume in the person's own unit alone, for a table and a drawing where both have no room. */
const volumeText = (volumeIn3: number, system: System, rounding: Rounding): string =>
  system === 'metric'
    ? `${printNumber(volumeIn3 * CM3_PER_CUBIC_INCH, { decimals: 1, rounding, keepZeros: true })} cm³`
    : `${printNumber(volumeIn3, { decimals: 2, rounding, keepZeros: true })} in³`

function solve(values: Inputs): Solution {
  const fill = fillOfBox({
    boxIn3: values.box.volumeIn3,
    cables: values.cables,
    conductors: values.conductors?.map(({ gauge, count = 1, kind = 'hot' }) => ({
      gauge: gauge.value,
      count,
      kind,
    })),
    looped: values.looped?.map(({ gauge, count = 1, long = false }) => ({ gauge: gauge.value, count, long })),
    devices: values.devices?.map(({ gauge, ...device }) => ({ gauge: gauge?.value, ...device })),
    clamps: values.clamps,
    supportFittings: values.supportFittings,
    terminalBlocks: values.terminalBlocks?.map(({ value }) => value),
    isolatedGrounds: values.isolatedGrounds,
    edition: values.edition,
  })
  if (!fill.ok) throw new Error('A size that the table does not have came past the relations.')
  return fill
}

function relations(values: Inputs): FieldFault[] {
  const sizes: [string, ConductorSize | undefined][] = [
    ...(values.conductors ?? []).map(({ gauge }, at) => [`conductors.${at}.gauge`, gauge] as const),
    ...(values.looped ?? []).map(({ gauge }, at) => [`looped.${at}.gauge`, gauge] as const),
    ...(values.devices ?? []).map(({ gauge }, at) => [`devices.${at}.gauge`, gauge] as const),
    ...(values.terminalBlocks ?? []).map((gauge, at) => [`terminalBlocks.${at}`, gauge] as const),
  ].map(([field, size]) => [field, size])
  return sizes.flatMap(([field, size]) => sizeFaultAt(field, size, 'nec'))
}

const judgedBox = ({ required, box }: Solution): Judged => ({
  id: 'box',
  value: required.cm3,
  limit: box.cm3,
  sense: 'at-most',
  unit: 'cm3',
})

const boxName = ({ box }: Inputs, units: System): string =>
  box.code === null
    ? volumeText(box.volumeIn3, units, 'nearest')
    : `${volumeText(box.volumeIn3, units, 'nearest')} (${box.code})`

/** How many more of the last cable would go in: the one that is usually in the hand. */
function moreCables(values: Inputs): { count: number; cable: Cable } | undefined {
  const cable = values.cables?.at(-1)
  if (!cable) return undefined
  const withMore = (more: number): boolean =>
    solve({ ...values, cables: [...(values.cables ?? []), { ...cable, count: more }] }).fits
  let count = 0
  while (count < mostCables && withMore(count + 1)) count++
  return { count, cable }
}

/** Boxes of the same shape that take so much, the smallest first; else the smallest of any shape. */
function boxesFor(neededIn3: number, { box }: Inputs): { code: string; volumeIn3: number }[] {
  const large = boxes.boxes
    .filter(({ volumeIn3 }) => volumeIn3 >= neededIn3 * (1 - 1e-9))
    .sort((one, other) => one.volumeIn3 - other.volumeIn3)
  const shape = boxes.boxes.find(({ code }) => code === box.code)?.shape
  const alike = large.filter((each) => each.shape === shape)
  return alike.length > 0 ? alike : large.slice(0, 1)
}

/** A larger box, and what can be left out. */
function waysOut(solution: Solution, values: Inputs): string[] {
  const { units } = values
  const neededIn3 = solution.required.in3
  const [larger] = boxesFor(neededIn3, values)
  const ways = larger
    ? [words.say('way.box', { box: larger.code, volume: volumeText(larger.volumeIn3, units, 'nearest') })]
    : []
  ways.push(words.say('way.volume', { volume: volumeText(neededIn3, units, 'up') }))
  if (values.clamps && solve({ ...values, clamps: false }).fits) ways.push(words.say('way.clamps', {}))
  return ways
}

/** Larger boxes, one kind of cable left out, no clamps inside. */
function otherWays(values: Inputs): Partial<Inputs>[] {
  const { box, cables = [], clamps } = values
  const larger = boxesFor(solve(values).required.in3, values)
    .filter(({ volumeIn3 }) => volumeIn3 > box.volumeIn3)
    .map(({ code, volumeIn3 }) => ({ box: { code, volumeIn3 } }))
  const fewer =
    cables.length > 1 ? cables.map((_, at) => ({ cables: cables.filter((_, other) => other !== at) })) : []
  return [...larger, ...fewer, ...(clamps ? [{ clamps: false }] : [])]
}

function headline(solution: Solution, values: Inputs): string {
  const { units } = values
  const required = volumeText(solution.required.in3, units, 'up')
  const box = boxName(values, units)
  if (!solution.fits) {
    const over = volumeText(-solution.spare.in3, units, 'up')
    return words.say('headline.full', { required, box, over, ways: waysOut(solution, values).join('; ') })
  }
  const tight = verdictOf([judgedBox(solution)]) === 'tight'
  const spare = volumeText(solution.spare.in3, units, 'down')
  const fits = words.say(tight ? 'headline.justFits' : 'headline.fits', { required, box, spare })
  const more = moreCables(values)
  if (!more) return fits
  const cable = cableCode(more.cable)
  const room =
    more.count > 0
      ? words.say('headline.more', { count: String(more.count), cable })
      : words.say('headline.noMore', { cable })
  return `${fits} ${room}`
}

/** Quarters stay quarters. */
const allowanceText = (allowances: number): string => printNumber(allowances, { decimals: 2 })

function tableOf(
  { rows, allowances, required, box }: Solution,
  { units }: Inputs,
): NonNullable<Composition['table']> {
  return {
    columns: Object.values(words.columns),
    rows: [
      ...rows.map((each) => [
        partLabel(each),
        allowanceText(each.allowances),
        volumeText(each.volumeIn3, units, 'up'),
      ]),
      [words.say('row.together', {}), allowanceText(allowances), volumeText(required.in3, units, 'up')],
      [words.say('row.box', {}), '', volumeText(box.in3, units, 'nearest')],
    ],
  }
}

/** What the drawing of a filled box shows; volumes in cm³, texts in the person's unit. */
export type BoxFillPicture = {
  title: string
  description: string
  boxCm3: number
  boxText: string
  /** In the order they are stacked, the largest rule first. */
  parts: { label: string; volumeCm3: number; text: string }[]
  spareCm3: number
  spareLabel: string
  spareText: string
}

function pictureOf(solution: Solution, values: Inputs): BoxFillPicture {
  const { units } = values
  const { rows, spare, box, fits } = solution
  const required = volumeText(solution.required.in3, units, 'up')
  const boxText = volumeText(box.in3, units, 'nearest')
  const over = volumeText(-spare.in3, units, 'up')
  const spareText = volumeText(spare.in3, units, 'down')
  const texts = rows.map((each) => volumeText(each.volumeIn3, units, 'up'))
  return {
    title: words.say('picture.title', {}),
    description: [
      fits
        ? words.say('picture.fits', { required, box: boxText, spare: spareText })
        : words.say('picture.over', { required, box: boxText, over }),
      ...rows.map((each, at) => `${partLabel(each)}: ${texts[at]}.`),
    ].join(' '),
    boxCm3: box.cm3,
    boxText: fits
      ? words.say('picture.box', { box: boxText })
      : words.say('picture.boxOver', { box: boxText, over }),
    parts: rows.map((each, at) => ({
      label: partLabel(each),
      volumeCm3: each.volumeIn3 * CM3_PER_CUBIC_INCH,
      text: texts[at] ?? '',
    })),
    spareCm3: spare.cm3,
    spareLabel: words.say('picture.free', {}),
    spareText,
  }
}

const partLabel = ({ kind, count, gauge }: FillRow): string =>
  words.say(`part.${kind}`, { count: String(count), gauge: `${gauge} AWG` })

function workingOf({ rows, required, box, spare, allowances }: Solution, { edition }: Inputs): Step[] {
  const source = edition === '2017' ? 'nec-314-16-b-2017' : 'nec-314-16-b'
  const inches = (volumeIn3: number) => `${exactly(volumeIn3, '')} in³`
  return [
    ...rows.map((each) => ({
      id: each.kind,
      formula: 'allowances · volume of one',
      substituted: `${allowanceText(each.allowances)} × ${inches(each.volumeIn3 / each.allowances)} (${each.count} of ${each.gauge} AWG)`,
      result: inches(each.volumeIn3),
      source: each.kind.endsWith('grounds') ? source : 'nec-314-16-b',
    })),
    {
      id: 'together',
      formula: 'Σ',
      substituted: `${allowanceText(allowances)} allowances: ${rows.map(({ volumeIn3 }) => exactly(volumeIn3, '')).join(' + ')} in³`,
      result: inches(required.in3),
    },
    {
      id: 'volume',
      formula: 'box',
      substituted: `${inches(box.in3)} × 16.387 cm³/in³`,
      result: exactly(box.cm3, 'cm3'),
    },
    {
      id: 'spare',
      formula: 'box − needed',
      substituted: `${inches(box.in3)} − ${inches(required.in3)}`,
      result: `${inches(spare.in3)}, ${exactly(spare.cm3, 'cm3')}`,
    },
  ]
}

const cautionsOf = (solution: Solution, { devices }: Inputs): string[] => [
  ...lineCautions('nec'),
  'barrier',
  'reachable',
  'free-wire',
  ...(solution.uncountedTerminalBlocks > 0 ? ['uncounted-blocks'] : []),
  ...(devices ? ['bulky-dimmer'] : []),
  'older-editions',
]

/** The question as the NEC answers it. */
const underNec = defineQuestion<typeof inputs, Solution>({
  id: 'box-fill',
  stage: 'look',
  words,
  inputs,
  alternatives: [[['cables'], ['conductors']]],
  relations,
  figures: {
    spare: { unit: 'cm3', better: 'higher', round: 'down', value: ({ spare }) => spare.cm3 },
    required: { unit: 'cm3', better: 'lower', round: 'up', value: ({ required }) => required.cm3 },
    boxVolume: { unit: 'cm3', better: 'higher', round: 'nearest', value: ({ box }) => box.cm3 },
    allowances: {
      unit: 'count',
      better: 'lower',
      round: 'up',
      value: ({ allowances }) => allowances,
      text: ({ allowances }) => allowanceText(allowances),
    },
  },
  solve,
  outcome: (solution) => ({ step: '', binding: '', judged: [judgedBox(solution)] }),
  says: ({ judged }) => {
    const verdict = verdictOf(judged)
    return words.say(`says.${verdict === 'info' ? 'holds' : verdict}`, {})
  },
  unsafe: {
    'cables.count': 'up',
    'conductors.count': 'up',
    'looped.count': 'up',
    'devices.gangs': 'up',
    isolatedGrounds: 'up',
  },
  otherWays,
  compose: (solution, values, given) => {
    const settings = chosenSettings(values, given)
    return {
      headline: headline(solution, values),
      limits: [
        {
          id: 'box',
          value: solution.box.cm3,
          unit: 'cm3',
          text: printValue(solution.box.cm3, 'cm3', values.units, 'nearest'),
          binds: true,
        },
      ],
      table: tableOf(solution, values),
      picture: { kind: 'box-fill', data: pictureOf(solution, values) },
      cautions: cautionsOf(solution, values),
      working: workingOf(solution, values),
      next: [
        { question: 'shared-neutral', inputs: settings },
        { question: 'circuit-room', inputs: settings },
        { question: 'hole-fit', inputs: settings },
      ],
    }
  },
})

const noRule = {
  ...Object.fromEntries(Object.entries(inputs).map(([id, { field }]) => [id, optional(field as Field)])),
  box: optional(name()),
  cables: optional(list(name(), 1, 30)),
}

/** The question as IEC leaves it: without a rule, so whatever is in the box gets no number from another book. */
const underIec = defineQuestion<typeof noRule, null>({
  id: 'box-fill',
  stage: 'look',
  words,
  inputs: noRule,
  figures: {},
  solve: () => null,
  outcome: () => ({ step: '', binding: '', judged: [] }),
  says: () => '',
  unsafe: {},
  compose: () => ({
    headline: words.say('headline.noRule', {}),
    cautions: [...lineCautions('iec'), 'ask-maker'],
    working: [],
    next: [],
  }),
})

/** With no rule there is nothing to hold a claim against; the headline says so. */
const withoutClaim = (body: object): object =>
  Object.fromEntries(Object.entries(body).filter(([id]) => !/^claim(?:\.|$)/.test(id)))

const isIec = (raw: unknown): raw is object =>
  typeof raw === 'object' && raw !== null && 'rules' in raw && raw.rules === 'iec'

/** Does it all fit in this box? What is read, not only what is answered, differs under IEC. */
export const boxFill: Question = {
  ...underNec,
  answer: (raw, remembered) =>
    isIec(raw) ? underIec.answer(withoutClaim(raw), remembered) : underNec.answer(raw, remembered),
  faults: (raw) => (isIec(raw) ? underIec.faults(withoutClaim(raw)) : underNec.faults(raw)),
}
