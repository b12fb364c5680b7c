import type { Figure } from '../../../questions/common/answer'
import type { Stage } from '../../../questions/common/question'
import { factLabel } from '../../memory/fact-book'
import type { KnownFact } from '../../memory/facts'
import type { Asked } from '../ask'
import { lacking } from '../ask'
import type { CheckedJob, Place } from '../checked-job'
import type { BoardRow, Missing, RowState } from '../row'
import { missingText, rowAt } from '../rows'
import { type CrossingId, say, titles } from '../words'

/** What comes of holding answers against each other at one place. */
export type Finding = {
  place: Place
  state: RowState
  sentences: readonly string[]
  /** The question that explains it, as it was put. */
  question: string
  inputs: Record<string, unknown>
  uses: readonly KnownFact[]
  /** The numbers that were compared. */
  figures?: readonly (Figure | undefined)[]
  missing?: readonly Missing[]
}

/** Answers of different questions that have to fit each other. */
export type Crossing = {
  id: CrossingId
  stage: Stage
  findings(job: CheckedJob): Finding[]
}

/** A crossing's finding as a row of the board. */
export function crossingRow({ id, stage }: Crossing, finding: Finding): BoardRow {
  const { place, uses, question, figures = [], missing, ...rest } = finding
  const compared = figures.flatMap((figure) => figure ?? [])
  return rowAt(id, place, uses, {
    ...rest,
    kind: 'crossing',
    stage,
    question,
    title: titles[id],
    ...(compared.length > 0 ? { figures: compared } : {}),
    ...(missing ? { missing: [...missing] } : {}),
  })
}

/** Facts that are to be told yet, as a row names them. */
export const missingFacts = (fields: readonly string[]): Missing[] =>
  fields.map((field) => ({ field, label: factLabel(field) }))

/** A finding that waits for facts; `sentences` say what is known so far. */
export const waiting = (
  { question, raw, uses }: Pick<Asked, 'question' | 'raw' | 'uses'>,
  place: Place,
  missing: readonly Missing[],
  sentences: readonly string[] = [],
): Finding => ({
  place,
  state: 'not-asked',
  sentences: [...sentences, ...(missing.length > 0 ? [missingText(missing)] : [])],
  question: question.id,
  inputs: raw,
  uses,
  missing,
})

/** A finding that waits because its question could not be answered; fails where that was settled without asking. */
export function unanswered(asked: Asked, job: CheckedJob): Finding {
  const { instead } = asked.gathered
  if (!instead) {
    const { missing, unusable } = lacking(asked, job)
    return waiting(
      asked,
      asked.place,
      missing,
      unusable.map((message) => say('unusable', { message })),
    )
  }
  const { state, sentence, missing = [] } = instead
  return { ...waiting(asked, asked.place, [], [sentence]), state, missing }
}
