import { emptyRow, type Input } from '../../questions/common/fields'
import type { Question } from '../../questions/common/question'
import { unflatten } from '../../questions/common/read-inputs'
import { contentOf, type FactValue, type Json } from '../log/job'
import { type Facts, factOf, type KnownFact } from './facts'

/** Something that an answer was given, under the name that the job remembers it by. */
export type Learned = { field: string; input: string; value: FactValue }

/** Something that was given otherwise than the job knows it. */
export type Contradiction = Learned & { known: KnownFact }

/**
 * What a job can learn of the inputs that a question was asked with.
 *
 * @param raw the inputs as typed, those that the job filled in among them
 * @param remembered the inputs that the job filled in: nothing to learn from these
 * @returns what is new, and what contradicts the job: of that, somebody has to say which holds
 */
export function learnFrom(
  question: Question,
  raw: Record<string, unknown>,
  remembered: ReadonlySet<string>,
  facts: Facts,
): { fresh: Learned[]; contradicting: Contradiction[] } {
  const fresh: Learned[] = []
  const contradicting: Contradiction[] = []
  for (const [input, given] of Object.entries(unflatten(raw))) {
    const spec = question.inputs[input]
    const value = typed(given)
    if (!spec || value === undefined || remembered.has(input)) continue
    const field = factOf(question, input)
    const known = facts.get(field)
    if (!known) fresh.push({ field, input, value })
    else if (!sameValue(spec, value, known.value)) contradicting.push({ field, input, value, known })
  }
  return { fresh, contradicting }
}

/** A given value as a fact keeps it: all its ends are text. */
function typed(given: unknown): FactValue | undefined {
  if (Array.isArray(given)) {
    const items = given.flatMap((item) => typed(item) ?? [])
    return items.length > 0 ? items : undefined
  }
  if (typeof given === 'object' && given !== null) {
    const entries = Object.entries(given).flatMap(([key, item]) => {
      const value = typed(item)
      return value === undefined ? [] : [[key, value] as const]
    })
    return entries.length > 0 ? Object.fromEntries(entries) : emptyRow
  }
  return given === undefined || given === null || given === '' ? undefined : String(given)
}

/** Whether two values mean the same to an input: 40 ft and 480 in do. */
export function sameValue({ field }: Input, one: FactValue, other: FactValue): boolean {
  const [first, second] = [meaning(field, one), meaning(field, other)]
  return first !== undefined && second !== undefined
    ? contentOf(first) === contentOf(second)
    : contentOf(one) === contentOf(other)
}

function meaning(field: Input['field'], value: FactValue): Json | undefined {
  const shape = field.kind === 'list' && !Array.isArray(value) ? [value] : value
  const read = field.schema('us').safeParse(shape)
  return read.success ? rounded(field.json(read.data) as Json) : undefined
}

/** Ten digits: what differs less differs by the arithmetic of units alone. */
const rounded = (value: Json): Json => {
  if (typeof value === 'number') return Number(value.toPrecision(10))
  if (typeof value !== 'object' || value === null) return value
  if (Array.isArray(value)) return value.map(rounded)
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, rounded(item)]))
}
