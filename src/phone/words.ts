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
  noStorage: ['why'],
} as const

export const phoneWords = readPrompts(phone, schema)

/** A sentence of the phone with its placeholders filled. */
export const phoneSay = checkedSayer(phone, phoneWords.sentences, CHECKING && sentenceNeeds)
