import type { Answer, Caution, Source } from '../../questions/common/answer'
import type { Question } from '../../questions/common/question'
import { sharedWords } from '../../questions/common/shared-words'
import { questionById } from '../../questions/registry'
import type { SheetAnswer } from './answers'
import type { SheetAssumption, SheetCaution, Sum } from './sheet'

/** What the answers say behind their headlines, every source by its number in one list. */
export type Summed = {
  sums: Omit<Sum, 'where'>[]
  assumed: SheetAssumption[]
  cautions: SheetCaution[]
  localCode: string[]
  sources: Source[]
}

/** Numbers the sources in the order in which they are first cited. */
function numbering(answers: readonly SheetAnswer[]) {
  const texts = new Map(
    answers.flatMap(({ answer }) => answer.sources.map((source) => [source.id, source] as const)),
  )
  const cited: Source[] = []
  const numberOf = (id: string | undefined): number | null => {
    const source = id === undefined ? undefined : texts.get(id)
    if (!source) return null
    if (!cited.includes(source)) cited.push(source)
    return cited.indexOf(source) + 1
  }
  return { cited, numberOf }
}

type NumberOf = (id: string | undefined) => number | null

/** Sums, assumptions and cautions of all answers, the same thing said once. */
export function summed(answers: readonly SheetAnswer[]): Summed {
  const { cited, numberOf } = numbering(answers)
  return {
    sums: answers.map((answer) => sumOf(answer, numberOf)),
    assumed: assumedOf(answers, numberOf),
    cautions: cautionsOf(answers, numberOf),
    localCode: [...new Set(answers.map(({ answer }) => answer.localCode))],
    sources: cited,
  }
}

function sumOf({ number, question, title, answer }: SheetAnswer, numberOf: NumberOf): Omit<Sum, 'where'> {
  const { verdict, headline, figures, limits, working } = answer
  return {
    number,
    question,
    title,
    verdict,
    headline,
    given: givenOf(answer, questionById(question)),
    figures: figures.map(({ label, text }) => ({ label, text })),
    limits: limits.map(({ label, text, binds }) => ({ label, text, binds })),
    steps: working.map(({ source, ...step }) => ({ ...step, source: numberOf(source) })),
  }
}

/** What an answer was given, in words. */
const givenOf = ({ inputs }: Answer, question: Question | undefined) =>
  Object.entries(inputs).flatMap(([id, { from, text }]) => {
    if (from !== 'given' && from !== 'job') return []
    const words = question?.words.fields[id] ?? sharedWords.fields[id]
    return [{ label: words?.label ?? id, text: words?.choices?.[text] ?? text }]
  })

/** What was assumed, with the numbers of the sums that rest on it. */
function assumedOf(answers: readonly SheetAnswer[], numberOf: NumberOf): SheetAssumption[] {
  const assumed = new Map<string, SheetAssumption>()
  for (const { number, answer } of answers) {
    for (const { text, why, source } of answer.assumptions) {
      const key = JSON.stringify([text, why])
      const same = assumed.get(key)
      if (!same) assumed.set(key, { text, why, source: numberOf(source), sums: [number] })
      else if (!same.sums.includes(number)) same.sums.push(number)
    }
  }
  return [...assumed.values()]
}

const levels: readonly Caution['level'][] = ['stop', 'care', 'note']

/** What could hurt, the worst first. */
function cautionsOf(answers: readonly SheetAnswer[], numberOf: NumberOf): SheetCaution[] {
  const all = answers.flatMap(({ answer }) => answer.cautions)
  const cautions = new Map<string, SheetCaution>()
  for (const level of levels) {
    for (const { text, source } of all.filter((caution) => caution.level === level)) {
      if (!cautions.has(text)) cautions.set(text, { level, text, source: numberOf(source) })
    }
  }
  return [...cautions.values()]
}
