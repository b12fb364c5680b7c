import { type Token, tokensOf } from './tokens'

/** Sayings of one or more words, found at a place of a line by their first word, the longest first. */
export class Sayings<T> {
  private readonly byFirst = new Map<string, { rest: string[]; value: T }[]>()

  constructor(entries: Iterable<readonly [saying: string, value: T]>) {
    for (const [saying, value] of entries) {
      const [first, ...rest] = wordsOf(saying)
      if (first === undefined) continue
      const known = this.byFirst.get(first) ?? []
      known.push({ rest, value })
      this.byFirst.set(first, known)
    }
    for (const known of this.byFirst.values()) known.sort((a, b) => b.rest.length - a.rest.length)
  }

  /** The longest saying that begins at a token, and the token after it. */
  at(tokens: readonly Token[], place: number): { value: T; to: number } | undefined {
    const first = tokens[place]
    if (first === undefined) return undefined
    for (const { rest, value } of this.byFirst.get(first.text) ?? []) {
      if (rest.every((word, index) => tokens[place + 1 + index]?.text === word)) {
        return { value, to: place + 1 + rest.length }
      }
    }
    return undefined
  }
}

/** The words, numbers and marks of a saying, as a line would be cut. */
export const wordsOf = (saying: string): string[] => tokensOf(saying).map((token) => token.text)
