import { phraseBook } from './book'
import { plainCharacters } from './characters'
import { withCountedLists } from './counted-lists'
import { withCounts, withNounCounts } from './counts'
import { itemsOf } from './items'
import { piecesOf } from './lexer'
import { apart, withLists } from './lists'
import { type Piece, saidBetween } from './pieces'
import { inCelsius } from './quantities'
import { takenBack, withRanges, withUnitsOfReplaced } from './ranges'
import { setAside } from './set-aside'
import { type Token, tokensOf } from './tokens'
import { type View, viewOfItems } from './view'
import { without } from './view-edit'
import { inOneWord } from './words'

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
  const tokens = inOneWord(phraseBook().spelling.correct(tokensOf(plain)))
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
  const views = wholes.map((view) => without(view, setAside(view, false)))
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
