import { alongTheTape } from './along-the-tape'
import { knowTitles, type Question } from './common/question'
import { driverSize } from './driver-size'
import { feedGauge } from './feed-gauge'
import { tapeReach } from './tape-reach'

/** Every question, in the order of the work. A new one takes one line here. */
export const questions: readonly Question[] = [tapeReach, driverSize, feedGauge, alongTheTape]

const byId = new Map(questions.map((question) => [question.id, question]))

/** The question with this id, if there is one. */
export const questionById = (id: string): Question | undefined => byId.get(id)

knowTitles(Object.fromEntries(questions.map(({ id, words }) => [id, words.title])))
