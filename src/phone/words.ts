import * as z from 'zod/mini'
import phone from '../../prompts/en/phone.yaml'
import { checkedSayer, readPrompts } from '../questions/common/words'

const schema = z.strictObject({
  title: z.string(),
  sentences: z.record(z.string(), z.string()),
  parts: z.strictObject({
    nothing: z.string(),
    waiting: z.string(),
    waitingWhy: z.string(),
    sendNow: z.string(),
    refused: z.string(),
    refusedWhy: z.string(),
    sendAgain: z.string(),
    job: z.string(),
    clashes: z.string(),
    clashesWhy: z.string(),
    here: z.string(),
    onServer: z.string(),
    putAway: z.string(),
    shutOut: z.string(),
    shutOutWhy: z.string(),
    pairAgain: z.string(),
    unsent: z.string(),
    unsentWhy: z.string(),
    takeOut: z.string(),
    discard: z.string(),
    discardWhy: z.string(),
    discardDo: z.string(),
    nothingUnsent: z.string(),
  }),
})

const sentenceNeeds = {
  ready: [],
  noSignal: [],
  'waits.one': ['count'],
  'waits.more': ['count'],
  'held.one': ['count', 'why'],
  'held.more': ['count', 'why'],
  'refused.one': ['count'],
  'refused.more': ['count'],
  'clash.one': ['count'],
  'clash.more': ['count'],
  shutOut: [],
  'unsent.one': ['count'],
  'unsent.more': ['count'],
  noStorage: ['why'],
  'of.job': ['name', 'place'],
  'of.change': ['set'],
  'of.entry': ['said', 'when'],
  'of.entryByForm': ['when'],
  'of.fact': ['label', 'value', 'when'],
  'of.withdrawal': ['when'],
} as const

export const phoneWords = readPrompts(phone, schema)

/** A sentence of the phone with its placeholders filled. */
export const phoneSay = checkedSayer(phone, phoneWords.sentences, CHECKING && sentenceNeeds)
