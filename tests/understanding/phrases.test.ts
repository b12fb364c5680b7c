import { describe, expect, it } from 'vitest'
import { itemsOf } from '../../src/understanding/items'
import { piecesOf } from '../../src/understanding/lexer'
import { type Node, PhraseBook, readPhrase } from '../../src/understanding/phrases'
import { lettersApart } from '../../src/understanding/spelling'
import { tokensOf } from '../../src/understanding/tokens'

const groups = new Map<string, Node>([
  ['cable', { kind: 'group', words: new Set(['cable', 'wire']), longer: [] }],
])
const canonical = (words: string) => words.split(' ')

/** Whether a phrase is in a line, and the quantity that its `@` stands for. */
const found = (phrase: string, line: string): string | boolean => {
  const tokens = tokensOf(line)
  const items = itemsOf(tokens, piecesOf(tokens))
  const book = new PhraseBook<true>()
  book.add(readPhrase(phrase, groups, canonical), true)
  const match = book.matches(items)[0]
  const item = items[match?.subject ?? -1]
  if (item?.kind !== 'piece') return match !== undefined
  return line.slice(tokens[item.piece.from]?.start, tokens[item.piece.to - 1]?.end)
}

// By the description of phrases at the head of prompts/en/understanding.yaml.
describe('a phrase', () => {
  it.each<[string, string, string | boolean]>([
    ['what gauge', 'so what gauge then', true],
    ['what gauge', 'what thick gauge', false],
    ['driver', 'two drivers', true],
    ['(how|so) far', 'so far', true],
    ['how [very] far', 'how far', true],
    ['how [very] far', 'how very far', true],
    ['<cable> size', 'wire size', true],
    ['<cable> size', 'tape size', false],
    ['from ... driver', 'from the very old driver', true],
    ['from ... driver', 'from one two. three driver', false],
    ['@ away', 'it is 40 ft away', '40 ft'],
    ['@ away', 'it is 40 ft, away', false],
    ['cable of @', 'cable of 40 ft at 24 V', '40 ft'],
    ['{voltage} tape', '24 V tape', true],
    ['{length} tape', '24 V tape', false],
  ])('%s in "%s": %s', (phrase, line, expected) => {
    expect(found(phrase, line)).toBe(expected)
  })

  it.each([
    ['(how far', /lacks a \)/],
    ['how far)', /too many/],
    ['<wood> size', /group <wood>/],
    ['', /empty/],
  ])('%s is refused', (phrase, why) => {
    expect(() => readPhrase(phrase, groups, canonical)).toThrow(why)
  })

  it('cannot begin with anything at all', () => {
    const book = new PhraseBook<true>()
    expect(() => book.add(readPhrase('... gauge', groups, canonical), true)).toThrow(/begin/)
  })
})

// Counted by hand.
describe('letters apart', () => {
  it.each([
    ['gauge', 'gauge', 0],
    ['guage', 'gauge', 1],
    ['wats', 'watts', 1],
    ['driver', 'drver', 1],
    ['volts', 'bolts', 1],
    ['tape', 'pipe', 2],
    ['kilowatt', 'tape', 3],
  ])('%s and %s: %d', (one, other, apart) => {
    expect(lettersApart(one, other, 2)).toBe(apart)
    expect(lettersApart(other, one, 2)).toBe(apart)
  })
})
