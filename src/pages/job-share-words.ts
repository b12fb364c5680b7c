import { z } from 'zod'
import prompts from '../../prompts/en/job-share.yaml'
import { checkSentences, readPrompts, sayer } from '../questions/common/words'

/** Every sentence of sharing, and what each is filled with. */
const needs = {
  intro: [],
  noShares: [],
  valid: [],
  'valid.1': [],
  'valid.24': [],
  'valid.168': [],
  'valid.720': [],
  make: [],
  fresh: [],
  once: ['when'],
  onlyHere: [],
  code: ['job'],
  already: [],
  notChoice: [],
  links: [],
  none: [],
  made: ['when'],
  open: ['when'],
  expired: ['when'],
  revoked: ['when'],
  revoke: [],
  gone: [],
  goneWhy: [],
} as const

type Needs = typeof needs

const { sentences } = readPrompts(prompts, z.strictObject({ sentences: z.record(z.string(), z.string()) }))
checkSentences(prompts, sentences, needs)

const say = sayer(sentences)

/** A sentence of sharing with its placeholders filled. */
export const shareSay = <K extends keyof Needs>(
  key: K,
  ...values: Needs[K] extends readonly [] ? [] : [Record<Needs[K][number], string>]
): string => say(key, values[0] ?? {})
