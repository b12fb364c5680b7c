import type { Question } from '../../questions/common/question'
import { questions } from '../../questions/registry'
import { type Facts, factOf } from '../memory/facts'
import { type Asked, ask, lacking } from './ask'
import type { BoardRow } from './board'
import type { CheckedJob } from './checked-job'
import { gatheredFor } from './gathered/all'
import { missingText, rowAt } from './rows'
import { say } from './words'

/** The facts of the tape itself: so many questions take them that they say of none that it was begun. */
const ofTheTape = new Set(['voltage', 'tapePower', 'tapeLength', 'load', 'cutLength'])

/** The facts without which a question cannot be asked, and those that no other question takes. */
type Wanted = { needed: string[]; own: string[] }

const wantedBy = new Map<Question, Wanted>(questions.map((question) => [question, wantedOf(question)]))

function wantedOf(question: Question): Wanted {
  const alternatives = new Set(question.alternatives.flat(2))
  const takers = (fact: string) =>
    questions.filter((each) => Object.keys(each.inputs).some((input) => factOf(each, input) === fact))
  const needed = Object.entries(question.inputs).flatMap(([input, { need }]) => {
    const fact = factOf(question, input)
    const isNeeded = need === 'required' || alternatives.has(input)
    return isNeeded || (need === 'optional' && takers(fact).length === 1) ? [fact] : []
  })
  return { needed, own: needed.filter((fact) => !ofTheTape.has(fact)) }
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
 * A row where the question is answered, where something was gathered for it in vain, and at each part that could ask
 * it once it was begun anywhere. Else one row for the whole job, which says what it takes where that is least.
 */
function rowsOf(question: Question, job: CheckedJob): BoardRow[] {
  const begun = job.places.some((place) => tells(job.own(place), wanted(question).own))
  const whole = put(job, question, null)
  const parts = partsFor(question, job).map((part) => put(job, question, part))
  const shown = [
    ...[whole].filter((asked) => isDecided(asked) || isFromParts(asked)),
    ...parts.filter((asked) => isDecided(asked) || begun),
  ]
  if (shown.length > 0) return shown.map((asked) => questionRow(asked, job))
  const lacks = (asked: Asked) => lacking(asked, job).missing.length
  const nearest = [...parts, whole].reduce((best, asked) => (lacks(asked) < lacks(best) ? asked : best))
  return [questionRow(nearest, job, null)]
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
