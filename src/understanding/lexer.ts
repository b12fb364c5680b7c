import { boxAt, cableAt, lumberAt } from './codes'
import { labelAt } from './labels'
import { emptyPiece, type Piece, readingIn } from './pieces'
import { quantityAt } from './quantities'
import type { Token } from './tokens'
import { listed, numberWords } from './vocabulary'

type Tokens = readonly Token[]

const textAt = (tokens: Tokens, at: number): string => tokens[at]?.text ?? ''

/** "a pair of", "two dozen"; "single" and its like only right before a number. */
function countWordAt(tokens: Tokens, at: number): Piece | undefined {
  const article = ['a', 'the'].includes(textAt(tokens, at)) ? 1 : 0
  const word = textAt(tokens, at + article)
  const count = numberWords.counts.get(word)
  if (count === undefined || tokens[at + article]?.kind !== 'word') return undefined
  const end = at + article + 1
  const to = textAt(tokens, end) === 'of' ? end + 1 : end
  const needsNumber = ['single', 'double', 'twin', 'triple', 'couple', 'pair'].includes(word)
  const number = countedThing(tokens, to)
  // "one flat twin 9.5 mm wide" is one cable.
  if (word === 'twin' && ['flat', 'round', 'one'].includes(textAt(tokens, at - 1))) return undefined
  if (needsNumber && !number) return undefined
  return { ...emptyPiece('quantity', at, to), bare: count, plain: false }
}

const ADJECTIVES = listed('countedAdjectives')

const countedThing = (tokens: Tokens, at: number): boolean =>
  ((ADJECTIVES.has(textAt(tokens, at)) || textAt(tokens, at) === 'flat') && countedThing(tokens, at + 1)) ||
  (cableAt(tokens, at) ?? quantityAt(tokens, at)) !== undefined ||
  [
    'driver',
    'dimmer',
    'cable',
    'receptacle',
    'switch',
    'hole',
    'wire',
    'run',
    'roll',
    'leg',
    'device',
    'reel',
    'opening',
    'window',
    'shelf',
    'shelves',
  ].includes(textAt(tokens, at).replace(/(?<=[^s])s$/, ''))

/** "two 60s", "two sixties": a plural number word. */
function pluralAt(tokens: Tokens, at: number): Piece | undefined {
  const value = tokens[at]?.kind === 'word' ? numberWords.plurals.get(textAt(tokens, at)) : undefined
  if (value === undefined || value < 10) return undefined
  return { ...emptyPiece('quantity', at, at + 1), bare: value, plain: true, plural: true }
}

/** "60s", "16s". */
function withPluralEnding(tokens: Tokens, piece: Piece): Piece {
  const end = tokens[piece.to]
  const plural =
    (piece.bare !== undefined || piece.kind === 'cable') &&
    end?.kind === 'word' &&
    ['s', 'er', 'ers'].includes(end.text) &&
    end.glued
  return plural ? { ...piece, to: piece.to + 1, plural: true } : piece
}

/** "half" by itself is no number: "half that length". */
const isLonePart = (tokens: Tokens, piece: Piece): boolean =>
  piece.bare !== undefined && piece.to === piece.from + 1 && numberWords.parts.has(textAt(tokens, piece.from))

function pieceAt(tokens: Tokens, at: number): Piece | undefined {
  const special = labelAt(tokens, at) ?? cableAt(tokens, at) ?? lumberAt(tokens, at) ?? boxAt(tokens, at)
  if (special) return special.kind === 'cable' ? withPluralEnding(tokens, special) : special
  const quantity = quantityAt(tokens, at)
  if (quantity && isLonePart(tokens, quantity)) return undefined
  if (quantity) return withPluralEnding(tokens, quantity)
  return countWordAt(tokens, at) ?? pluralAt(tokens, at)
}

/** Numbers like "one" that only point: "the second one", "one of them", "that one". */
function isPronoun(tokens: Tokens, piece: Piece): boolean {
  if (textAt(tokens, piece.from) !== 'one' || piece.bare !== 1 || piece.to !== piece.from + 1) return false
  const before = textAt(tokens, piece.from - 1)
  const after = textAt(tokens, piece.to)
  // "four of thirty and one of sixty" counts.
  if (after === 'of' && quantityAt(tokens, piece.to + 1) !== undefined) return false
  return (
    [
      'this',
      'that',
      'which',
      'second',
      'third',
      'first',
      'last',
      'new',
      'old',
      'same',
      'other',
      'another',
      'the',
      'big',
      'bigger',
      'smaller',
      'single',
      'each',
      'every',
      'any',
      'next',
      'a',
      'watt',
      'volt',
      'amp',
      'no',
      'far',
      'near',
      'left',
      'right',
      'middle',
      'longer',
      'shorter',
      'longest',
      'shortest',
    ].includes(before) ||
    (['of', 'more', 'less', 'another', 'at', 'to', 'side', 'off', 'is', 'way', 'another'].includes(after) &&
      after !== 'more')
  )
}

/** Every number, quantity, cable, board, box and label in the line, in order, none overlapping. */
export function piecesOf(tokens: Tokens): Piece[] {
  const pieces: Piece[] = []
  for (let at = 0; at < tokens.length; ) {
    const piece = pieceAt(tokens, at)
    if (piece === undefined || piece.to <= at) {
      at += 1
      continue
    }
    if (!isPronoun(tokens, piece)) pieces.push(piece)
    at = piece.to
  }
  return pieces
}

/** Whether a piece has a unit. */
export const hasUnit = (piece: Piece): boolean => piece.readings.length > 0

/** Whether two pieces measure the same kind of thing. */
export const alike = (one: Piece, other: Piece): boolean =>
  one.kind === other.kind && one.readings.some((reading) => readingIn(other, reading.dimension) !== undefined)
