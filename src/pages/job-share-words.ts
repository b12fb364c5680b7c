import * as z from 'zod/mini'
import prompts from '../../prompts/en/job-share.yaml'
import { checkedSayer, readPrompts } from '../questions/common/words'

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

const { sentences } = readPrompts(prompts, z.strictObject({ sentences: z.record(z.string(), z.string()) }))

/** A sentence of sharing with its placeholders filled. */
export const shareSay = checkedSayer(prompts, sentences, CHECKING && needs)
