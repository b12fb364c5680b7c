import { clean } from './clean'
import { alike, hasUnit } from './lexer'
import { type Piece, type Reading, readingIn } from './pieces'
import { between, textAt } from './stretch'
import type { Token } from './tokens'
import { listed } from './vocabulary'

type Tokens = readonly Token[]

const SUM = new Set(['plus', '+'])
const LIST = new Set(['and', ',', '&', 'then', 'plus', '+', 'another', 'also', 'further'])

const joiner = (words: readonly string[]): 'list' | 'sum' | undefined => {
  if (words.length === 0 || words.length > 3 || !words.every((word) => LIST.has(word))) return undefined
  return words.some((word) => SUM.has(word)) || words.join(' ') === 'and another' ? 'sum' : 'list'
}

/** A bare number said before one with a unit has that unit too: "45 and 70 watts". */
export function inheriting(piece: Piece, from: Piece): Piece {
  const reading = from.readings[0] as Reading
  const scale = (piece.bare ?? 0) / (scaleOf(reading) || 1)
  const { bare: _, ...rest } = piece
  return {
    ...rest,
    readings: from.readings
      .filter((each) => each.dimension !== 'temperature' && each.dimension !== 'degrees')
      .map((each) => ({
        ...each,
        value: clean(each.value * scale),
        typed: each.typed.replace(/^-?[\d.]+/, String(piece.bare)),
      })),
  }
}

const scaleOf = (reading: Reading): number => Number(/^-?[\d.]+/.exec(reading.typed)?.[0] ?? 0)

const unitOf = (piece: Piece): string => (piece.readings[0]?.typed ?? '').replace(/^-?[\d.]+ /, '')
/** "46 inches 46 inches and 31 inches", without commas. */
const sameUnit = (one: Piece, other: Piece): boolean => hasUnit(one) && unitOf(one) === unitOf(other)

type Chain = {
  members: Piece[]
  sum: boolean
  wordy: boolean
  named: boolean
  closed?: boolean
  commas?: boolean
}

/** Words whose number is a name: "from breaker 2 and 360 W". */
const NAMING = listed('naming')

const SIZES: ReadonlySet<string> = new Set(['by', 'x'])

const ARTICLES: ReadonlySet<string> = new Set(['a', 'an'])

/** "a 120, an 80 and a 60 watt driver", "a 55 W and a 30 W driver": each with its article, one noun behind them all. */
const isArticled = (tokens: Tokens, first: Piece, last: Piece, next: Piece): boolean =>
  ARTICLES.has(textAt(tokens, first.from - 1)) &&
  ((last.bare !== undefined && !hasUnit(last)) ||
    (unitOf(last) === unitOf(next) && textAt(tokens, last.to) === 'and' && tokens[next.to]?.kind === 'word'))

const withoutArticle = (words: readonly string[]): readonly string[] =>
  ARTICLES.has(words[words.length - 1] ?? '') ? words.slice(0, -1) : words

/** How far a list goes on from a piece: alike things, or bare numbers that a last one gives a unit. */
function chainFrom(tokens: Tokens, pieces: readonly Piece[], at: number): Chain {
  const first = pieces[at] as Piece
  const chain: Chain = {
    members: [first],
    sum: false,
    wordy: false,
    named: NAMING.has(textAt(tokens, first.from - 1)),
  }
  for (let next = at + 1; next < pieces.length; next++) {
    const last = chain.members[chain.members.length - 1] as Piece
    const piece = pieces[next] as Piece
    const words = between(tokens, last, piece)
    const adjacent = words.length === 0 && !last.counted && (last.bare !== undefined || sameUnit(last, piece))
    const join = adjacent
      ? 'list'
      : joiner(isArticled(tokens, first, last, piece) ? withoutArticle(words) : words)
    // "half an inch by a quarter inch plus ...": the second size of one thing begins no list.
    if (SIZES.has(textAt(tokens, first.from - 1))) break
    const bareComma = last.bare !== undefined && !hasUnit(last) && hasUnit(piece) && words.join(' ') === ','
    if (bareComma && !nextGoesOn(tokens, pieces, next)) break
    if (chain.wordy && chain.closed && words.join(' ') === ',') break
    if (join === undefined || piece.kind !== first.kind || piece.kind === 'label' || piece.kind === 'range')
      break
    const fits =
      alike(last, piece) ||
      (last.bare !== undefined && !hasUnit(last) && piece.kind === 'quantity') ||
      piece.kind === 'cable'
    if (!fits) break
    chain.members.push(piece)
    if (join === 'sum') chain.sum = true
    if (words.some((word) => word !== ',')) chain.wordy = true
    if (words.includes('and')) chain.closed = true
    if (words.includes(',')) chain.commas = true
    if (last.bare !== undefined && hasUnit(piece) && !nextGoesOn(tokens, pieces, next)) break
  }
  return chain
}

const nextGoesOn = (tokens: Tokens, pieces: readonly Piece[], at: number): boolean => {
  const [one, other] = [pieces[at], pieces[at + 1]]
  return (
    one !== undefined &&
    other !== undefined &&
    alike(one, other) &&
    joiner(between(tokens, one, other)) !== undefined
  )
}

/** Joins what is said as one list ("22 ft, 35 ft and 14 ft") or one sum ("16 plus 8 feet"). */
export function withLists(tokens: Tokens, pieces: readonly Piece[]): Piece[] {
  const out: Piece[] = []
  for (let at = 0; at < pieces.length; ) {
    const first = pieces[at] as Piece
    const settled = settle(trimmed(tokens, chainFrom(tokens, pieces, at))) ?? wayFrom(tokens, pieces, at)
    if (settled === undefined) {
      out.push(first)
      at += 1
    } else {
      out.push(settled)
      at += settled.members?.length ?? 1
    }
  }
  return out
}

const WAYS = listed('ways')
const WAYS_BEFORE = listed('waysBefore')
/** Ways that, said behind one length and the next, need no "and": "eleven feet up the wall nineteen across". */
const PLAIN_WAYS: ReadonlySet<string> = new Set(['up', 'down', 'across', 'along', 'sideways'])
/** The most words of one stretch: "up the inside of the wall and then another". */
const LONGEST_STRETCH = 8

/** "UP 11 feet", "UP THE WALL 11 feet". */
const wayBefore = (tokens: Tokens, { from }: Piece): boolean =>
  WAYS_BEFORE.has(textAt(tokens, from - 1)) ||
  (textAt(tokens, from - 2) === 'the' && WAYS_BEFORE.has(textAt(tokens, from - 3)))

const goesSomeWay = (tokens: Tokens, piece: Piece): boolean =>
  piece.kind === 'quantity' &&
  piece.times === 1 &&
  (WAYS.has(textAt(tokens, piece.to)) || wayBefore(tokens, piece))

/** Whether a stretch goes on from another in the same sentence. */
function goesOnFrom(tokens: Tokens, last: Piece, piece: Piece): boolean {
  const words = between(tokens, last, piece)
  if (words.length > LONGEST_STRETCH || words.some((word) => ['.', ';', '?'].includes(word))) return false
  const plain = [last, piece].every(({ to }) => PLAIN_WAYS.has(textAt(tokens, to)))
  return plain || words.some((word) => LIST.has(word))
}

/** "12 ft up the wall, then 19 ft across the ceiling": the stretches of one way are a sum. */
function wayFrom(tokens: Tokens, pieces: readonly Piece[], at: number): Piece | undefined {
  const [one, other] = [pieces[at], pieces[at + 1]]
  if (!one) return undefined
  const members: Piece[] = []
  for (let next = at; next < pieces.length; next++) {
    const piece = pieces[next] as Piece
    const last = members[members.length - 1]
    const measures = readingIn(piece, 'length') !== undefined
    const bare = last !== undefined && piece.bare !== undefined && !hasUnit(piece)
    if (!(measures || bare) || !goesSomeWay(tokens, piece)) break
    if (last && !goesOnFrom(tokens, last, piece)) break
    members.push(bare ? inheriting(piece, one) : piece)
  }
  if (members.length > 1) return grouped(members, 'plus')
  return other && addedTo(tokens, one, other) ? grouped([one, other], 'plus') : undefined
}

/** "16 ft of lead plus another 9 ft", "18 ft there and another 12 ft": what is added to a length is one way with it. */
function addedTo(tokens: Tokens, one: Piece, other: Piece | undefined): boolean {
  if (!other || !alike(one, other) || one.kind !== 'quantity' || one.counted || other.counted) return false
  if (readingIn(one, 'length') === undefined) return false
  const words = between(tokens, one, other)
  if (words.length < 2 || words.length > 5 || words.some((word) => ['.', ';', '?', ','].includes(word)))
    return false
  const tail = words.slice(-2).join(' ')
  return (
    ['plus another', 'and another', 'plus a', 'plus an'].includes(tail) || words[words.length - 1] === 'plus'
  )
}

/** With commas alone the last may be something else: "12 m, 7.5 m, 100 m spool". */
function trimmed(tokens: Tokens, chain: Chain): Chain {
  const last = chain.members[chain.members.length - 1] as Piece
  const goesOn = tokens[last.to]?.kind === 'word'
  if (chain.wordy || !chain.commas || !hasUnit(last)) return chain
  const members = goesOn ? chain.members.slice(0, -1) : chain.members
  return { ...chain, members: members.length > 2 ? members : [] }
}

function settle({ members, sum, wordy, named, commas }: Chain): Piece | undefined {
  if (members.length < 2) return undefined
  const first = members[0] as Piece
  const last = members[members.length - 1] as Piece
  const firstWithUnit = members.findIndex(hasUnit)
  if (firstWithUnit < 0) {
    if (first.kind === 'cable') return grouped(members, 'and')
    return undefined
  }
  if (firstWithUnit === 0 && !wordy && !commas) return undefined
  // "a run of 40, 24 volts": a comma alone gives no unit to the number before it.
  if (firstWithUnit > 0 && (!wordy || named)) return undefined
  const giver = members[firstWithUnit] as Piece
  if (firstWithUnit > 0 && last.readings.length === 0) return undefined
  return grouped(
    members.map((member) => (hasUnit(member) ? member : inheriting(member, giver))),
    sum ? 'plus' : 'and',
  )
}

/** Several pieces as one list or one sum; what all of them may be read as, it may. */
export function grouped(members: readonly Piece[], joined: 'plus' | 'and'): Piece {
  const first = members[0] as Piece
  const last = members[members.length - 1] as Piece
  const readings = first.readings.filter((reading) =>
    members.every((member) => member.readings.some((other) => other.dimension === reading.dimension)),
  )
  const { bare: _, ...rest } = first
  return { ...rest, from: first.from, to: last.to, readings, members, joined, times: 1, counted: false }
}

/** The members of a list one by one; any other piece as it is. */
export const apart = (pieces: readonly Piece[]): Piece[] =>
  pieces.flatMap((piece) => piece.members ?? [piece])
