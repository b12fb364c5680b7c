import type { Answer, Figure } from '../../questions/common/answer'
import type { Answered, Question } from '../../questions/common/question'
import { type Facts, factOf, type KnownFact } from '../memory/facts'
import { fillFromFacts } from '../memory/fill'
import type { CheckedJob, Place } from './checked-job'
import type { Missing } from './row'
import { runsOf } from './runs'

/** What a question takes from other parts of the job, and what it does not take from its own place. */
export type Gathered = {
  /** Inputs as they may be typed, a claim among them. */
  given: Readonly<Record<string, unknown>>
  /** Facts of the place that do not count here. */
  without?: readonly string[]
  /** What was gathered, in words. */
  said?: readonly string[]
  /** The facts behind it. */
  sources?: readonly KnownFact[]
  /** Why there is nothing to ask, where that is known without asking. */
  instead?: { state: 'fails' | 'not-asked'; sentence: string; missing?: readonly Missing[] }
}

export const nothingGathered: Gathered = { given: {} }

/** A question as it was put at a place of the job. */
export type Asked = {
  question: Question
  place: Place
  /** Its inputs as typed, whether they came from the place or were gathered. */
  raw: Record<string, unknown>
  answered: Answered
  /** The facts that it rests on. */
  uses: readonly KnownFact[]
  gathered: Gathered
}

/** Puts a question at a place of the job, with what the job knows there and what was gathered for it. */
export function ask(job: CheckedJob, question: Question, place: Place, gathered = nothingGathered): Asked {
  const { claim, ...given } = gathered.given
  const facts = factsFor(job, question, place, gathered)
  const put = (raw: Record<string, unknown>): Answered => answerClaimed(question, raw, given, claim)
  const filled = fillFromFacts({ ...question, answer: (raw) => put(raw as typeof given) }, given, facts)
  const answered = put(filled.raw)
  const raw = answered.ok && answered.answer.claim ? { ...filled.raw, claim } : filled.raw
  const remembered = [...filled.remembered].flatMap((input) => facts.get(factOf(question, input)) ?? [])
  return { question, place, raw, answered, uses: [...remembered, ...(gathered.sources ?? [])], gathered }
}

/** A claim that the question cannot judge, such as a size of other rules, leaves the answer as it is without. */
function answerClaimed(
  question: Question,
  raw: Record<string, unknown>,
  given: Readonly<Record<string, unknown>>,
  claim: unknown,
): Answered {
  if (claim === undefined) return answer(question, raw, given)
  const claimed = answer(question, { ...raw, claim }, given)
  if (claimed.ok) return claimed
  const others = claimed.errors.filter(({ field }) => field !== 'claim')
  return others.length > 0 ? { ok: false, errors: others } : answer(question, raw, given)
}

/**
 * The facts that count at a place. Of alternatives, one that the part itself tells goes before one that is told of
 * the whole job: the tape of a part, not the watts of all.
 */
function factsFor(job: CheckedJob, question: Question, place: Place, gathered: Gathered): Facts {
  const facts = new Map(job.at(place))
  for (const field of gathered.without ?? []) facts.delete(field)
  if (takesMore(job, question, place)) facts.delete('load')
  if (place === null) return facts
  const own = (input: string): boolean => facts.get(factOf(question, input))?.where === place
  for (const ways of question.alternatives) {
    const told = ways.filter((fields) => fields.some(own))
    if (told.length === 0) continue
    for (const input of ways.flat()) {
      if (!told.some((fields) => fields.includes(input))) facts.delete(factOf(question, input))
    }
  }
  return facts
}

/** Whether the tape of a place takes more than was told of it once: then a question that can counts the tape. */
function takesMore(job: CheckedJob, { inputs }: Question, place: Place): boolean {
  const { loadW, tapeW = 0 } = runsOf(job).find((run) => run.place === place) ?? {}
  return inputs.tapeLength !== undefined && loadW !== undefined && tapeW > loadW
}

/** Answers kept: an answer follows from what is asked alone, and most rows of a job stay as they are. */
const mostKept = 400
const kept = new Map<string, Answered>()

/** Answers, with all that was not gathered marked as remembered by the job. The answer may not be changed. */
function answer(question: Question, raw: unknown, given: Readonly<Record<string, unknown>>): Answered {
  const remembered = Object.keys(raw as object).filter((input) => input !== 'claim' && !(input in given))
  const key = JSON.stringify([question.id, raw, remembered])
  const known = kept.get(key)
  const answered = known ?? frozen(question.answer(raw, new Set(remembered)))
  kept.delete(key)
  kept.set(key, answered)
  const [oldest] = kept.keys()
  if (kept.size > mostKept && oldest !== undefined) kept.delete(oldest)
  return answered
}

function frozen<T>(value: T): T {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value)) return value
  for (const part of Object.values(value)) frozen(part)
  return Object.freeze(value)
}

/** What a question that was not answered still takes, and what it says of facts that it cannot use. */
export function lacking({ question, place, raw, answered }: Asked, job: CheckedJob) {
  const missing: Missing[] = []
  const unusable: string[] = []
  for (const { field, message } of answered.ok ? [] : answered.errors) {
    const [input = ''] = field.split('.')
    const fact = factOf(question, input)
    if (Object.hasOwn(raw, input) || !question.inputs[input]) unusable.push(message)
    else if (!missing.some((each) => each.field === fact)) {
      missing.push({ field: fact, label: question.words.fields[input]?.label ?? input })
      const told = job.at(place).get(fact)
      if (told) unusable.push(...refusalOf(question, { ...raw, [input]: told.value }, input))
    }
  }
  return { missing, unusable: [...new Set(unusable)] }
}

const refusalOf = (question: Question, raw: Record<string, unknown>, input: string): string[] => {
  const refusal = question.faults(raw).find(({ field }) => field.split('.')[0] === input)
  return refusal ? [refusal.message] : []
}

/** A figure of an answer; `undefined` where this answer has none. */
export const figureOf = (answer: Answer, id: string): Figure | undefined =>
  answer.figures.find((figure) => figure.id === id)

/** A figure of an answer that is one number, in its JSON unit. */
export const numberOf = (answer: Answer, id: string): number | undefined => {
  const value = figureOf(answer, id)?.value
  return typeof value === 'number' ? value : undefined
}

/**
 * Of what was gathered and what was told in one, the one that comes to more: neither may hide what only the other
 * knows of. What was answered goes before what was not.
 */
export function heavier(gathered: Asked, told: Asked, figure: string): Asked {
  const weightOf = ({ answered }: Asked): number =>
    answered.ok ? (numberOf(answered.answer, figure) ?? 0) : Number.NEGATIVE_INFINITY
  return weightOf(told) > weightOf(gathered) * (1 + 1e-9) ? told : gathered
}
