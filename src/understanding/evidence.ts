import { askings } from './asking'
import type { Line } from './line'
import { listed } from './vocabulary'
import { plainWords } from './words'

const COMMON = listed('commonWords')
/** Shorter words say nothing by themselves. */
const SHORTEST = 3

/** A word without its ending. */
export const stem = (word: string): string => word.replace(/(?:es|s|ing|ed)$/, '')

/** How much a word of a phrase that asks a question says for it, beside one that only names an input. */
const ASKS = 1
const SIGNS = 0.7
const CLAIMS = 0.5
const NAMES = 0.4

/** For each word, how much the phrases of each question make of it. */
function tally(): ReadonlyMap<string, ReadonlyMap<string, number>> {
  const words = new Map<string, Map<string, number>>()
  const note = (question: string, phrases: readonly string[], weight: number) => {
    for (const word of new Set(phrases.flatMap(plainWords).map(stem))) {
      if (word.length < SHORTEST || COMMON.has(word)) continue
      const by = words.get(word) ?? new Map<string, number>()
      words.set(word, by.set(question, Math.max(by.get(question) ?? 0, weight)))
    }
  }
  for (const [question, { asking, title }] of Object.entries(askings)) {
    note(question, title ? [title] : [], ASKS)
    for (const [points, sayings] of Object.entries(asking.ask))
      note(question, sayings, (ASKS * Number(points)) / 6)
    for (const { said } of asking.signs) note(question, said, SIGNS)
    for (const [part, weight] of [
      ['fields', NAMES],
      ['figures', CLAIMS],
    ] as const)
      for (const { names, said, means } of Object.values(asking[part]))
        note(question, [...names, ...said, ...Object.values(means).flat()], weight)
  }
  return words
}

let made: ReturnType<typeof tally> | undefined

/**
 * How much the single words of a line speak for each question, whatever their order: a word that the phrases of one
 * question alone have says most. It settles what no phrase has read.
 */
export function evidenceFor(line: Line): ReadonlyMap<string, number> {
  made ??= tally()
  const out = new Map<string, number>()
  for (const word of new Set(
    line.tokens.filter(({ kind }) => kind === 'word').map(({ text }) => stem(text)),
  )) {
    const by = made.get(word)
    const total = [...(by?.values() ?? [])]
      .filter((weight) => weight > 0)
      .reduce((sum, weight) => sum + weight, 0)
    for (const [question, weight] of by ?? [])
      if (weight > 0) out.set(question, (out.get(question) ?? 0) + (weight * weight) / total)
  }
  return out
}
