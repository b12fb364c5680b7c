import { hasUnit } from './lexer'
import { type Piece, readingIn } from './pieces'
import { between, textAt } from './stretch'
import type { Token } from './tokens'
import { listed } from './vocabulary'

type Tokens = readonly Token[]

const isCount = (piece: Piece): boolean =>
  piece.bare !== undefined &&
  Number.isInteger(piece.bare) &&
  piece.bare >= 1 &&
  piece.bare <= 60 &&
  piece.kind === 'quantity'

/** Kinds of quantity that a thing has once: "three lengths of 24 V tape" are not 72 V. */
const ONCE: ReadonlySet<string> = new Set([
  'voltage',
  'powerPerLength',
  'lumensPerLength',
  'percent',
  'frequency',
  'temperature',
  'degrees',
  'price',
  'illuminance',
  'efficacy',
  'time',
  'daysPerYear',
])

/** Whether there may be several of what has this quantity. */
const severalOf = (piece: Piece): boolean =>
  (hasUnit(piece) && !piece.readings.some(({ dimension }) => ONCE.has(dimension))) || piece.kind === 'cable'

const countable = (piece: Piece): boolean => severalOf(piece) || (!hasUnit(piece) && (piece.bare ?? 0) >= 5)

const multiplied = (count: Piece, piece: Piece, from: number, to: number): Piece => ({
  ...piece,
  from,
  to,
  times: (count.bare ?? 1) * piece.times,
  counted: true,
})

const EACH = listed('each')
const THING_LINKS = listed('noThing')

const ADJECTIVES = listed('countedAdjectives')

/** Whether a line is about flat cable, whose "12 x 6 mm" are its width and its height. */
const isFlat = (tokens: Tokens): boolean => tokens.some(({ text }) => text === 'flat')

const TAKES: ReadonlySet<string> = new Set(['take', 'takes', 'run', 'runs', 'carries', 'handles', 'holds'])
const MOST: ReadonlySet<string> = new Set(['most', 'max', 'tops'])

/** "it takes eight 40 W drivers at most": eight is how much the one has room for, not how many the other are. */
const isRoomFor = (tokens: Tokens, count: Piece, piece: Piece): boolean =>
  TAKES.has(textAt(tokens, count.from - 1)) &&
  [0, 1, 2, 3].some((ahead) => MOST.has(textAt(tokens, piece.to + ahead)))

/** "two 16.4 ft rolls", "3 x 12/2", "a pair of 9 mm". */
function directlyCounted(tokens: Tokens, one: Piece, other: Piece): boolean {
  const words = between(tokens, one, other)
  if (!isCount(one) || one.counted || !countable(other) || other.counted) return false
  if (isRoomFor(tokens, one, other)) return false
  if (words.length === 0) return one.plain === false || hasUnit(other) || other.kind === 'cable'
  const [word] = words
  if (word === 'x' && isFlat(tokens) && readingIn(other, 'length')) return false
  if (words.length === 1 && ADJECTIVES.has(word ?? '')) return true
  if (words.join(' ') === 'no .') return true
  return (
    words.length === 1 &&
    (word === 'x' || word === 'no' || word === 'off' || word === 'number' || word === 'times')
  )
}

/** "breakers 1 and 5": numbers that are names count nothing. */
function isName(tokens: Tokens, { from }: Piece): boolean {
  const named = (at: number) => NAMING.has(textAt(tokens, at))
  if (named(from - 1)) return true
  return (
    ['and', ','].includes(textAt(tokens, from - 1)) && tokens[from - 2]?.kind === 'numeral' && named(from - 3)
  )
}

const NAMING = listed('naming')

const THINGS = listed('things')
const TOTALS: ReadonlySet<string> = new Set(['total', 'altogether', 'in', 'overall', 'between', 'combined'])
const MORE_OF: ReadonlySet<string> = new Set(['more', 'of', 'the', 'those', 'these', 'at', 'same'])

/** "five windows at 1.42 m apiece", "four legs of 60 ft", "four bays each 800 mm". */
function countedByNoun(tokens: Tokens, one: Piece, other: Piece): boolean {
  if (!isCount(one) || one.counted || other.counted || isName(tokens, one)) return false
  const words = between(tokens, one, other)
  // "four of thirty", "two more of the 6 mm ones"
  if ((other.bare ?? 0) >= 5 && words.join(' ') === 'of') return true
  if (!severalOf(other)) return false
  if (words.includes('more') && words.length <= 4 && words.every((word) => MORE_OF.has(word))) return true
  if (words.length < 1 || words.length > 6) return false
  const each =
    EACH.has(textAt(tokens, other.to)) ||
    // "60 W output each"
    (['output', 'input', 'rated', 'long', 'wide'].includes(textAt(tokens, other.to)) &&
      EACH.has(textAt(tokens, other.to + 1))) ||
    (textAt(tokens, other.to) === 'the' && EACH.has(textAt(tokens, other.to + 1))) ||
    (textAt(tokens, other.to) === 'a' && ['piece', 'pop'].includes(textAt(tokens, other.to + 1)))
  const spoken = words.some((word) => EACH.has(word) || word === 'all')
  if (words.some((word) => ['.', ';', '?', 'and', 'plus'].includes(word))) return false
  if (each || spoken) return words.length >= 1
  if (words.length === 1 && words[0] === 'of') return true
  if (words[0] === 'of' && ['them', 'these', 'those', 'the'].includes(words[1] ?? '') && words.length <= 5)
    return true
  const last = words[words.length - 1] ?? ''
  const noun = words[0] ?? ''
  // "three shelves 900 mm", but not "two drivers 100 W in all"
  const behind = textAt(tokens, other.to)
  if (words.length === 1 && (THINGS.has(noun) || THINGS.has(noun.replace(/s$/, ''))) && !TOTALS.has(behind))
    return true
  if (
    last === 'at' &&
    words.length <= (THINGS.has((words[words.length - 2] ?? '').replace(/s$/, '')) ? 5 : 3) &&
    other.readings.some(({ dimension }) => dimension === 'length' || dimension === 'power')
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

const POINTING: ReadonlySet<string> = new Set(['them', 'those', 'these'])

const OFTEN: Readonly<Record<string, number>> = { twice: 2, thrice: 3 }

/** "14/2 x 3", "100 W twice", "60 ft four times". */
function countedAfterwards(tokens: Tokens, piece: Piece, next: Piece | undefined): Piece | undefined {
  if (piece.counted || !severalOf(piece)) return undefined
  const often = OFTEN[textAt(tokens, piece.to)]
  if (often !== undefined) return { ...piece, times: often, counted: true, to: piece.to + 1 }
  if (next === undefined || !isCount(next) || next.counted) return undefined
  const words = between(tokens, piece, next).join(' ')
  const times = textAt(tokens, next.to) === 'times' || textAt(tokens, next.to) === 'off'
  if (words === 'x' || words === 'times' || (words === '' && times)) {
    return { ...piece, times: next.bare ?? 1, counted: true, to: times ? next.to + 1 : next.to }
  }
  return undefined
}

/** "60 W drivers, four of them": a count said after what it counts. */
function countedBehind(tokens: Tokens, piece: Piece, next: Piece | undefined): boolean {
  if (piece.counted || piece.members || !severalOf(piece) || !next || !isCount(next) || next.counted)
    return false
  const words = between(tokens, piece, next)
  const them = textAt(tokens, next.to) === 'of' && POINTING.has(textAt(tokens, next.to + 1))
  return them && words.length <= 5 && !words.some((word) => ['.', ';', '?', 'plus', 'for'].includes(word))
}

/** Counts said with a noun in between, once lists are lists. */
export function withNounCounts(tokens: Tokens, pieces: readonly Piece[]): Piece[] {
  const out: Piece[] = []
  for (let at = 0; at < pieces.length; at++) {
    const piece = pieces[at] as Piece
    const next = pieces[at + 1]
    const size = next?.members?.length ?? 1
    if (next && countedBehind(tokens, piece, next)) {
      out.push({ ...piece, times: next.bare ?? 1, counted: true })
      at += 1
      continue
    }
    if (next && size > 1 && isCount(piece) && describes(tokens, piece, next)) {
      const [first, ...rest] = next.members ?? []
      // "two cables 0.35 in and one 0.45 in" counts the first; "two legs, 30 ft and 45 ft" says again how many.
      if (first && !first.counted && rest.some((member) => member.counted)) {
        const times = piece.bare ?? 1
        out.push({ ...next, members: [{ ...first, times, counted: true }, ...rest] })
        at += 1
        continue
      }
      if (piece.bare === size) continue
    }
    if (next && size === 1 && countedByNoun(tokens, piece, next)) {
      const each = withEach(tokens, next)
      out.push(
        piece.bare === 1 ? { ...next, counted: true } : { ...multiplied(piece, each, next.from, each.to) },
      )
      at += 1
    } else out.push(piece)
  }
  return out
}

/** Words after which a number before a list says something else about it: "3 reels will cover …". */
const NO_DESCRIPTION = listed('aboutList')

/** "two legs, thirty feet and forty five feet": the two is said again by the list. */
function describes(tokens: Tokens, count: Piece, list: Piece): boolean {
  const words = between(tokens, count, list)
  return words.length >= 1 && words.length <= 5 && !words.some((word) => NO_DESCRIPTION.has(word))
}
