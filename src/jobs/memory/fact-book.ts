import type { System } from '../../quantities/systems'
import type { Field } from '../../questions/common/fields'
import type { Question, Stage } from '../../questions/common/question'
import { fieldWordsOf } from '../../questions/common/shared-words'
import type { FieldWords } from '../../questions/common/words'
import { questions } from '../../questions/registry'
import type { FactValue } from '../log/job'
import { ownFacts } from './own-facts'

/** How a fact is read and shown: as an input of a question that uses it, or by itself where none does. */
type Way = { field: Field; words: FieldWords; question?: Question; input: string }

/** What is known of a kind of fact: what a person calls it, when it comes to be known, how it is read. */
export type FactKind = { field: string; stage: Stage; words: FieldWords; ways: readonly Way[] }

const kinds = new Map<string, FactKind>()

function know(name: string, stage: Stage, way: Way): void {
  const before = kinds.get(name)
  const ways = [...(before?.ways ?? []), way]
  kinds.set(name, before ? { ...before, ways } : { field: name, stage, words: way.words, ways })
}

for (const question of questions) {
  for (const [input, { fact, field }] of Object.entries(question.inputs)) {
    const words = fieldWordsOf(question.words, input)
    know(fact ?? input, question.stage, { field, words, question, input })
  }
}
for (const { id, stage, field, words } of ownFacts) know(id, stage, { field, words, input: id })

/** Every kind of fact: those that questions use, in their order, then those that only the job has a use for. */
export const factKinds: readonly FactKind[] = [...kinds.values()]

/** The kind of fact of this name, if there is one. */
export const factKind = (field: string): FactKind | undefined => kinds.get(field)

/** What a person calls a fact. */
export const factLabel = (field: string): string => kinds.get(field)?.words.label ?? field

/** A fact read: its value as one of its inputs takes it, or why none does. */
export type ReadFact = { ok: true; value: FactValue; text: string } | { ok: false; message: string }

/**
 * Reads a fact as any of the questions that use it would.
 *
 * @param field the fact's name
 * @param value as typed
 * @param units how what is read is printed, and whether a comma may be a decimal mark
 */
export function readFact(field: string, value: FactValue, units: System = 'us'): ReadFact {
  const kind = kinds.get(field)
  let message = ''
  for (const way of kind?.ways ?? []) {
    for (const shape of shapesOf(value, way.field)) {
      const read = way.field.schema(units).safeParse(shape)
      if (read.success) return { ok: true, value: shape, text: textOf(way, read.data, units) }
      if (message === '') message = faultOf(way, shape, units)
    }
  }
  return { ok: false, message }
}

/** A fact as a person reads it; as it was typed where no question can read it. */
export function printFact(field: string, value: FactValue, units: System = 'us'): string {
  const read = readFact(field, value, units)
  return read.ok ? read.text : typeof value === 'string' ? value : JSON.stringify(value)
}

/** Why a value cannot be read, in the words of the first question that would use it. */
function faultOf({ question, input }: Way, value: FactValue, units: System): string {
  const errors = question?.faults({ [input]: value, units }) ?? []
  return errors.find(({ field }) => field.split('.')[0] === input)?.message ?? ''
}

/** A single value also as a list of one, a list of one also as a single value. */
const shapesOf = (value: FactValue, { kind }: Field): FactValue[] => {
  if (kind === 'list') return Array.isArray(value) ? [value] : [[value]]
  return Array.isArray(value) ? (value.length === 1 ? [value[0] as FactValue] : []) : [value]
}

const textOf = ({ field, words }: Way, value: unknown, units: System): string => {
  const text = field.text(value, units)
  return field.kind === 'choice' ? (words.choices?.[text] ?? text) : text
}
