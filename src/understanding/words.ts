import { Sayings, wordsOf } from './sayings'
import { type Token, tokensOf } from './tokens'
import { unitAt } from './units'
import { listed, numberWords, vocabulary } from './vocabulary'

const sameAs = new Sayings(
  Object.entries(vocabulary.words).flatMap(([word, sayings]) => {
    const canonical = word.split(' ')
    return sayings.map((saying) => [saying, canonical] as const)
  }),
)

/** The line with one word for the several that mean the same ("power supply" is a driver); places are kept. */
export function inOneWord(tokens: readonly Token[]): Token[] {
  const out: Token[] = []
  for (let at = 0; at < tokens.length; ) {
    const token = tokens[at] as Token
    const found = endsFraction(tokens, at) ? undefined : sameAs.at(tokens, at)
    if (found === undefined) {
      out.push(token)
      at += 1
      continue
    }
    const end = tokens[found.to - 1]?.end ?? token.end
    for (const text of found.value)
      out.push({ ...token, kind: /^[,+]$/.test(text) ? 'mark' : 'word', text, end })
    at = found.to
  }
  return moreBehind(out)
}

/** The 2 of "14/2 ends" begins no saying. */
const endsFraction = (tokens: readonly Token[], at: number): boolean =>
  tokens[at]?.kind === 'numeral' && tokens[at]?.glued === true && tokens[at - 1]?.text === '/'

const MORE = listed('more')

/** "two more amps" as "two amps more", so that the number stands before its unit. */
function moreBehind(tokens: Token[]): Token[] {
  for (let at = 1; at + 1 < tokens.length; at++) {
    const [before, more, unit] = [tokens[at - 1], tokens[at], tokens[at + 1]]
    if (!before || !more || !unit || !MORE.has(more.text) || !isNumberWord(before)) continue
    if (unitAt(tokens, at + 1)?.to !== at + 2 || unit.text === 'in' || unit.text === 'a') continue
    tokens[at] = { ...unit, end: unit.end }
    tokens[at + 1] = { ...more, start: more.start }
  }
  return tokens
}

const isNumberWord = (token: Token): boolean =>
  token.kind === 'numeral' ||
  numberWords.small.has(token.text) ||
  numberWords.tens.has(token.text) ||
  token.text === 'hundred'

/** The words of a phrase as a line would have them. */
export const canonicalWords = (words: string): string[] =>
  inOneWord(tokensOf(words)).map((token) => token.text)

/** What the phrase language puts between the words of a phrase. */
const SIGNS = /<[^>]*>|\{[^}]*\}|\.\.\.|[()[\]|@]/g

/** The plain words of a phrase or a label, as a line would have them, without the signs of the phrase language. */
export const plainWords = (phrase: string): string[] => canonicalWords(phrase.replace(SIGNS, ' '))

/** Every word that the general vocabulary knows of. */
export const generalWords: ReadonlySet<string> = new Set(
  [
    ...Object.entries(vocabulary.words).flat(2),
    ...Object.values(vocabulary.units).flat(),
    ...Object.values(vocabulary.groups).flat(),
    ...Object.values(vocabulary.numbers).flatMap((words) =>
      Array.isArray(words) ? words : Object.keys(words),
    ),
    ...Object.values(vocabulary.labels).flat(),
    ...vocabulary.per,
    ...vocabulary.rowWords.split(/\s+/),
    ...Object.values(vocabulary.lists).flat(),
    'hundred',
    'point',
  ].flatMap(wordsOf),
)
