import * as z from 'zod/mini'
import shared from '../../../prompts/en/shared.yaml'
import {
  type CautionWords,
  cautionWords,
  checkedSayer,
  type FieldWords,
  faultyPrompts,
  fieldWords,
  type QuestionWords,
  readPrompts,
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
  list: ['first', 'last'],
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
for (const reason of CHECKING ? faultReasons : []) {
  if (!Object.hasOwn(sharedWords.faults, reason))
    throw faultyPrompts(shared, 'faults', `faults.${reason} is missing`)
}

export const sharedCautions: Readonly<Record<string, CautionWords>> = sharedWords.cautions

/** A shared sentence with its placeholders filled. */
export const sharedSay = checkedSayer(shared, sharedWords.sentences, CHECKING && sentenceNeeds)

/** What is said of one input of a question: its own words, or those that every question shares. */
export const fieldWordsOf = (words: QuestionWords, id: string): FieldWords =>
  words.fields[id] ?? sharedWords.fields[id] ?? { label: id }

/** "a, b and c" */
export const inWords = (parts: readonly string[]): string =>
  parts.length < 2
    ? (parts[0] ?? '')
    : sharedSay('list', { first: parts.slice(0, -1).join(', '), last: parts.at(-1) ?? '' })
