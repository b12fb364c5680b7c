import { z } from 'zod'
import shared from '../../../prompts/en/shared.yaml'
import type { System } from '../../quantities/systems'
import type { Input } from './fields'
import type { FieldFault } from './read-inputs'
import type { FieldError } from './spec'
import {
  type CautionWords,
  cautionWords,
  checkSentences,
  type FieldWords,
  faultyPrompts,
  fieldWords,
  fill,
  type QuestionWords,
  readPrompts,
  sayer,
} from './words'

/** What is said everywhere: faults, margins, room, the cautions that several questions share. */
const schema = z.strictObject({
  fields: z.record(z.string(), fieldWords),
  stages: z.record(z.string(), z.string()),
  verdicts: z.record(z.enum(['holds', 'tight', 'fails', 'info']), z.string()),
  levels: z.record(z.enum(['stop', 'care', 'note']), z.string()),
  parts: z.record(z.string(), z.string()),
  localCode: z.strictObject({ nec: z.string(), iec: z.string() }),
  sentences: z.record(z.string(), z.string()),
  faults: z.record(z.string(), z.string()),
  cautions: z.record(z.string(), cautionWords),
})

const sentenceNeeds = {
  'why.assumed': [],
  'claim.verdict': [],
  'claim.holds': ['claimed'],
  'claim.tight': ['claimed'],
  'claim.fails': ['claimed'],
  'claim.fine.holds': [],
  'claim.fine.tight': [],
  'claim.fine.fails': [],
  'claim.figure': ['figure', 'claimed'],
  'margin.at-most.holds': ['what', 'value', 'limit', 'percent'],
  'margin.at-most.fails': ['what', 'value', 'limit', 'percent'],
  'margin.at-least.holds': ['what', 'value', 'limit', 'percent'],
  'margin.at-least.fails': ['what', 'value', 'limit', 'percent'],
  'margin.claimed.holds': ['what', 'value', 'limit', 'percent'],
  'margin.claimed.over': ['what', 'value', 'limit', 'percent'],
  'margin.claimed.short': ['what', 'value', 'limit', 'percent'],
  'margin.none': ['what', 'limit'],
  'wouldHold.atMost': ['what', 'value'],
  'wouldHold.atLeast': ['what', 'value'],
  'wouldHold.way': ['what', 'value'],
  'reply.leftOver': ['pieces'],
  'reply.tooLong': ['most'],
  'room.any': ['what', 'still'],
  'room.up': ['what', 'still', 'until', 'then'],
  'room.down': ['what', 'still', 'until', 'then'],
} as const

/** Every reason for which an input may be refused. */
const faultReasons = [
  'empty',
  'too-long',
  'no-number',
  'no-unit',
  'wrong-dimension',
  'ambiguous-comma',
  'not-understood',
  'not-finite',
  'out-of-range',
  'missing',
  'missing-alternative',
  'one-or-the-other',
  'unknown-field',
  'not-a-choice',
  'not-a-whole-number',
  'not-a-number',
  'not-an-object',
  'too-many',
  'too-few',
  'not-in-table',
  'size-of-other-rules',
  'claim-not-a-verdict',
  'claim-unknown-figure',
  'beyond-the-end',
] as const

export const sharedWords = readPrompts(shared, schema)
for (const reason of faultReasons) {
  if (!Object.hasOwn(sharedWords.faults, reason))
    throw faultyPrompts(shared, 'faults', `faults.${reason} is missing`)
}
checkSentences(shared, sharedWords.sentences, sentenceNeeds)

export const sharedCautions: Readonly<Record<string, CautionWords>> = sharedWords.cautions

/** A shared sentence with its placeholders filled. */
export const sharedSay = <K extends keyof typeof sentenceNeeds>(
  key: K,
  values: Record<(typeof sentenceNeeds)[K][number], string>,
): string => say(key, values)

const say = sayer(sharedWords.sentences)

/** What is said of one input of a question: its own words, or those that every question shares. */
export const fieldWordsOf = (words: QuestionWords, id: string): FieldWords =>
  words.fields[id] ?? sharedWords.fields[id] ?? { label: id }

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
