import type { Question } from '../../questions/common/question'
import { inWords } from '../../questions/common/shared-words'
import { questions } from '../../questions/registry'
import { type Facts, factOf } from '../memory/facts'
import { type Asked, ask, lacking } from './ask'
import type { CheckedJob } from './checked-job'
import { gatheredFor } from './gathered/all'
import type { BoardRow } from './row'
import { missingText, rowAt } from './rows'
import { say } from './words'

/** The facts of the tape itself: so many questions take them that they say of none that it was begun. */
const ofTheTape = new Set(['voltage', 'tapePower', 'tapeLength', 'load', 'cutLength'])

/**
 * `needed`: the facts without which a question cannot be asked, with those that could begin it. `own`: of these, and of
 * what it assumes, the facts that say that it was begun.
 */
type Wanted = { needed: string[]; own: string[] }

const wantedBy = new Map<Question, Wanted>(questions.map((question) => [question, wantedOf(question)]))

function wantedOf(question: Question): Wanted {
  const alternatives = new Set(question.alternatives.flat(2))
  const takers = (fact: string) =>
    questions.filter((each) => Object.keys(each.inputs).some((input) => factOf(each, input) === fact))
  const all = Object.entries(question.inputs).map(([input, { need }]) => {
    const fact = factOf(question, input)
    return {
      fact,
      need,
      isNeeded: need === 'required' || alternatives.has(input),
      isAlone: takers(fact).length === 1,
    }
  })
  const factsWhere = (is: (each: (typeof all)[number]) => boolean) => all.filter(is).map(({ fact }) => fact)
  return {
    needed: factsWhere(({ isNeeded, isAlone, need }) => isNeeded || (isAlone && need === 'optional')),
    own: factsWhere(({ fact, isNeeded, isAlone }) => isAlone || (isNeeded && !ofTheTape.has(fact))),
  }
}

const wanted = (question: Question): Wanted => wantedBy.get(question) ?? { needed: [], own: [] }

const tells = (facts: Facts, fields: readonly string[]): boolean => fields.some((field) => facts.has(field))

/** Parts where a question is asked although, or not asked because, it is the whole job's. */
const partsOf: Readonly<Record<string, (job: CheckedJob) => readonly string[]>> = {
  'driver-size': (job) => job.parts.filter((part) => job.own(part).has('driverPower')),
  'running-cost': () => [],
}

const partsFor = (question: Question, job: CheckedJob): readonly string[] =>
  partsOf[question.id]?.(job) ?? job.parts.filter((part) => tells(job.own(part), wanted(question).needed))

/** The rows of every question: where it was answered, else what it still takes. */
export const questionRows = (job: CheckedJob): BoardRow[] =>
  questions.flatMap((question) => rowsOf(question, job))

/**
 * A row where the question is answered, where something was gathered for it in vain, and at each part that tells
 * something of its own. All other parts that could ask it, or the job where none does, share one row.
 */
function rowsOf(question: Question, job: CheckedJob): BoardRow[] {
  const { own } = wanted(question)
  const whole = put(job, question, null)
  const parts = partsFor(question, job).map((part) => put(job, question, part))
  const isShown = (asked: Asked) => isDecided(asked) || tells(job.own(asked.place), own)
  const shown = [...(isDecided(whole) || isFromParts(whole) ? [whole] : []), ...parts.filter(isShown)]
  const others = parts.filter((asked) => !isShown(asked))
  const isBegun = job.places.some((place) => tells(job.own(place), own))
  const rows = shown.map((asked) => questionRow(asked, job))
  if (rows.length > 0 && (!isBegun || others.length === 0 || shown.includes(whole))) return rows
  return [sharedRow(rows.length > 0 ? others : [...others, whole], job), ...rows]
}

/** One row of the whole job for several places, by the one that lacks least; names them where all are parts. */
function sharedRow(asked: readonly Asked[], job: CheckedJob): BoardRow {
  const lacks = (each: Asked) => lacking(each, job).missing.length
  const nearest = asked.reduce((best, each) => (lacks(each) < lacks(best) ? each : best))
  const row = questionRow(nearest, job, null)
  const parts = asked.flatMap(({ place }) => place ?? [])
  return parts.length === asked.length
    ? { ...row, sentence: say('ofParts', { sentence: row.sentence, parts: inWords(parts) }) }
    : row
}

const put = (job: CheckedJob, question: Question, place: string | null): Asked =>
  ask(job, question, place, gatheredFor(job, question, place))

/** Answered, or settled by what was gathered for it. */
const isDecided = ({ answered, gathered }: Asked): boolean => answered.ok || gathered.instead !== undefined

const isFromParts = ({ gathered, place }: Asked): boolean =>
  gathered.sources?.some(({ where }) => where !== place) ?? false

/** @param place where the row stands: where the question was put, or with the whole job */
function questionRow(asked: Asked, job: CheckedJob, place = asked.place): BoardRow {
  const { question, raw, answered, uses, gathered } = asked
  const common = {
    kind: 'question' as const,
    stage: question.stage,
    question: question.id,
    title: question.words.title,
    inputs: raw,
  }
  const { said = [], instead } = gathered
  if (instead) {
    const { state, sentence, missing } = instead
    const row = { ...common, state, sentences: [sentence], ...(missing ? { missing: [...missing] } : {}) }
    return rowAt(question.id, place, uses, row)
  }
  if (answered.ok) {
    const { answer } = answered
    const row = { ...common, state: answer.verdict, sentences: [answer.headline, ...said], answer }
    return rowAt(question.id, place, uses, row)
  }
  const { missing, unusable } = lacking(asked, job)
  const sentences = [
    ...(missing.length > 0 ? [missingText(missing)] : []),
    ...unusable.map((message) => say('unusable', { message })),
  ]
  return rowAt(question.id, place, uses, { ...common, state: 'not-asked', sentences, missing })
}
