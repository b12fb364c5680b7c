import type { Input } from '../../questions/common/fields'
import type { Question } from '../../questions/common/question'
import { faultMessage, sharedWords } from '../../questions/common/shared-words'
import type { FieldWords } from '../../questions/common/words'
import { questions } from '../../questions/registry'
import type { FactValue } from '../log/job'

/** An input through which a fact is read and shown, and the question that has it. */
type Way = { question: Question; input: string; spec: Input; words: FieldWords }

/** What is known of a kind of fact: what a person calls it, and the inputs that use it. */
export type FactKind = { field: string; words: FieldWords; ways: readonly Way[] }

const kinds = new Map<string, FactKind>()
for (const question of questions) {
  for (const [input, spec] of Object.entries(question.inputs)) {
    const field = spec.fact ?? input
    const words = question.words.fields[input] ?? sharedWords.fields[input] ?? { label: input }
    const way = { question, input, spec, words }
    const before = kinds.get(field)
    kinds.set(field, before ? { ...before, ways: [...before.ways, way] } : { field, words, ways: [way] })
  }
}

/** Every kind of fact that a question has a use for, in the order of the questions. */
export const factKinds: readonly FactKind[] = [...kinds.values()]

/** The kind of fact of this name, if any question has a use for it. */
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
export function readFact(field: string, value: FactValue, units: 'us' | 'metric' = 'us'): ReadFact {
  const kind = kinds.get(field)
  let message = ''
  for (const { question, input, spec, words } of kind?.ways ?? []) {
    for (const shape of shapesOf(value, spec)) {
      const read = spec.field.schema(units).safeParse(shape)
      if (read.success) return { ok: true, value: shape, text: textOf(spec, words, read.data, units) }
      if (message === '') {
        const answered = question.answer({ [input]: shape, units })
        const fault = answered.ok
          ? undefined
          : answered.errors.find((error) => error.field.split('.')[0] === input)
        message =
          fault?.message ??
          faultMessage(
            { field: input, reason: 'not-understood', values: { said: String(shape) } },
            question.inputs,
            question.words,
            units,
          ).message
      }
    }
  }
  return { ok: false, message }
}

/** A fact as a person reads it; as it was typed where no question can read it. */
export function printFact(field: string, value: FactValue, units: 'us' | 'metric' = 'us'): string {
  const read = readFact(field, value, units)
  return read.ok ? read.text : typeof value === 'string' ? value : JSON.stringify(value)
}

/** A single value also as a list of one, a list of one also as a single value. */
const shapesOf = (value: FactValue, { field }: Input): FactValue[] => {
  if (field.kind === 'list') return Array.isArray(value) ? [value] : [[value]]
  return Array.isArray(value) ? (value.length === 1 ? [value[0] as FactValue] : []) : [value]
}

const textOf = (spec: Input, words: FieldWords, value: unknown, units: 'us' | 'metric'): string => {
  const text = spec.field.text(value, units)
  if (spec.field.kind === 'choice') return words.choices?.[text] ?? text
  return text
}
