import { all, create } from 'mathjs'

/** A value as an example line writes it: in a fixed unit, or without one. */
export type Expected = { value: unknown; unit?: string }

/** What somebody is said to have claimed. */
export type Claim = { figure: string; value: unknown; unit?: string }

/** One line of an utterance file. */
export type Utterance = {
  text: string
  following?: { question: string; inputs: Record<string, Expected> }
  kind: 'answer' | 'ask-back' | 'choose' | 'out-of-reach'
  question: string | null
  inputs: Record<string, Expected>
  claim?: Claim | Claim[]
  mayClaim?: string[]
  missing?: string[]
  choices?: string[]
  leftOver?: string[]
  note?: string
}

/** The parts of the body of `POST /api/ask` that are scored. */
export type Reply = {
  kind: string
  reading?: {
    question?: string | null
    inputs?: Record<string, unknown>
    claim?: Claim | undefined
    leftOver?: string[]
  }
  missing?: { field: string }[]
  choices?: { question: string }[]
}

/** `why` names each thing that was not exact; it is empty when `exact`. */
export type Score = {
  exact: boolean
  silentWrong: boolean
  leftOver: { named: number; listed: number }
  why: string[]
}

const TOLERANCE = 0.005

const math = create(all ?? {})
math.createUnit('lm')
math.createUnit('lx', '1 lm/m^2')
math.createUnit('fc', '1 lm/ft^2')

/** Ways of writing a unit that mathjs does not know. */
const SPELLINGS: [RegExp, string][] = [
  [/²|(?<=[a-z])2$/u, '^2'],
  [/³|(?<=[a-z])3$/u, '^3'],
  [/^cu(?:bic)? /u, 'cubic '],
  [/^cubic in(?:ch(?:es)?)?$/u, 'inch^3'],
  [/[Ωω]/gu, 'ohm'],
  [/°\s*(?=[CF])/gu, 'deg'],
  [/^["″]$/u, 'inch'],
  [/^['′]$/u, 'ft'],
  [/\bmetre(s?)\b/gu, 'meter$1'],
  [/\blux\b/gu, 'lx'],
  [/\blumens?\b/gu, 'lm'],
  [/\bfoot[- ]?candles?\b/gu, 'fc'],
]

/** Units that are compared by name: mathjs lacks them, or would mix up two kinds (W and VA). */
const NAMED = new Set(['AWG', 'VA', '%', 'count', 'per kWh'])

function convert(value: number, from: string | undefined, to: string | undefined): number | undefined {
  if (from === undefined || to === undefined || from === to) return value
  if (NAMED.has(from) || NAMED.has(to)) return undefined
  const spell = (unit: string) => SPELLINGS.reduce((text, [old, now]) => text.replace(old, now), unit.trim())
  try {
    return math.unit(value, spell(from)).toNumber(spell(to))
  } catch {
    return undefined
  }
}

const NUMBER = String.raw`[+-]?(?:\d+[ -]\d+\/\d+|\d+\/\d+|\d*\.?\d+(?:e[+-]?\d+)?)`
const QUANTITY = new RegExp(`^[$€£]?(${NUMBER})\\s*(.*)$`, 'iu')
const FEET_INCHES = new RegExp(
  `^(${NUMBER})\\s*(?:ft|feet|foot|['′])\\s*(${NUMBER})\\s*(?:in|inch|inches|["″])?$`,
  'iu',
)

function numberOf(text: string): number {
  const [, sign, whole, over, under] = /^([+-]?)(?:(\d+)[ -])?(\d+)\/(\d+)$/u.exec(text) ?? []
  if (over === undefined || under === undefined) return Number(text)
  return (sign === '-' ? -1 : 1) * (Number(whole ?? 0) + Number(over) / Number(under))
}

function readText(text: string, unit: string | undefined): number | undefined {
  const feetInches = FEET_INCHES.exec(text.trim())
  if (feetInches?.[1] && feetInches[2]) {
    return convert(numberOf(feetInches[1]) * 12 + numberOf(feetInches[2]), 'inch', unit)
  }
  const parts = QUANTITY.exec(text.trim())
  if (!parts?.[1]) return undefined
  return convert(numberOf(parts[1]), parts[2] || undefined, unit)
}

/** A quantity of a reply in the wanted unit: a number, `{value, unit}` or text with its unit. */
function quantity(given: unknown, unit: string | undefined, givenUnit?: string): number | undefined {
  if (typeof given === 'number') return convert(given, givenUnit, unit)
  if (typeof given === 'string') {
    const bare = givenUnit !== undefined && /^[+-]?[\d.]+$/u.test(given)
    return bare ? convert(Number(given), givenUnit, unit) : readText(given, unit)
  }
  if (isRecord(given) && 'value' in given) return quantity(given.value, unit, textOf(given.unit) ?? givenUnit)
  return undefined
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

const textOf = (value: unknown) => (typeof value === 'string' ? value : undefined)
const listOf = (value: unknown): unknown[] => (Array.isArray(value) ? value : [value])
const near = (wanted: number, given: number) =>
  Math.abs(wanted - given) <= Math.abs(wanted) * TOLERANCE + 1e-12
const plain = (text: string) => text.toLowerCase().replace(/×/gu, 'x').replace(/\s+/gu, ' ').trim()

/** Fixed units of the numbers inside lists of objects. */
const INNER_UNITS: Record<string, string> = {
  at: 'm',
  distance: 'm',
  length: 'm',
  diameter: 'm',
  width: 'm',
  height: 'm',
  current: 'A',
  load: 'W',
  gauge: 'AWG',
}

const INNER_DEFAULTS: Record<string, unknown> = { wide: false, long: false, count: 1 }

/** Whether a reply's value says the same as the expected one, each with the unit that stands beside it. */
function same(wanted: unknown, unit: string | undefined, given: unknown, givenUnit?: string): boolean {
  if (Array.isArray(wanted) || Array.isArray(given)) {
    const [left, right] = [listOf(wanted), listOf(given)]
    return (
      left.length === right.length && left.every((item, index) => same(item, unit, right[index], givenUnit))
    )
  }
  if (typeof wanted === 'number') {
    const read = quantity(given, unit, givenUnit)
    return read !== undefined && near(wanted, read)
  }
  if (isRecord(wanted)) return sameRecord(wanted, given)
  const bare = isRecord(given) && 'value' in given ? given.value : given
  return plain(String(wanted)) === plain(String(bare))
}

function sameRecord(wanted: Record<string, unknown>, given: unknown): boolean {
  if ('value' in wanted) return same(wanted.value, textOf(wanted.unit), given)
  if (!isRecord(given)) return false
  return [...new Set([...Object.keys(wanted), ...Object.keys(given)])].every((key) =>
    same(wanted[key] ?? INNER_DEFAULTS[key], INNER_UNITS[key], given[key] ?? INNER_DEFAULTS[key]),
  )
}

/** A list and its sum say the same; two different lists do not. */
function sameSum(wanted: Expected, given: unknown, givenUnit?: string): boolean {
  const [left, right] = [listOf(wanted.value), listOf(given)]
  if (left.length > 1 && right.length > 1) return same(left, wanted.unit, right, givenUnit)
  const sum = (items: unknown[], unit?: string) =>
    items.reduce<number>((total, item) => total + (quantity(item, wanted.unit, unit) ?? Number.NaN), 0)
  return near(sum(left, wanted.unit), sum(right, givenUnit))
}

/** Feeds in the order of their places, whatever the order they were said in. */
function sameFeeds(wanted: unknown, given: unknown): boolean {
  const placed = (feeds: unknown) =>
    listOf(feeds)
      .map((feed) => ({ feed, at: isRecord(feed) ? (quantity(feed.at, 'm') ?? Number.NaN) : Number.NaN }))
      .sort((left, right) => left.at - right.at)
      .map(({ feed }) => feed)
  return same(placed(wanted), undefined, placed(given))
}

function permutations<Item>(items: Item[]): Item[][] {
  if (items.length < 2) return [items]
  return items.flatMap((item, index) =>
    permutations(items.filter((_, other) => other !== index)).map((rest) => [item, ...rest]),
  )
}

/** Which of them share a name: `['x', 'y', 'x']` becomes `0,1,0`. */
const sharing = (names: unknown[]) => names.map((name) => names.indexOf(name)).join()

function sameHots(wanted: unknown, given: unknown): boolean {
  const left = listOf(wanted).filter(isRecord)
  const right = listOf(given).filter(isRecord)
  if (left.length !== right.length || right.length > 6) return false
  const named = (key: string) => left.every((hot) => hot[key] !== undefined)
  const draws = (hot: Record<string, unknown> | undefined) => ({ current: hot?.current, load: hot?.load })
  const names = (hots: Record<string, unknown>[], key: string) => sharing(hots.map((hot) => String(hot[key])))
  return permutations(right).some(
    (order) =>
      left.every((hot, index) => sameRecord(draws(hot), draws(order[index]))) &&
      ['circuit', 'leg'].every((key) => !named(key) || names(left, key) === names(order, key)),
  )
}

function sameLegs(wanted: Expected, given: unknown, givenUnit?: string): boolean {
  const legs = (value: unknown, unit?: string) =>
    listOf(value).map((leg) => {
      const whole = isRecord(leg) && 'length' in leg ? leg : { length: leg }
      return { from: 'box', to: 'tape', ...whole, length: quantity(whole.length, 'm', unit) }
    })
  return same(legs(wanted.value, wanted.unit), undefined, legs(given, givenUnit))
}

type Cable = { wires: string; ground: boolean; count: number }

/** A cable as `2 x 14/2 no ground`, or as an object with its count, gauge and conductors. */
function cableOf(cable: unknown): Cable | undefined {
  if (isRecord(cable)) {
    const text = textOf(cable.cable) ?? textOf(cable.value)
    const inner = text === undefined ? undefined : cableOf(text)
    const gauge = quantity(cable.gauge, 'AWG')
    const wires = inner?.wires ?? (gauge === undefined ? undefined : `${gauge}/${cable.conductors}`)
    if (wires === undefined) return undefined
    const count = Number(cable.count ?? 1) * (inner?.count ?? 1)
    return { wires, ground: cable.ground !== false && (inner?.ground ?? true), count }
  }
  const [, count, wires, rest] = /^(?:(\d+)\s*x\s*)?(\d+(?:[/-]\d+)+)(.*)$/u.exec(plain(String(cable))) ?? []
  if (wires === undefined) return undefined
  const ground = !/\b(?:no|without)\b/u.test(rest ?? '')
  return { wires: wires.replaceAll('-', '/'), ground, count: Number(count ?? 1) }
}

function sameCables(wanted: unknown, given: unknown): boolean {
  const counts = (cables: unknown) => {
    const total = new Map<string, number>()
    for (const item of listOf(cables)) {
      const cable = cableOf(item)
      const key = cable ? `${cable.wires} ${cable.ground}` : 'unreadable'
      total.set(key, (total.get(key) ?? 0) + (cable?.count ?? 0))
    }
    return [...total].map((pair) => pair.join()).sort()
  }
  const right = counts(given)
  return !right.some((key) => key.startsWith('unreadable')) && counts(wanted).join(';') === right.join(';')
}

/** Whether one input of a reply says what the line expects. */
function sameInput(question: string | null, field: string, wanted: Expected, input: unknown): boolean {
  const given = isRecord(input) && 'value' in input ? input.value : input
  const unit = isRecord(input) ? textOf(input.unit) : undefined
  if (field === 'tapeLength' || field === 'added') return sameSum(wanted, given, unit)
  if (field === 'feeds') return sameFeeds(wanted.value, given)
  if (field === 'hots') return sameHots(wanted.value, given)
  if (field === 'legs') return sameLegs(wanted, given, unit)
  if (field === 'cables' && question === 'box-fill') return sameCables(wanted.value, given)
  return same(wanted.value, wanted.unit, given, unit)
}

/** Enumerations and booleans that go without saying. */
const DEFAULTS: Record<string, unknown> = {
  rules: 'nec',
  units: 'us',
  feed: 'one-end',
  tapeStyle: 'resistor',
  feedKind: 'dc',
  strands: 'stranded',
  loadStyle: 'constant-current',
  continuous: true,
  classTwo: 'prefer',
  cover: 'none',
  heldAtFull: false,
  electronic: true,
  clamps: true,
  edition: '2023',
  nipple: false,
  engineered: false,
  joinTape: false,
  feeds: [{ at: 0 }],
}

const IEC_DEFAULTS: Record<string, unknown> = { strands: 'flexible', classTwo: 'no-matter' }

const METRIC_WORDS =
  /(?<=[\d\s])(?:mm|cm|m|mm2|mm²|metres?|meters?|millimet(?:re|er)s?|centimet(?:re|er)s?|lux|lm\/m|w\/m|ohm\/m)(?![a-z])/iu
const CABLE_IN_MM2 = /mm\s?(?:2|²|\^2)/iu

function statesDefault(line: Utterance, field: string, value: unknown): boolean {
  const iec = line.inputs.rules?.value === 'iec' || sizeInMm2Said(line)
  const defaults = [DEFAULTS[field], iec ? IEC_DEFAULTS[field] : undefined]
  const given = isRecord(value) && 'value' in value ? value.value : value
  return defaults.some((known) => known !== undefined && same(known, undefined, given))
}

function sizeInMm2Said(line: Utterance): boolean {
  return CABLE_IN_MM2.test(line.text) || JSON.stringify([line.inputs, line.claim ?? null]).includes('"mm2"')
}

/** An input that the line does not list and that is nevertheless not wrong. */
function mayStandThere(line: Utterance, field: string, value: unknown): boolean {
  if (statesDefault(line, field, value)) return true
  const given = isRecord(value) && 'value' in value ? value.value : value
  if (field === 'units') return given === 'metric' && METRIC_WORDS.test(line.text)
  return field === 'rules' && given === 'iec' && sizeInMm2Said(line)
}

/** What may be asked for in place of a missing field. */
const INSTEAD_OF: Record<string, string[]> = {
  load: ['current', 'tapePower', 'tapeLength'],
  tapePower: ['load'],
  tapeLumens: ['tapePower'],
  modulation: ['max', 'min'],
  cables: ['conductors'],
  member: ['depth'],
  holeDiameter: ['notchDepth'],
}

function sameClaim(wanted: Claim, given: Claim): boolean {
  return wanted.figure === given.figure && same(wanted.value, wanted.unit, given.value, given.unit)
}

/** How a reply's claim stands to the line's: right, never made by anybody or another one, or dropped. */
function judgeClaim(line: Utterance, given: Claim | undefined): 'right' | 'wrong' | 'dropped' {
  const wanted = line.claim === undefined ? [] : [line.claim].flat()
  if (given && wanted.some((claim) => sameClaim(claim, given))) return 'right'
  const tolerated = given === undefined || (line.mayClaim ?? []).includes(given.figure)
  if (!tolerated) return 'wrong'
  return wanted.length === 0 ? 'right' : 'dropped'
}

type Difference = { wrong: string[]; dropped: string[]; invented: string[] }

/** The fields in which a reply to the right question differs from the line. */
function compareInputs(line: Utterance, inputs: Record<string, unknown>): Difference {
  const difference: Difference = { wrong: [], dropped: [], invented: [] }
  for (const [field, wanted] of Object.entries(line.inputs)) {
    if (inputs[field] === undefined) {
      if (!statesDefault(line, field, wanted)) difference.dropped.push(field)
    } else if (!sameInput(line.question, field, wanted, inputs[field])) difference.wrong.push(field)
  }
  for (const [field, value] of Object.entries(inputs)) {
    if (value === undefined || line.inputs[field] !== undefined || mayStandThere(line, field, value)) continue
    difference.invented.push(field)
  }
  return difference
}

/** For a reading of another question: its inputs that stand neither in the text nor in `following`. */
function inventedElsewhere(line: Utterance, inputs: Record<string, unknown>): string[] {
  return Object.entries(inputs)
    .filter(([field, input]) => {
      const said = isRecord(input) ? textOf(input.said) : undefined
      const carried = line.following?.inputs[field]
      const inText = said !== undefined && said !== '' && plain(line.text).includes(plain(said))
      const inFollowing =
        carried !== undefined && sameInput(line.following?.question ?? null, field, carried, input)
      return !inText && !inFollowing && !mayStandThere(line, field, input)
    })
    .map(([field]) => field)
}

const words = (text: string) => ` ${plain(text).replace(/[,.;:!?()]+(?=\s|$)|(?<=^|\s)[(]+/gu, '')} `

function isNamed(piece: string, leftOver: string[]): boolean {
  return leftOver.some((named) => words(named).includes(words(piece)))
}

/** Dropped inputs that no piece of the reply's `leftOver` can stand for; one carried over never can. */
function droppedInSilence(line: Utterance, dropped: string[], leftOver: string[]): boolean {
  const carried = dropped.filter((field) => {
    const before = line.following?.inputs[field]
    const now = line.inputs[field]
    return before !== undefined && now !== undefined && sameInput(line.question, field, now, before)
  })
  const spare = leftOver.filter(
    (named) =>
      plain(line.text).includes(plain(named)) &&
      !(line.leftOver ?? []).some((piece) => isNamed(piece, [named])),
  )
  return carried.length > 0 || spare.length < dropped.length
}

/** What was not exact besides the inputs and the claim. */
function compareKind(line: Utterance, reply: Reply): string[] {
  const why: string[] = []
  const question = reply.reading?.question ?? null
  if (reply.kind !== line.kind) why.push(`kind ${reply.kind}, not ${line.kind}`)
  if (question !== line.question) why.push(`question ${question}, not ${line.question}`)
  if (line.kind === 'ask-back' && reply.kind === 'ask-back') {
    const right = (line.missing ?? []).flatMap((field) => [field, ...(INSTEAD_OF[field] ?? [])])
    const first = reply.missing?.[0]?.field
    if (first === undefined || !right.includes(first))
      why.push(`asks for ${first}, not ${right.join(' or ')}`)
  }
  if (line.kind === 'choose' && reply.kind === 'choose') {
    const offered = (reply.choices ?? []).map((choice) => choice.question)
    const hit = offered.some((id) => (line.choices ?? []).includes(id))
    if (!hit || offered.length > 3) why.push(`offers ${offered.join(', ') || 'nothing'}`)
  }
  return why
}

/**
 * Scores a reply to an example line by the rules of the examples' README.
 *
 * An input or claim that was dropped counts as named when the reply's `leftOver` holds a piece of the text for it
 * besides the pieces that the line itself lists; which words an input came from is not written in a line.
 *
 * @param line one line of an utterance file; its numbers are in the fixed units
 * @param reply the body of `POST /api/ask`
 * @example scoreReply(line, await (await app.request('/api/ask', post(line))).json()).exact
 */
export function scoreReply(line: Utterance, reply: Reply): Score {
  const why = compareKind(line, reply)
  const inputs = reply.reading?.inputs ?? {}
  const leftOver = reply.reading?.leftOver ?? []
  const sameQuestion = (reply.reading?.question ?? null) === line.question && line.question !== null
  const difference = compareInputs(line, inputs)
  const claim = judgeClaim(line, reply.reading?.claim)
  for (const [how, fields] of Object.entries(difference))
    why.push(...fields.map((field) => `${how}: ${field}`))
  if (claim !== 'right') why.push(`claim ${claim}`)

  const otherWrong =
    reply.kind !== line.kind || !sameQuestion || difference.wrong.length > 0 || claim === 'wrong'
  const dropped = [...difference.dropped, ...(claim === 'dropped' ? ['claim'] : [])]
  const wrongAnswer = otherWrong || droppedInSilence(line, dropped, leftOver)
  const invented = sameQuestion ? difference.invented : inventedElsewhere(line, inputs)
  const listed = line.leftOver ?? []
  return {
    exact: why.length === 0,
    silentWrong: invented.length > 0 || (reply.kind === 'answer' && wrongAnswer),
    leftOver: { named: listed.filter((piece) => isNamed(piece, leftOver)).length, listed: listed.length },
    why,
  }
}
