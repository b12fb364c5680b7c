import type { Token } from './tokens'
import { numberWords, vocabulary } from './vocabulary'

/** At most so many words of one line are looked up, so that a long line of nonsense stays cheap. */
const MOST_LOOKED_UP = 24

/**
 * How many letters apart two words are: left out, put in, changed, or two neighbours swapped (optimal string
 * alignment); `limit + 1` where it is more than `limit`.
 */
export function lettersApart(one: string, other: string, limit: number): number {
  if (Math.abs(one.length - other.length) > limit) return limit + 1
  let before: number[] = []
  let last = Array.from({ length: other.length + 1 }, (_, index) => index)
  for (let i = 1; i <= one.length; i++) {
    const row = [i]
    let least = i
    for (let j = 1; j <= other.length; j++) {
      const same = one[i - 1] === other[j - 1]
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + (same ? 0 : 1))
      if (i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1]) {
        cost = Math.min(cost, (before[j - 2] ?? 0) + 1)
      }
      row.push(cost)
      least = Math.min(least, cost)
    }
    if (least > limit) return limit + 1
    before = last
    last = row
  }
  return Math.min(last[other.length] ?? 0, limit + 1)
}

const consonantsOf = (word: string): string => word.replace(/[aeiou]/g, '')

/** Corrects words that the vocabulary does not know to the one of its words that they are nearest to. */
export class Spelling {
  private readonly known: ReadonlySet<string>
  private readonly byFirst = new Map<string, string[]>()
  private readonly byConsonants = new Map<string, string[]>()

  /** @param trade every word that some phrase uses; words of `plainWords` are left as they are */
  constructor(trade: ReadonlySet<string>) {
    this.known = new Set([...trade, ...vocabulary.plainWords.split(/\s+/)])
    const put = (map: Map<string, string[]>, key: string, word: string) =>
      map.set(key, [...(map.get(key) ?? []), word])
    for (const word of trade) {
      if (word.length < 3 || !/^[a-z]+$/.test(word)) continue
      put(this.byFirst, word[0] ?? '', word)
      put(this.byConsonants, consonantsOf(word), word)
    }
  }

  private knows(word: string): boolean {
    return (
      this.known.has(word) ||
      (word.endsWith('s') && this.known.has(word.slice(0, -1))) ||
      (word.endsWith('es') && this.known.has(word.slice(0, -2)))
    )
  }

  private withoutVowels(word: string): string | undefined {
    if (/[aeiou]/.test(word) || word.length < 3) return undefined
    const like = (this.byConsonants.get(word) ?? []).filter((known) => known[0] === word[0])
    return like.length === 1 ? like[0] : (like.find((known) => unitOrNumber.has(known)) ?? like[0])
  }

  /** "teh": three letters of which two neighbours were swapped. */
  private swapped(word: string): string | undefined {
    const near = [word[1] + word.slice(0, 1) + word[2], word.slice(0, 1) + word[2] + word[1]].filter((each) =>
      this.known.has(each),
    )
    return near.length === 1 ? near[0] : undefined
  }

  private nearest(word: string): string | undefined {
    if (word.length === 3) return this.swapped(word)
    if (word.length < 4) return undefined
    const limit = word.length >= 8 ? 2 : 1
    const near = ['', 'swapped'].flatMap((way) => this.byFirst.get((way ? word[1] : word[0]) ?? '') ?? [])
    let best: string[] = []
    let least = limit + 1
    for (const known of near) {
      if (known[0] !== word[0] && known[1] !== word[0]) continue
      const apart = lettersApart(word, known, limit)
      if (apart < least) {
        least = apart
        best = [known]
      } else if (apart === least && apart <= limit && !best.includes(known)) best.push(known)
    }
    return likeliest(word, best)
  }

  /** The line with its misspelt words corrected. */
  correct(tokens: readonly Token[]): Token[] {
    let left = MOST_LOOKED_UP
    return tokens.map((token) => {
      if (token.kind !== 'word' || left === 0 || this.knows(token.text) || token.text.length > 20)
        return token
      left -= 1
      const text = this.withoutVowels(token.text) ?? this.nearest(token.text)
      return text === undefined ? token : { ...token, text }
    })
  }
}

const unitOrNumber = new Set([
  ...Object.values(vocabulary.units).flat(),
  ...numberWords.small.keys(),
  ...numberWords.tens.keys(),
  'hundred',
  'gauge',
  'driver',
  'tape',
  'cable',
  'wire',
  'size',
])

const lettersOf = (word: string): string => [...word].sort().join('')

/**
 * Of several words as near, the one that the typist meant: letters are swapped more often than left out, and left
 * out more often than put in.
 */
function likeliest(word: string, near: readonly string[]): string | undefined {
  const [first] = near
  if (first === undefined || near.every((known) => sameStem(known, first) || sameUnit(known, first)))
    return first
  if (near.filter(isNumberWord).length > 1) return undefined
  const swapped = near.filter((known) => lettersOf(known) === lettersOf(word))
  const kinds = [
    swapped,
    near.filter((known) => known.length > word.length),
    near.filter((known) => known.length === word.length),
  ]
  const group = kinds.find((each) => each.length > 0) ?? near
  if (group.length === 1) return group[0]
  const preferred = group.filter((known) => unitOrNumber.has(known))
  return preferred.length === 1
    ? preferred[0]
    : group.every((known) => sameStem(known, group[0] ?? ''))
      ? group[0]
      : undefined
}

/** Between two numbers nothing is guessed. */
const isNumberWord = (word: string): boolean =>
  [numberWords.small, numberWords.tens, numberWords.parts, numberWords.scales].some((words) =>
    words.has(word),
  )

const unitOf = new Map(
  Object.entries(vocabulary.units).flatMap(([unit, sayings]) => sayings.map((said) => [said, unit])),
)
const sameUnit = (one: string, other: string): boolean =>
  unitOf.has(one) && unitOf.get(one) === unitOf.get(other)

const sameStem = (one: string, other: string): boolean =>
  one === other || `${one}s` === other || one === `${other}s`
