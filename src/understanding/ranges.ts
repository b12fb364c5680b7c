import { alike, hasUnit } from './lexer'
import { inheriting } from './lists'
import type { Piece } from './pieces'
import { Sayings } from './sayings'
import { between, textAt } from './stretch'
import type { Token } from './tokens'
import { vocabulary } from './vocabulary'

type Tokens = readonly Token[]

const rangeWords = new Sayings(vocabulary.ranges.map((saying) => [saying, true] as const))

/** "30 to 40 feet", "30-40 ft", "30 or 40 feet": no number, though both ends are kept. */
export function withRanges(tokens: Tokens, pieces: readonly Piece[]): Piece[] {
  const out: Piece[] = []
  for (let at = 0; at < pieces.length; at++) {
    const [one, other] = [pieces[at] as Piece, pieces[at + 1]]
    const joined = other && rangeWords.at(tokens, one.to)?.to === other.from && one.to < other.from
    const opened =
      other &&
      ['between', 'from'].includes(textAt(tokens, one.from - 1)) &&
      ['and', 'to', '-'].includes(between(tokens, one, other).join(' '))
    const fits =
      other &&
      hasUnit(other) &&
      other.kind === 'quantity' &&
      one.kind === 'quantity' &&
      (one.bare !== undefined || alike(one, other))
    if (!fits || !(joined || opened) || other.members) {
      out.push(one)
      continue
    }
    const from = opened ? one.from - 1 : one.from
    const low = hasUnit(one) ? one : inheriting(one, other)
    out.push({
      ...other,
      kind: 'range',
      from,
      to: other.to,
      readings: [],
      low: low.readings[0]?.value ?? 0,
      high: other.readings[0]?.value ?? 0,
      members: [low, other],
    })
    at += 1
  }
  return out
}

const correctionWords = new Sayings(vocabulary.corrections.map((saying) => [saying, true] as const))

/** "thirty feet no sorry make that forty two feet": the first is taken back. */
export function takenBack(tokens: Tokens, pieces: readonly Piece[]): ReadonlySet<Piece> {
  const out = new Set<Piece>()
  for (let at = 0; at + 1 < pieces.length; at++) {
    const [one, other] = [pieces[at] as Piece, pieces[at + 1] as Piece]
    if (one.kind !== other.kind || !(alike(one, other) || one.bare !== undefined)) continue
    if (other.from - one.to > 8 || !hasUnit(other)) continue
    for (let word = one.to; word < other.from; word++) {
      const found = correctionWords.at(tokens, word)
      if (found && found.to <= other.from) out.add(one)
    }
  }
  return out
}
