import shared from '../../../prompts/en/shared.yaml'
import type { System } from '../../quantities/systems'
import type { Input } from './fields'
import type { FieldFault } from './read-inputs'
import { sharedWords } from './shared-words'
import type { FieldError } from './spec'
import { faultyPrompts, fill, type QuestionWords } from './words'

/** The sentence for a fault, with the field's label and an example of what would do. */
export function faultMessage(
  fault: FieldFault,
  inputs: Readonly<Record<string, Input>>,
  words: QuestionWords,
  system: System,
): FieldError {
  const sentence = sharedWords.faults[fault.reason] ?? words.faults[fault.reason]
  if (!sentence) throw faultyPrompts(shared, 'faults', `faults.${fault.reason} is missing`)
  const [id = '', ...below] = fault.field.split('.')
  const isKnown = Object.hasOwn(inputs, id) || id === 'claim'
  const own = isKnown ? (words.fields[id] ?? sharedWords.fields[id]) : undefined
  const column = below.findLast((part) => !/^\d+$/.test(part))
  const label = [own?.label ?? id, ...(column ? [own?.columns?.[column] ?? column] : [])].join(': ')
  const example =
    fault.example ??
    own?.columnExamples?.[column ?? ''] ??
    (system === 'metric' ? (own?.exampleMetric ?? own?.example) : own?.example)
  const other = fault.values?.other
  const message = fill(sentence, {
    label,
    ask: own?.ask ?? '',
    said: '',
    ...fault.values,
    ...(other ? { other: words.fields[other]?.label ?? other } : {}),
    example: example ?? '',
  }).replaceAll('  ', ' ')
  return { field: fault.field, message, ...(example ? { example } : {}) }
}
