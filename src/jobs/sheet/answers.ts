import type { Answer } from '../../questions/common/answer'
import type { Place } from '../check/checked-job'
import type { Board, BoardRow } from '../check/row'

/** An answer of the job check; where several parts asked the very same, it stands once for all of them. */
export type SheetAnswer = {
  /** Its number on the sheet, from 1. */
  number: number
  question: string
  title: string
  /** The parts that it is for, the whole job first. */
  places: [Place, ...Place[]]
  inputs: Readonly<Record<string, string>>
  answer: Answer
}

/** The answers of a board, in its order, each of them once. */
export function answersOf({ rows }: Board): SheetAnswer[] {
  const answers = new Map<string, SheetAnswer>()
  for (const row of rows) {
    if (!isAnswered(row)) continue
    const { question, title, where, inputs, answer } = row
    const asked = JSON.stringify([question, Object.entries(inputs).sort()])
    const same = answers.get(asked)
    if (same) same.places.push(where)
    else answers.set(asked, { number: answers.size + 1, question, title, places: [where], inputs, answer })
  }
  return [...answers.values()]
}

type Answered = BoardRow & { question: string; answer: Answer }

const isAnswered = (row: BoardRow): row is Answered =>
  row.kind === 'question' && row.question !== undefined && row.answer !== undefined

/** A figure of an answer that is one number, in its JSON unit. */
export const numberOf = ({ answer }: SheetAnswer, id: string): number | undefined => {
  const value = answer.figures.find((figure) => figure.id === id)?.value
  return typeof value === 'number' ? value : undefined
}

/** A figure as it is printed. */
export const figureText = ({ answer }: SheetAnswer, id: string): string | undefined =>
  answer.figures.find((figure) => figure.id === id)?.text
