import * as z from 'zod/mini'
import prompts from '../../../prompts/en/compare.yaml'
import { checkedSayer, readPrompts } from './words'

const partNames = [
  'link',
  'a',
  'b',
  'whole',
  'vary',
  'varyHint',
  'varyAgain',
  'rest',
  'notSaid',
  'compare',
  'swap',
  'inputs',
  'claimed',
  'figures',
  'limits',
  'picture',
  'cautions',
  'onlyA',
  'onlyB',
  'both',
  'figure',
  'difference',
  'better',
  'thinnerDoes',
  'binds',
  'same',
  'none',
  'thicker',
  'thinner',
  'nothingDiffers',
  'rounding',
  'keep',
] as const

const sentenceNeeds = {
  'page.title': ['question'],
  'points.one': ['value'],
  'points.many': ['value'],
  varying: ['side', 'field'],
} as const

const schema = z.strictObject({
  parts: z.strictObject(
    Object.fromEntries(partNames.map((name) => [name, z.string()])) as Record<
      (typeof partNames)[number],
      z.ZodMiniString
    >,
  ),
  sentences: z.record(z.string(), z.string()),
})

const words = readPrompts(prompts, schema)

/** What is said where two variants of one answer stand side by side. */
export const compareParts = words.parts

/** A sentence of it with its placeholders filled. */
export const compareSay = checkedSayer(prompts, words.sentences, CHECKING && sentenceNeeds)
