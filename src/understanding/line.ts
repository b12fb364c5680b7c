import { book, type Meaning, spelling } from './book'
import { plainCharacters } from './characters'
import { withCountedLists } from './counted-lists'
import { withCounts, withNounCounts } from './counts'
import { type Item, itemsOf } from './items'
import { piecesOf } from './lexer'
import { apart, withLists } from './lists'
import type { Match } from './phrases'
import { type Piece, saidBetween } from './pieces'
import { inCelsius } from './quantities'
import { takenBack, withRanges, withUnitsOfReplaced } from './ranges'
import { setAside } from './set-aside'
import { type Token, tokensOf } from './tokens'
import { without } from './view-edit'
import { inOneWord } from './words'

/** One way of seeing the numbers of a line: lists as lists, or each number by itself. */
export type View = {
  pieces: readonly Piece[]
  items: readonly Item[]
  matches: readonly Match<Meaning>[]
  /** What phrases say of one question alone, by its id; what they say of any stands under ''. */
  byQuestion: ReadonlyMap<string, readonly Match<Meaning>[]>
}

/** A line taken apart. */
export type Line = {
  text: string
  tokens: readonly Token[]
  views: readonly View[]
  /** The first view with what it says is no longer so: "instead of the 60 W". */
  whole: View
  /** Numbers that were taken back in the same breath. */
  takenBack: ReadonlySet<Piece>
  said(piece: Piece): string
}

/** More pieces than any question takes; further ones are left aside, so that the work stays bounded. */
const MOST_PIECES = 240

const questionOf = ({ value }: Match<Meaning>): string => ('question' in value && value.question) || ''

function groupedByQuestion(matches: readonly Match<Meaning>[]): Map<string, Match<Meaning>[]> {
  const groups = new Map<string, Match<Meaning>[]>()
  for (const match of matches) {
    const group = groups.get(questionOf(match))
    if (group) group.push(match)
    else groups.set(questionOf(match), [match])
  }
  return groups
}

/** What phrases say of a question: its own, and those that hold for every question. */
export const matchesFor = (view: View, question: string): Match<Meaning>[] => [
  ...(view.byQuestion.get(question) ?? []),
  ...(view.byQuestion.get('') ?? []),
]

/** A view of these items, with the phrases that are in them. */
export function viewOfItems(items: readonly Item[]): View {
  const pieces = items.flatMap((item) => (item.kind === 'piece' ? [item.piece] : []))
  const matches = book.matches(items)
  return { pieces, items, matches, byQuestion: groupedByQuestion(matches) }
}

const viewOf = (tokens: readonly Token[], pieces: readonly Piece[]): View =>
  viewOfItems(itemsOf(tokens, pieces))

/** Degrees of no named scale are Celsius where lengths are in metres; elsewhere they stay open. */
function inOneScale(pieces: readonly Piece[]): readonly Piece[] {
  const units = pieces.flatMap((piece) => piece.readings.map(({ typed }) => typed.split(' ').pop() ?? ''))
  const metric = units.some((unit) => ['m', 'cm', 'mm', 'W/m', 'lm/m'].includes(unit))
  const us = units.some((unit) => ['ft', 'in', 'yd', 'W/ft', 'lm/ft'].includes(unit))
  if (!metric || us) return pieces
  return pieces.map((piece) => {
    const [reading] = piece.readings
    return reading?.dimension === 'degrees' ? { ...piece, readings: [inCelsius(reading.value)] } : piece
  })
}

/** Takes a line apart: characters, words, numbers, lists, and the phrases that are in it. */
export function readLine(text: string): Line {
  const plain = plainCharacters(text)
  const tokens = inOneWord(spelling.correct(tokensOf(plain)))
  const atoms = inOneScale(
    withRanges(tokens, withUnitsOfReplaced(tokens, piecesOf(tokens))).slice(0, MOST_PIECES),
  )
  const back = takenBack(tokens, atoms)
  const counted = withCounts(
    tokens,
    atoms.filter((piece) => !back.has(piece)),
  )
  const listed = withLists(tokens, counted)
  const grouped = withCountedLists(tokens, withNounCounts(tokens, listed))
  const single = withNounCounts(tokens, apart(listed))
  const seen = [
    grouped,
    ...(grouped.some((piece) => piece.members && piece.kind !== 'range') ? [single] : []),
  ]
  const wholes = seen.map((pieces) => viewOf(tokens, pieces))
  const views = wholes.map((view) => without(view, setAside(view.items, false)))
  const [whole = viewOf(tokens, []), first = whole] = [wholes[0], views[0]]
  const gone = whole.pieces.filter((piece) => !first.pieces.includes(piece))
  return {
    text: plain,
    tokens,
    views,
    whole,
    takenBack: new Set([...back, ...gone]),
    said: (piece) => saidBetween(plain, tokens, piece.from, piece.to),
  }
}
