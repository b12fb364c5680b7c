import type { Rounding } from '../../quantities/print'
import type { System } from '../../quantities/systems'
import { source } from '../../tables/sources'
import type {
  Answer,
  AnswerInput,
  AnswerTable,
  Assumption,
  Caution,
  Figure,
  Finding,
  NextQuestion,
  Provenance,
  Setting,
} from './answer'
import { type Claim, claimExample, claimHeadline, claimVerdict, readClaim } from './claim'
import type { Field, Input } from './fields'
import { figureUnit, printValue } from './printing'
import {
  type Alternatives,
  bodySchema,
  type FieldFault,
  type InputSpecs,
  readBody,
  settingInputs,
  type Values,
  withSettings,
} from './read-inputs'
import { roomOf } from './room'
import { faultMessage, sharedCautions, sharedWords } from './shared-words'
import { type Judged, verdictOf, worst } from './verdict'
import { fill, type QuestionWords } from './words'

export type Stage = 'size' | 'light' | 'switch' | 'look' | 'way' | 'buy' | 'prove' | 'hand-over'

/** One faulty field, in words. */
export type FieldError = { field: string; message: string; example?: string }

/** A number the answer gives. */
export type FigureSpec<S, V> = {
  /** The fixed JSON unit; `size` stands for AWG or mm² by the rules. */
  unit: string
  /** The unit where it depends on the case, in place of `unit`. */
  unitOf?(values: V): string
  /** A claim holds when the figure comes out at least as good as claimed; `same` for words that have no order. */
  better: 'higher' | 'lower' | 'same'
  /** The words a figure may come out as, from the worst to the best when `better` is `higher`. */
  choices?: readonly string[]
  /** Such a word as a person reads it. */
  choiceText?(choice: string): string
  /** The safe way to round it in print. */
  round: Rounding
  /** `undefined` leaves the figure out of this answer. */
  value(solution: S, values: V): number | readonly number[] | string | undefined
  /** Where the plain print of value and unit does not say enough. */
  text?(solution: S, values: V): string
}

/** What decides whether an answer has changed: compared at other inputs to find how far each may move. */
export type Outcome = {
  /** The stepped figure: a reach, a gauge, a rating, a count. */
  step: number | string
  /** The limit that binds. */
  binding: string
  judged: readonly Judged[]
  /** Broken in a way that no limit states, such as a driver that no size covers. */
  fails?: boolean
  /** Judged and sound, without a degree that could be tight. */
  sound?: boolean
}

/** A step of working; its label stands in the words. */
export type Step = { id: string; formula: string; substituted: string; result: string; source?: string }

/** The parts of an answer that only its question can compose. */
export type Composition = {
  headline: string
  limits?: readonly { id: string; value: number; unit: string; text?: string; binds: boolean }[]
  table?: AnswerTable
  /** Ids of the question's own cautions, or of shared ones; with values where the text has placeholders. */
  cautions: readonly (string | { id: string; values: Record<string, string> })[]
  working: readonly Step[]
  /** Inputs as they may be typed; `flattenInputs` writes them for an address. */
  next: readonly { question: string; inputs: Record<string, unknown> }[]
  picture?: { kind: string; data: unknown }
  findings?: readonly Finding[]
  /** Assumptions that are no input of their own. */
  alsoAssumed?: readonly Assumption[]
}

/** What a question file declares. */
export type QuestionSpec<F extends InputSpecs, S> = {
  id: string
  stage: Stage
  words: QuestionWords
  inputs: F
  /** Each entry: alternatives of which exactly one is given whole. */
  alternatives?: readonly Alternatives[]
  /** Faults that need more than one field to see. */
  relations?(values: Values<F>, given: ReadonlySet<string>): FieldFault[]
  figures: Readonly<Record<string, FigureSpec<S, Values<F>>>>
  solve(values: Values<F>): S
  outcome(solution: S, values: Values<F>, given: ReadonlySet<string>): Outcome
  /** The same as `outcome` of `solve`, where the search for room can have it for less work. */
  outcomeAt?(values: Values<F>, given: ReadonlySet<string>): Outcome
  /** Which way the stepped figure gets worse; where it is not said, every change of it counts. */
  stepWorse?: 'lower' | 'higher'
  /** An outcome in a few words, for "still …, beyond that …". */
  says(outcome: Outcome, values: Values<F>): string
  /** The unsafe direction of each input that matters; `feeds.distance` reaches into rows. */
  unsafe: Readonly<Record<string, 'up' | 'down'>>
  /** What else must be given before a claim on some figure can be judged. */
  claimFaults?(claim: Claim, given: ReadonlySet<string>, values: Setting): FieldFault[]
  /** How a claim on a figure is judged, where comparing it with the figure is not enough. */
  judgeClaim?(claim: Claim, solution: S, values: Values<F>): Judged[] | undefined
  /** Inputs that play no part in this case: their assumed values are not shown and have no room. */
  irrelevant?(values: Values<F>): readonly string[]
  /** Other ways to do it that might make a failing claim hold. */
  otherWays?(values: Values<F>): Partial<Values<F>>[]
  compose(solution: S, values: Values<F>, given: ReadonlySet<string>, claim?: Claim): Composition
}

export type Answered = { ok: true; answer: Answer } | { ok: false; errors: FieldError[] }

/** A question as the rest of the house sees it. */
export type Question = {
  readonly id: string
  readonly stage: Stage
  readonly words: QuestionWords
  readonly inputs: Readonly<Record<string, Input>>
  readonly alternatives: readonly Alternatives[]
  readonly figures: Readonly<
    Record<string, { unit: string; better: 'higher' | 'lower' | 'same'; choices?: readonly string[] }>
  >
  readonly mainFigure: string
  /** The zod schema of its JSON body. */
  schema(system: System): ReturnType<typeof bodySchema>
  /** Reads a raw body and answers it, or says all that is wrong with it. Never throws on bad input. */
  answer(raw: unknown): Answered
}

/** Makes a question of its declaration: reading, judging, room and claim are the same for all. */
export function defineQuestion<const F extends InputSpecs, S>(spec: QuestionSpec<F, S>): Question {
  const inputs = withSettings(spec.inputs)
  const schemas = { us: bodySchema(inputs, 'us'), metric: bodySchema(inputs, 'metric') }
  const alternatives = spec.alternatives ?? []
  const [mainFigure = ''] = Object.keys(spec.figures)

  const errorsOf = (faults: readonly FieldFault[], system: System): FieldError[] =>
    faults.map((fault) => faultMessage(fault, inputs, spec.words, system))

  const withClaimExample = (fault: FieldFault, values: Values<F>): FieldFault => {
    const main = spec.figures[mainFigure]
    if (!main || fault.field !== 'claim') return fault
    return { ...fault, example: main.choices?.[0] ?? claimExample(figureUnit(main, values), values) }
  }

  return {
    id: spec.id,
    stage: spec.stage,
    words: spec.words,
    inputs,
    alternatives,
    figures: spec.figures,
    mainFigure,
    schema: (system) => schemas[system],
    answer: (raw) => {
      const reading = readBody(inputs, schemas, alternatives, raw)
      const { rules, units } = settingOf(raw)
      const values = (reading.ok ? reading.values : { rules, units }) as Values<F>
      // A claim whose unit depends on faulty inputs cannot be read yet.
      const readable = reading.ok || spec.figures[reading.claim?.figure ?? mainFigure]?.unitOf === undefined
      const claim = reading.claim && readable ? readClaim(spec, reading.claim, values) : undefined
      const faults = [
        ...(reading.ok
          ? (spec.relations?.(values, reading.given) ?? [])
          : reading.faults.map((fault) => withClaimExample(fault, values))),
        ...(claim && !claim.ok ? [{ ...claim.fault, field: 'claim' }] : []),
        ...(claim?.ok ? (spec.claimFaults?.(claim.claim, reading.given, values) ?? []) : []),
      ]
      if (!reading.ok || faults.length > 0) return { ok: false, errors: errorsOf(faults, units) }
      return {
        ok: true,
        answer: compose(spec, inputs, values, reading.given, claim?.ok ? claim.claim : undefined),
      }
    },
  }
}

/** The settings of a body that may be faulty, for what is said of its faults. */
function settingOf(raw: unknown): Setting {
  const { rules, units } = (raw ?? {}) as { rules?: unknown; units?: unknown }
  return { rules: rules === 'iec' ? 'iec' : 'nec', units: units === 'metric' ? 'metric' : 'us' }
}

function compose<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  inputs: Readonly<Record<string, Input>>,
  values: Values<F>,
  given: ReadonlySet<string>,
  claim: Claim | undefined,
): Answer {
  const solution = spec.solve(values)
  const outcome = spec.outcome(solution, values, given)
  const judged = verdictOf(outcome.judged)
  const own = outcome.fails ? 'fails' : judged === 'info' && outcome.sound ? 'holds' : judged
  const claimed = claim && claimVerdict(spec, claim, solution, values, given)
  const parts = spec.compose(solution, values, given, claim)
  const irrelevant = spec.irrelevant?.(values) ?? []
  const assumptions = [
    ...assumptionsOf(spec, inputs, values, given, irrelevant),
    ...(parts.alsoAssumed ?? []),
  ]
  const cautions = parts.cautions.map((id) => cautionOf(id, spec.words, values))
  const working = parts.working.map(({ id, formula, substituted, result, source: cited }) => {
    const label = spec.words.working[id] ?? id
    return { label, formula, substituted, result, ...(cited === undefined ? {} : { source: cited }) }
  })
  const cited = [...assumptions, ...cautions, ...working].flatMap((part) => part.source ?? [])
  return {
    question: spec.id,
    verdict: worst([own, claimed?.verdict ?? 'info']),
    headline:
      claim && claimed
        ? `${claimHeadline(spec, claim, claimed.verdict, values)} ${parts.headline}`
        : parts.headline,
    inputs: inputsOf(inputs, values, given, irrelevant),
    figures: figuresOf(spec, solution, values),
    limits: (parts.limits ?? []).map((limit) => ({
      ...limit,
      label: spec.words.limits[limit.id] ?? limit.id,
      text: limit.text ?? printValue(limit.value, limit.unit, values.units, 'down'),
    })),
    ...(parts.table ? { table: parts.table } : {}),
    ...(claimed ? { claim: { ...claimed, margin: claimed.margin || parts.headline } } : {}),
    room: own === 'fails' ? [] : roomOf(spec, values, given, outcome),
    assumptions,
    cautions,
    working,
    next: parts.next.filter(({ question }) => titles[question] !== undefined).map(nextQuestion),
    ...(parts.picture ? { picture: parts.picture } : {}),
    ...(parts.findings ? { findings: parts.findings } : {}),
    sources: [...new Set(cited)].map(source),
    localCode: sharedWords.localCode[values.rules],
  }
}

const cautionOf = (
  said: Composition['cautions'][number],
  words: QuestionWords,
  { rules }: Setting,
): Caution => {
  const id = typeof said === 'string' ? said : said.id
  const caution = words.cautions[id] ?? sharedCautions[id]
  if (!caution) throw new Error(`There is no caution "${id}".`)
  const { level } = caution
  const { source: cited } = (rules === 'iec' && caution.iec) || caution
  const text = typeof said === 'string' ? caution.text : fill(caution.text, said.values)
  return { level, text, ...(cited === undefined ? {} : { source: cited }) }
}

function inputsOf(
  inputs: Readonly<Record<string, Input>>,
  values: Setting & Record<string, unknown>,
  given: ReadonlySet<string>,
  irrelevant: readonly string[],
): Record<string, AnswerInput> {
  const out: Record<string, AnswerInput> = {}
  for (const [id, input] of Object.entries(inputs)) {
    const value = values[id]
    if (value === undefined || (irrelevant.includes(id) && !given.has(id))) continue
    const from: Provenance = given.has(id) ? 'given' : (input.from ?? 'assumed')
    const { value: json, unit } = input.field.json(value)
    const text = input.field.text(value, values.units)
    out[id] = unit === undefined ? { value: json, text, from } : { value: json, unit, text, from }
  }
  return out
}

function figuresOf<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  solution: S,
  values: Values<F>,
): Figure[] {
  return Object.entries(spec.figures).flatMap(([id, figure]) => {
    const value = figure.value(solution, values)
    if (value === undefined) return []
    const unit = figureUnit(figure, values)
    const print = (number: number) => printValue(number, unit, values.units, figure.round)
    const plain =
      typeof value === 'string'
        ? value
        : typeof value === 'number'
          ? print(value)
          : value.map(print).join(', ')
    return [
      {
        id,
        label: spec.words.figures[id] ?? id,
        value,
        ...(typeof value === 'string' ? {} : { unit }),
        text: figure.text?.(solution, values) ?? plain,
      },
    ]
  })
}

function assumptionsOf<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  inputs: Readonly<Record<string, Input>>,
  values: Values<F>,
  given: ReadonlySet<string>,
  irrelevant: readonly string[],
): Assumption[] {
  const all: Record<string, unknown> = values
  return Object.entries(inputs).flatMap(([id, input]) => {
    const value = all[id]
    if (given.has(id) || id === 'units' || value === undefined || input.need !== 'assumed') return []
    if (irrelevant.includes(id)) return []
    const words = spec.words.fields[id] ?? sharedWords.fields[id]
    const because = (values.rules === 'iec' && words?.iec) || words
    const shown =
      input.field.kind === 'choice' ? (words?.choices?.[String(value)] ?? String(value)) : undefined
    return [
      {
        field: id,
        text: `${words?.label ?? id}: ${shown ?? input.field.text(value, values.units)}`,
        why: because?.why ?? words?.why ?? sharedWords.sentences['why.assumed'] ?? '',
        ...(because?.source ? { source: because.source } : {}),
      },
    ]
  })
}

let titles: Readonly<Record<string, string>> = {}

/** The registry tells the titles, so that a question can name the ones that follow it without importing them. */
export const knowTitles = (known: Readonly<Record<string, string>>): void => {
  titles = known
}

const nextQuestion = (next: { question: string; inputs: Record<string, unknown> }): NextQuestion => ({
  question: next.question,
  title: titles[next.question] ?? next.question,
  inputs: flattenInputs(next.inputs),
})

/** `{feeds: [{at: "0 ft"}]}` to `{"feeds.0.at": "0 ft"}`: what an address or a plain form can carry. */
export function flattenInputs(inputs: Record<string, unknown>, prefix = ''): Record<string, string> {
  const flat: Record<string, string> = {}
  for (const [key, value] of Object.entries(inputs)) {
    if (value === undefined) continue
    const path = prefix ? `${prefix}.${key}` : key
    if (typeof value === 'object' && value !== null) {
      Object.assign(flat, flattenInputs(value as Record<string, unknown>, path))
    } else flat[path] = String(value)
  }
  return flat
}

/** Values written as they may be typed, without loss, for a next question or an address. */
const settings: InputSpecs = settingInputs

export function asInputs(
  inputs: Readonly<Record<string, { field: Field }>>,
  values: Record<string, unknown>,
  ids: readonly string[],
): Record<string, unknown> {
  return Object.fromEntries(
    ids.flatMap((id) => {
      const field = (inputs[id] ?? settings[id])?.field as Field<unknown> | undefined
      const value = values[id]
      return field && value !== undefined ? [[id, field.input(value)]] : []
    }),
  )
}
