import * as z from 'zod/mini'
import prompts from '../../prompts/en/understanding.yaml'
import { faultyPrompts, readPrompts } from '../questions/common/words'

const sayings = z.array(z.string())
const weighted = z.record(z.string(), z.number())

const Vocabulary = z.strictObject({
  numbers: z.strictObject({
    small: weighted,
    tens: weighted,
    parts: weighted,
    scales: weighted,
    minus: sayings,
    counts: weighted,
    plurals: weighted,
  }),
  units: z.record(z.string(), sayings),
  shortUnits: sayings,
  per: sayings,
  words: z.record(z.string(), sayings),
  groups: z.record(z.string(), sayings),
  labels: z.strictObject({
    before: sayings,
    after: sayings,
    months: sayings,
    weekdays: sayings,
    dated: sayings,
    streets: sayings,
    money: sayings,
  }),
  /** Which item of a list: from its beginning, or below zero from its end. */
  places: weighted,
  /** What the things of a list are called, by the input that holds them. */
  itemNouns: z.record(z.string(), sayings),
  lists: z.record(z.string(), sayings),
  rowWords: z.string(),
  plainWords: z.string(),
  /** What no input is, whatever the question. */
  aside: sayings,
  claims: z.strictObject({ said: sayings, fine: sayings, notFine: sayings, asked: sayings }),
  corrections: sayings,
  ranges: sayings,
  follow: z.strictObject({
    drop: sayings,
    add: sayings,
    take: sayings,
    scale: z.record(z.string(), sayings),
    anew: sayings,
    same: sayings,
    more: sayings,
    fewer: sayings,
    count: sayings,
  }),
  rules: z.record(z.string(), sayings),
  /** In which units the answer is wanted. */
  systems: z.record(z.string(), sayings),
  outOfReach: z.record(
    z.string(),
    z.strictObject({
      message: z.string(),
      said: sayings,
      unless: z.optional(sayings),
      soft: z._default(z.boolean(), false),
      /** It gives way to a question that is asked outright and whole: "inspection is the 17th: …" */
      yields: z._default(z.boolean(), false),
    }),
  ),
  fields: z.record(z.string(), z.unknown()),
  choose: z.array(z.strictObject({ said: sayings, among: sayings.check(z.minLength(2), z.maxLength(3)) })),
  sentences: z.record(z.string(), z.string()),
})

/** Everything that prompts/en/understanding.yaml says; a fault there is named by file and line. */
export const vocabulary = readPrompts(prompts, Vocabulary)

const mapOf = (record: Record<string, number>): ReadonlyMap<string, number> => new Map(Object.entries(record))

/** The words that make numbers. */
export const numberWords = {
  small: mapOf(vocabulary.numbers.small),
  tens: mapOf(vocabulary.numbers.tens),
  parts: mapOf(vocabulary.numbers.parts),
  scales: mapOf(vocabulary.numbers.scales),
  counts: mapOf(vocabulary.numbers.counts),
  plurals: mapOf(vocabulary.numbers.plurals),
  minus: new Set(vocabulary.numbers.minus),
} as const

/** The words of one of the lists in prompts/en/understanding.yaml. @throws Error where there is no such list */
export function listed(name: string): ReadonlySet<string> {
  const words = vocabulary.lists[name]
  if (words === undefined) throw faultyPrompts(prompts, 'lists', `lists.${name} is missing`)
  return new Set(words)
}
