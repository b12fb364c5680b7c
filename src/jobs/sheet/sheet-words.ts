import { z } from 'zod'
import prompts from '../../../prompts/en/job-sheet.yaml'
import { checkSentences, readPrompts, sayer } from '../../questions/common/words'

/** Exactly these keys, each a text. */
const texts = <const K extends string>(...keys: K[]) =>
  z.strictObject(Object.fromEntries(keys.map((key) => [key, z.string()])) as Record<K, z.ZodString>)

const schema = z.strictObject({
  title: z.string(),
  headings: texts(
    'fitted',
    'drawings',
    'materials',
    'cutting',
    'proof',
    'verdicts',
    'sums',
    'assumed',
    'cautions',
    'localCode',
    'signatures',
    'sources',
  ),
  block: texts('job', 'place', 'circuit', 'madeBy', 'date', 'state', 'version', 'number'),
  states: texts('open', 'done', 'archived'),
  rowStates: texts('holds', 'tight', 'fails', 'info', 'not-asked'),
  columns: z.strictObject({
    materials: texts('what', 'quantity', 'where', 'from'),
    proof: texts('reading', 'expected', 'measured', 'signed'),
    verdicts: texts('state', 'about', 'says'),
    assumed: texts('what', 'why', 'where'),
    sums: texts('step', 'formula', 'numbers', 'result'),
    cut: z.string(),
    csv: texts('what', 'quantity', 'unit', 'text', 'where', 'from', 'question', 'note'),
  }),
  drawings: texts(
    'along-the-tape',
    'cut-plan',
    'framing-hole',
    'hole-fit',
    'box-fill',
    'task-light',
    'steady-light',
    'meter-check',
  ),
  readings: texts(
    'driverOpen',
    'driverLoaded',
    'tapeStart',
    'tapeEnd',
    'current',
    'feed-gauge.farEndVoltage',
    'feed-gauge.current',
    'driver-size.inputCurrent',
    'shared-neutral.neutralAtWorst',
    'task-light.luxNew',
  ),
  signatures: texts('proved', 'accepted', 'line'),
  page: texts('letter', 'a4', 'pdf', 'json', 'csv', 'otherShapes'),
  sentences: z.record(z.string(), z.string()),
})

const needs = {
  wholeJob: [],
  and: ['first', 'last'],
  notReady: ['reasons'],
  'reason.fails': ['title', 'where'],
  'reason.contested': ['field', 'where'],
  contested: ['values'],
  madeWith: ['version'],
  runningHead: ['title', 'job'],
  page: ['page', 'pages'],
  caption: ['number', 'what', 'where'],
  titled: ['what', 'where'],
  sum: ['numbers'],
  sums: ['numbers'],
  fromTold: [],
  source: ['number'],
  scale: [],
  'none.fitted': [],
  'none.drawn': [],
  'none.cut': [],
  'none.proof': [],
  'none.checked': [],
  'none.worked': [],
  'none.assumed': [],
  'none.cautions': [],
  limit: ['label'],
  unknown: [],
  'unit.none': [],
  'unit.reel.one': [],
  'unit.reel.many': ['count'],
  'unit.length.one': [],
  'unit.length.many': ['count'],
  'unit.piece.one': [],
  'unit.piece.many': ['count'],
  'unit.output.one': [],
  'unit.output.many': ['count'],
  'material.tape': [],
  'material.tapeOnReels': ['tape', 'length'],
  'material.tapeOf': ['tape'],
  'material.channel': [],
  'material.channelOf': ['length'],
  'material.cable': [],
  'material.cableOf': ['size'],
  'material.cableToBox': [],
  'material.driver': [],
  'material.driverOf': ['power'],
  'material.outputs': ['power'],
  'material.dimmer': [],
  'material.dimmerOf': ['kind'],
  'material.switch': [],
  'material.box': [],
  'material.boxOf': ['box'],
  'material.plate': [],
  'material.bit': [],
  'material.bitOf': ['size'],
  'material.named': ['what', 'name'],
  'note.ask': ['question'],
  'note.noSize': ['question'],
  'note.sizes': [],
  'note.leastSize': [],
  'note.noReels': ['question'],
  'note.withSlack': ['distance'],
  'note.spools': ['count', 'spool'],
  'note.outputs': [],
  'note.eachHole': [],
  'note.byPart': [],
  'note.byWhole': [],
  'note.dimmable': ['rating'],
  places: ['where', 'text'],
  'cutting.tape': [],
  'cutting.cable': [],
  'reading.tapeLowest': ['at'],
  'reading.feed': ['number', 'at'],
  range: ['low', 'high'],
  about: ['value'],
  atMost: ['value'],
  within: ['measured'],
  outside: ['measured'],
  how: ['percent', 'volts', 'clampPercent', 'amps'],
} as const

/** The words of the job sheet: page, PDF and list of materials say the same. */
export const sheetWords = readPrompts(prompts, schema)
checkSentences(prompts, sheetWords.sentences, needs)

const sayIt = sayer(sheetWords.sentences)

/** A sentence of the sheet with its placeholders filled. */
export const say = <K extends keyof typeof needs>(
  key: K,
  values: Record<(typeof needs)[K][number], string>,
): string => sayIt(key, values)

/** "a, b and c" */
export const inWords = (parts: readonly string[]): string =>
  parts.length < 2
    ? (parts[0] ?? '')
    : say('and', { first: parts.slice(0, -1).join(', '), last: parts.at(-1) ?? '' })

/** A part of the job by its name; null is the whole of it. */
export const placeName = (where: string | null): string => where ?? say('wholeJob', {})
