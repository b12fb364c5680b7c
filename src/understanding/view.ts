import { type Meaning, phraseBook } from './book'
import type { Item } from './items'
import type { Match } from './phrases'
import type { Piece } from './pieces'

/** One way of seeing the numbers of a line: lists as lists, or each number by itself. */
export type View = {
  pieces: readonly Piece[]
  items: readonly Item[]
  matches: readonly Match<Meaning>[]
  /** What phrases say of one question alone, by its id; what they say of any stands under ''. */
  byQuestion: ReadonlyMap<string, readonly Match<Meaning>[]>
}

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
  const matches = phraseBook().book.matches(items)
  return { pieces, items, matches, byQuestion: groupedByQuestion(matches) }
}

/** What stands in a line, without the phrases that are in it. */
export type Items = Pick<View, 'items'>

/** The word at an item; nothing where there is none. */
export const wordAt = ({ items }: Items, at: number): string => {
  const item = items[at]
  return item?.kind === 'word' ? item.text : ''
}

/** The quantity at an item. */
export const pieceAt = ({ items }: Items, at: number): Piece | undefined => {
  const item = items[at]
  return item?.kind === 'piece' ? item.piece : undefined
}

/** Whether a sentence is over at an item. */
export const endsSentence = ({ items }: Items, at: number): boolean => {
  const item = items[at]
  return item === undefined || item.kind === 'stop'
}

/** Whether what is said is over at an item, or a comma divides it there. */
export const breaksOff = (view: Items, at: number): boolean =>
  endsSentence(view, at) || view.items[at]?.kind === 'comma'
