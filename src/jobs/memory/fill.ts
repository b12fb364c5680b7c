import type { Input } from '../../questions/common/fields'
import type { Question } from '../../questions/common/question'
import { unflatten } from '../../questions/common/read-inputs'
import type { FactValue } from '../log/job'
import { type Facts, factOf } from './facts'

/** A question's inputs as they may be typed, and which of them the job filled in. */
export type Filled = { raw: Record<string, unknown>; remembered: Set<string> }

/**
 * A question's inputs with what the job knows of those that are not given. Of alternatives the one that was begun is
 * filled, else the first that the facts make whole, one told of the part itself before one of the whole job. A fact that the question cannot use is left out.
 *
 * @param raw the inputs as typed, flat (`feeds.0.at`) or nested
 */
export function fillFromFacts(question: Question, raw: Record<string, unknown>, facts: Facts): Filled {
  const given = unflatten(raw)
  const usable = usableFacts(question, given, facts)
  const own = (input: string) => facts.get(factOf(question, input))?.where !== null
  for (const alternative of unfilled(question, given, usable, own)) usable.delete(alternative)
  return withoutRefused(question, given, usable)
}

/** The facts that an input of the question can read, each in the shape that the input takes. */
function usableFacts(
  question: Question,
  given: Record<string, unknown>,
  facts: Facts,
): Map<string, FactValue> {
  const system = unitsOf(given, facts)
  const usable = new Map<string, FactValue>()
  for (const [id, input] of Object.entries(question.inputs)) {
    const fact = facts.get(factOf(question, id))
    if (!fact || Object.hasOwn(given, id)) continue
    const shape = shapesOf(fact.value, input).find(
      (value) => input.field.schema(system).safeParse(value).success,
    )
    if (shape !== undefined) usable.set(id, shape)
  }
  return usable
}

const unitsOf = (given: Record<string, unknown>, facts: Facts): 'us' | 'metric' =>
  (given.units ?? facts.get('units')?.value) === 'metric' ? 'metric' : 'us'

/** A single value for an input that takes a list is a list of one, and the other way round. */
const shapesOf = (value: FactValue, { field }: Input): FactValue[] => {
  if (field.kind === 'list') return Array.isArray(value) ? [value] : [[value], value]
  return Array.isArray(value) ? (value.length === 1 ? value : []) : [value]
}

/**
 * The inputs of alternatives that must not be filled, since another one is given or goes before it. What was told of
 * the part itself goes before what was told of the whole job: its own tape before the load of all.
 *
 * @param own whether an input's fact was told of the part itself
 */
const unfilled = (
  { alternatives }: Question,
  given: Record<string, unknown>,
  usable: ReadonlyMap<string, FactValue>,
  own: (input: string) => boolean,
): string[] =>
  alternatives.flatMap((ways) => {
    const begun = ways.filter((fields) => fields.some((field) => Object.hasOwn(given, field)))
    const whole = (begun.length > 0 ? begun : ways).filter((fields) =>
      fields.every((field) => Object.hasOwn(given, field) || usable.has(field)),
    )
    const ofThePart = whole.find((fields) => fields.some((field) => usable.has(field) && own(field)))
    const wanted = ofThePart ?? whole[0] ?? begun[0] ?? []
    return ways.flat().filter((field) => !wanted.includes(field))
  })

/** Leaves out what the job filled in and the question then refuses, by itself or beside something given. */
function withoutRefused(
  question: Question,
  given: Record<string, unknown>,
  usable: ReadonlyMap<string, FactValue>,
): Filled {
  const filledWith = (fields: Iterable<string>) => ({
    ...Object.fromEntries([...fields].map((field) => [field, usable.get(field)])),
    ...given,
  })
  const faults = (fields: Iterable<string>) => faultsOf(question, filledWith(fields))
  const all = [...usable.keys()]
  let kept = new Set(all)
  if (faults(all).length > 0) {
    // What must be there comes first: without it a question looks no further, and nothing else can be tried.
    const needed = all.filter((field) => isNeeded(question, field))
    const refused = new Set(faults(needed))
    kept = new Set(needed.filter((field) => !refused.has(field)))
    for (const field of all) {
      if (isNeeded(question, field)) continue
      if (faults([...kept, field]).length <= faults(kept).length) kept.add(field)
    }
  }
  return { raw: filledWith(kept), remembered: kept }
}

const isNeeded = (question: Question, field: string): boolean =>
  question.inputs[field]?.need === 'required' || question.alternatives.flat(2).includes(field)

/** The inputs that are at fault; none where the question can be answered. */
const faultsOf = (question: Question, raw: Record<string, unknown>): string[] =>
  question.faults(raw).map(({ field }) => field.split('.')[0] ?? '')
