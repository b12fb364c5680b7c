import { alike, hasUnit } from './lexer'
import type { Piece, Reading } from './pieces'
import { Sayings } from './sayings'
import type { Token } from './tokens'
import { vocabulary } from './vocabulary'

type Tokens = readonly Token[]

const textAt = (tokens: Tokens, at: number): string => tokens[at]?.text ?? ''
const between = (tokens: Tokens, one: Piece, other: Piece): string[] =>
  tokens.slice(one.to, other.from).map((token) => token.text)

const isCount = (piece: Piece): boolean =>
  piece.bare !== undefined &&
  Number.isInteger(piece.bare) &&
  piece.bare >= 1 &&
  piece.bare <= 60 &&
  piece.kind === 'quantity'

const countable = (piece: Piece): boolean =>
  hasUnit(piece) || piece.kind === 'cable' || (piece.bare ?? 0) >= 5

const multiplied = (count: Piece, piece: Piece, from: number, to: number): Piece => ({
  ...piece,
  from,
  to,
  times: (count.bare ?? 1) * piece.times,
  counted: true,
})

const EACH = new Set(['each', 'apiece', 'ea'])
const THING_LINKS = new Set([
  'of',
  'at',
  'each',
  'are',
  'that',
  'rated',
  'pulling',
  'drawing',
  'every',
  'all',
  ',',
  'is',
  'being',
  'about',
  'which',
  '@',
  'with',
  'long',
  'measuring',
])

const ADJECTIVES = new Set([
  'more',
  'extra',
  'additional',
  'further',
  'new',
  'other',
  'separate',
  'identical',
  'small',
  'big',
  'little',
  'led',
  'number',
  'existing',
  'matching',
  'equal',
])

/** "two 16.4 ft rolls", "3 x 12/2", "a pair of 9 mm". */
function directlyCounted(tokens: Tokens, one: Piece, other: Piece): boolean {
  const words = between(tokens, one, other)
  if (!isCount(one) || one.counted || !countable(other) || other.counted) return false
  if (words.length === 0) return one.plain === false || hasUnit(other) || other.kind === 'cable'
  const [word] = words
  if (words.length === 1 && ADJECTIVES.has(word ?? '')) return true
  return (
    words.length === 1 &&
    (word === 'x' || word === 'no' || word === 'off' || word === 'number' || word === 'times')
  )
}

/** "five windows at 1.42 m apiece", "four legs of 60 ft", "four bays each 800 mm". */
function countedByNoun(tokens: Tokens, one: Piece, other: Piece): boolean {
  if (!isCount(one) || one.counted || !hasUnit(other) || other.counted) return false
  const words = between(tokens, one, other)
  if (words.length < 1 || words.length > 6) return false
  const each =
    EACH.has(textAt(tokens, other.to)) ||
    (textAt(tokens, other.to) === 'a' && ['piece', 'pop'].includes(textAt(tokens, other.to + 1)))
  const spoken = words.some((word) => EACH.has(word) || word === 'all')
  if (words.some((word) => ['.', ';', '?', 'and', 'plus'].includes(word))) return false
  if (each || spoken) return words.length >= 1
  if (words[0] === 'of' && ['them', 'these', 'those', 'the'].includes(words[1] ?? '') && words.length <= 5)
    return true
  const last = words[words.length - 1] ?? ''
  const noun = words[0] ?? ''
  if (
    last === 'at' &&
    words.length <= 3 &&
    other.readings.some(
      ({ dimension }) => dimension === 'length' || (dimension === 'power' && words.length > 1),
    )
  )
    return true
  return last === 'of' && !THING_LINKS.has(noun) && words.length <= 4 && noun !== 'of'
}

/** Puts counts to what they count; a count before a list of as many things only describes it. */
export function withCounts(tokens: Tokens, pieces: readonly Piece[]): Piece[] {
  const out: Piece[] = []
  for (let at = 0; at < pieces.length; at++) {
    const piece = pieces[at] as Piece
    const next = pieces[at + 1]
    if (next && directlyCounted(tokens, piece, next)) {
      out.push(multiplied(piece, withEach(tokens, next), piece.from, withEach(tokens, next).to))
      at += 1
      continue
    }
    const after = countedAfterwards(tokens, piece, next)
    out.push(after ?? piece)
    if (after && next && after.to > next.from) at += 1
  }
  return out
}

const withEach = (tokens: Tokens, piece: Piece): Piece =>
  EACH.has(textAt(tokens, piece.to)) ? { ...piece, to: piece.to + 1 } : piece

const OFTEN: Readonly<Record<string, number>> = { twice: 2, thrice: 3 }

/** "14/2 x 3", "100 W twice", "60 ft four times". */
function countedAfterwards(tokens: Tokens, piece: Piece, next: Piece | undefined): Piece | undefined {
  if (piece.counted || !(hasUnit(piece) || piece.kind === 'cable')) return undefined
  const often = OFTEN[textAt(tokens, piece.to)]
  if (often !== undefined) return { ...piece, times: often, counted: true, to: piece.to + 1 }
  if (next === undefined || !isCount(next) || next.counted) return undefined
  const words = between(tokens, piece, next).join(' ')
  const times = textAt(tokens, next.to) === 'times' || textAt(tokens, next.to) === 'off'
  if (words === 'x' || (words === '' && times)) {
    return { ...piece, times: next.bare ?? 1, counted: true, to: times ? next.to + 1 : next.to }
  }
  return undefined
}

/** Counts said with a noun in between, once lists are lists. */
export function withNounCounts(tokens: Tokens, pieces: readonly Piece[]): Piece[] {
  const out: Piece[] = []
  for (let at = 0; at < pieces.length; at++) {
    const piece = pieces[at] as Piece
    const next = pieces[at + 1]
    const size = next?.members?.length ?? 1
    if (next && size > 1 && isCount(piece) && piece.bare === size && describes(tokens, piece, next)) continue
    if (next && size === 1 && countedByNoun(tokens, piece, next)) {
      const each = withEach(tokens, next)
      out.push(piece.bare === 1 ? next : { ...multiplied(piece, each, next.from, each.to) })
      at += 1
    } else out.push(piece)
  }
  return out
}

/** "two legs, thirty feet and forty five feet": the two is said again by the list. */
function describes(tokens: Tokens, count: Piece, list: Piece): boolean {
  const words = between(tokens, count, list)
  return words.length >= 1 && words.length <= 5 && !words.some((word) => ['.', ';', '?'].includes(word))
}

const SUM = new Set(['plus', '+'])
const LIST = new Set(['and', ',', '&', 'then', 'plus', '+', 'another', 'also', 'further'])

const joiner = (words: readonly string[]): 'list' | 'sum' | undefined => {
  if (words.length === 0 || words.length > 3 || !words.every((word) => LIST.has(word))) return undefined
  return words.some((word) => SUM.has(word)) || words.join(' ') === 'and another' ? 'sum' : 'list'
}

/** A bare number said before one with a unit has that unit too: "45 and 70 watts". */
function inheriting(piece: Piece, from: Piece): Piece {
  const reading = from.readings[0] as Reading
  const scale = (piece.bare ?? 0) / (scaleOf(reading) || 1)
  const { bare: _, ...rest } = piece
  return {
    ...rest,
    readings: from.readings
      .filter((each) => each.dimension !== 'temperature' && each.dimension !== 'degrees')
      .map((each) => ({
        ...each,
        value: Number((each.value * scale).toPrecision(12)),
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
const NAMING = new Set([
  'breaker',
  'circuit',
  'circuits',
  'leg',
  'panel',
  'phase',
  'factor',
  'knee',
  'edition',
  'flat',
  'room',
  'unit',
])

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
    const join = adjacent ? 'list' : joiner(words)
    const bareComma = last.bare !== undefined && !hasUnit(last) && hasUnit(piece) && words.join(' ') === ','
    if (bareComma) break
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
    const settled = settle(trimmed(tokens, chainFrom(tokens, pieces, at)))
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
    if (first.kind === 'cable') return group(members, 'and')
    return undefined
  }
  if (firstWithUnit === 0 && !wordy && !commas) return undefined
  // "a run of 40, 24 volts": a comma alone gives no unit to the number before it.
  if (firstWithUnit > 0 && (!wordy || named)) return undefined
  const giver = members[firstWithUnit] as Piece
  if (firstWithUnit > 0 && last.readings.length === 0) return undefined
  return group(
    members.map((member) => (hasUnit(member) ? member : inheriting(member, giver))),
    sum ? 'plus' : 'and',
  )
}

function group(members: readonly Piece[], joined: 'plus' | 'and'): Piece {
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
