import type { Question } from '../../questions/common/question'
import type { Fact, FactValue } from '../log/job'
import type { Known } from '../log/job-view'

/** One thing that is known at a part of a job, and what else was said of it and still stands. */
export type KnownFact = {
  field: string
  where: string | null
  value: FactValue
  id: string
  at: string
  contested: readonly Fact[]
}

/** What is known at one part of a job, by the fact's name. */
export type Facts = ReadonlyMap<string, KnownFact>

/** The name under which a job remembers one input of a question. */
export const factOf = (question: Question, input: string): string => question.inputs[input]?.fact ?? input

/**
 * What is known at a part of the job: the part's own facts before the whole job's.
 *
 * @param where the part; null for what holds of the whole job
 */
export function factsAt(known: readonly Known[], where: string | null): Facts {
  const facts = new Map<string, KnownFact>()
  const wholeFirst = [null, ...(where === null ? [] : [where])]
  for (const place of wholeFirst) {
    for (const { field, where: at, current, contested } of known) {
      if (at !== place || current === null) continue
      facts.set(field, { field, where: at, value: current.value, id: current.id, at: current.at, contested })
    }
  }
  return facts
}

/** The parts of a job that a standing fact names, in the order in which each was first told. */
export const partsOf = (known: readonly Known[]): string[] => [
  ...new Set(known.flatMap(({ where, current }) => (where === null || current === null ? [] : [where]))),
]
