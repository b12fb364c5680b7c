import type { Question } from '../questions/common/question'

/** What the reader needs to know of a question. */
export type QuestionShape = Pick<
  Question,
  'id' | 'stage' | 'inputs' | 'figures' | 'mainFigure' | 'alternatives'
>

/** The questions that there are, by their id. */
export type Catalogue = Readonly<Record<string, QuestionShape>>
