import { alike, hasUnit } from './lexer'
import { grouped, inheriting } from './lists'
import type { Piece } from './pieces'
import { between, textAt } from './stretch'
import type { Token } from './tokens'
import { listed } from './vocabulary'

type Tokens = readonly Token[]

const JOINS: ReadonlySet<string> = new Set(['and', ',', '&', 'plus', '+', 'then'])
const ARTICLES: ReadonlySet<string> = new Set([
  'a',
  'an',
  'one',
  'another',
  'single',
  'of',
  'at',
  'the',
  'other',
  'more',
])
const AFTER_ITEM = listed('afterItem')

const singular = (word: string): string => word.replace(/(?<=[^s])s$/, '')

/** Plural numbers ("75s") and numbers that were counted ("two 75") are things, whatever their unit. */
const isThing = (tokens: Tokens, piece: Piece): boolean =>
  piece.counted || /s$/.test(textAt(tokens, piece.to - 1))

/** What a counted quantity is of: "three 25 ft PULLS", "three OPENINGS of 750 mm". */
function nounOf(tokens: Tokens, piece: Piece): string | undefined {
  const after = tokens[piece.to]
  // "14 metres box to box" says where a length goes, not what it is.
  if (after?.kind !== 'word' || after.text.includes('-to-')) return undefined
  if (!JOINS.has(after.text) && !AFTER_ITEM.has(after.text)) return singular(after.text)
  return undefined
}

/** Whether a quantity goes on with the list that a counted one began: "three of 750 mm and one of 1.1 m". */
function goesOn(tokens: Tokens, one: Piece, other: Piece): boolean {
  if (['by', 'x'].includes(textAt(tokens, one.from - 1)) || (one.members && one.joined === 'plus'))
    return false
  const last = one.members?.[one.members.length - 1] ?? one
  // "two at 80 cm, ONE at 2.2 m"
  const counted = ['one', 'another'].includes(between(tokens, one, other).find((word) => word !== ',') ?? '')
  const things = [last, other].filter((piece) => isThing(tokens, piece)).length + (counted ? 1 : 0)
  if (things === 0 || !(isThing(tokens, last) || isThing(tokens, other))) return false
  if (other.members || other.kind !== 'quantity' || last.kind !== 'quantity') return false
  const fits = hasUnit(other) ? (hasUnit(last) ? alike(last, other) : true) : other.bare !== undefined
  if (!fits) return false
  const words = between(tokens, one, other)
  const noun = nounOf(tokens, one)
  const rest = words.filter((word) => !JOINS.has(word) && !ARTICLES.has(word) && singular(word) !== noun)
  // A comma alone joins but what was counted: "minimum load 25 W, five 60 W drivers" is no list.
  if (things < 2 && !words.some((word) => JOINS.has(word) && word !== ',')) return false
  if (rest.length > 0 || !words.some((word) => JOINS.has(word)) || words.length > 5) return false
  if (
    !hasUnit(other) &&
    !other.counted &&
    !['a', 'an', 'one', 'another', 'single'].includes(words[words.length - 1] ?? '')
  )
    return false
  const after = tokens[other.to]
  if (after === undefined || after.kind !== 'word' || AFTER_ITEM.has(after.text)) return true
  return noun !== undefined ? singular(after.text) === noun : other.counted
}

function joinedTo(one: Piece, other: Piece): Piece {
  const members = [...(one.members ?? [one]), other]
  const giver = members.find(hasUnit)
  return grouped(
    giver ? members.map((member) => (hasUnit(member) ? member : inheriting(member, giver))) : members,
    'and',
  )
}

/** Joins counted things of one kind to one list: "two runs of 12 ft and one of 7 ft", "two 75s and a 40". */
export function withCountedLists(tokens: Tokens, pieces: readonly Piece[]): Piece[] {
  const out: Piece[] = []
  for (const piece of pieces) {
    const before = out[out.length - 1]
    if (before && goesOn(tokens, before, piece)) out[out.length - 1] = joinedTo(before, piece)
    else out.push(piece)
  }
  return out
}
