import { settled } from '../../quantities/settled'
import type { System } from '../../quantities/systems'
import { source } from '../../tables/sources'
import type {
  Answer,
  AnswerInput,
  Assumption,
  Caution,
  Figure,
  NextQuestion,
  Provenance,
  Setting,
} from './answer'
import { claimExample, claimHeadline, claimVerdict, readClaim } from './claim'
import { faultMessage } from './fault-message'
import { emptyRow, type Field, type Input } from './fields'
import { figureUnit, printValue } from './printing'
import {
  bodySchema,
  type FieldFault,
  type InputSpecs,
  readBody,
  settingInputs,
  type Values,
  withSettings,
} from './read-inputs'
import { roomOf } from './room'
import { sharedCautions, sharedWords } from './shared-words'
import type { Claim, Composition, FieldError, Question, QuestionSpec } from './spec'
import { verdictOf, worst } from './verdict'
import { fill, type QuestionWords } from './words'

export type {
  Answered,
  Claim,
  Composition,
  FieldError,
  FigureSpec,
  Outcome,
  Question,
  QuestionSpec,
  Stage,
  Step,
} from './spec'

const noneRemembered: ReadonlySet<string> = new Set()

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

  /** The values and the claim of a body, or all that is wrong with it. */
  const read = (raw: unknown) => {
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
    return {
      values,
      given: reading.given,
      claim: claim?.ok ? claim.claim : undefined,
      errors: errorsOf(faults, units),
    }
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
    answer: (raw, remembered = noneRemembered) => {
      const { values, given, claim, errors } = read(raw)
      if (errors.length > 0) return { ok: false, errors }
      return { ok: true, answer: compose(spec, inputs, values, given, claim, remembered) }
    },
    faults: (raw) => read(raw).errors,
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
  remembered: ReadonlySet<string>,
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
    inputs: inputsOf(inputs, values, given, irrelevant, remembered),
    figures: settled(figuresOf(spec, solution, values)),
    limits: settled(parts.limits ?? []).map((limit) => ({
      ...limit,
      label: spec.words.limits[limit.id] ?? limit.id,
      text: limit.text ?? printValue(limit.value, limit.unit, values.units, 'down'),
    })),
    ...(parts.table ? { table: settled(parts.table) } : {}),
    ...(claimed ? { claim: { ...claimed, margin: claimed.margin || parts.headline } } : {}),
    room: own === 'fails' ? [] : settled(roomOf(spec, values, given, outcome)),
    assumptions,
    cautions,
    working,
    next: parts.next.filter(({ question }) => titles[question] !== undefined).map(nextQuestion),
    ...(parts.picture ? { picture: settled(parts.picture) } : {}),
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
  remembered: ReadonlySet<string>,
): Record<string, AnswerInput> {
  const out: Record<string, AnswerInput> = {}
  for (const [id, input] of Object.entries(inputs)) {
    const value = values[id]
    if (value === undefined || (irrelevant.includes(id) && !given.has(id))) continue
    const from: Provenance = !given.has(id) ? (input.from ?? 'assumed') : remembered.has(id) ? 'job' : 'given'
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

/** `{feeds: [{at: "0 ft"}]}` to `{"feeds.0.at": "0 ft"}`: what an address or a plain form can carry, rows without a cell too. */
export function flattenInputs(inputs: Record<string, unknown>, prefix = ''): Record<string, string> {
  const flat: Record<string, string> = {}
  for (const [key, value] of Object.entries(inputs)) {
    if (value === undefined) continue
    const path = prefix ? `${prefix}.${key}` : key
    if (isEmptyRow(value)) flat[path] = emptyRow
    else if (typeof value === 'object' && value !== null) {
      Object.assign(flat, flattenInputs(value as Record<string, unknown>, path))
    } else flat[path] = String(value)
  }
  return flat
}

const isEmptyRow = (value: unknown): boolean =>
  typeof value === 'object' && value !== null && !Array.isArray(value) && Object.keys(value).length === 0

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
