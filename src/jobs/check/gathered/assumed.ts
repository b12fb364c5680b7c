import type { Question } from '../../../questions/common/question'
import { type CheckedJob, type Place, read } from '../checked-job'
import { fieldOf } from '../runs'

/** What the question assumes where nobody says. */
const assumedOf = (question: Question, input: string): number =>
  question.inputs[input]?.assume?.({}) as number

/** An input of a question at a place: as told, else as assumed. */
export const toldOrAssumed = (job: CheckedJob, place: Place, question: Question, input: string): number =>
  read(fieldOf<number>(question, input), job.at(place).get(input), job) ?? assumedOf(question, input)
