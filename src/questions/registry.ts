import { knowTitles, type Question } from './common/question'
import { feedGauge } from './feed-gauge'

/** Every question, in the order of the work. A new one takes one line here. */
export const questions: readonly Question[] = [feedGauge]

const byId = new Map(questions.map((question) => [question.id, question]))

/** The question with this id, if there is one. */
export const questionById = (id: string): Question | undefined => byId.get(id)

knowTitles(Object.fromEntries(questions.map(({ id, words }) => [id, words.title])))
