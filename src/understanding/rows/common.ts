import type { Built } from '../interpret'
import type { Item } from '../items'
import type { Line } from '../line'
import type { Piece, Reading } from '../pieces'
import type { Raw } from '../raw'
import type { Given } from '../reading'
import { pieceAt, type View, wordAt } from '../view'

export const nothing = (): Built => ({ given: new Map(), unclear: [] })

/** An input made of several pieces, said from the first to the last of them. */
export function givenBy(line: Line, raw: Raw, pieces: readonly Piece[], words = ''): Given {
  const sorted = [...pieces].sort((a, b) => a.from - b.from)
  const first = sorted[0]
  const last = sorted[sorted.length - 1]
  const said =
    first && last
      ? line.text.slice(line.tokens[first.from]?.start ?? 0, line.tokens[last.to - 1]?.end ?? 0)
      : words
  return { raw, said, pieces }
}

export const reading = (piece: Piece | undefined, dimension: Reading['dimension']): Reading | undefined =>
  piece?.readings.find((each) => each.dimension === dimension)

/** The places of the items that are pieces, in order. */
export const placesOf = (view: View, free: ReadonlySet<Piece>): { at: number; piece: Piece }[] =>
  view.items.flatMap((item: Item, at) =>
    item.kind === 'piece' && free.has(item.piece) ? [{ at, piece: item.piece }] : [],
  )

/** Whether a run of words stands at an item. */
export const wordsAt = (view: View, at: number, words: readonly string[]): boolean =>
  words.every((word, index) => wordAt(view, at + index) === word)

/** The piece that phrases give most plainly to each of these inputs of the question. */
export function cuedFor(
  view: View,
  question: string,
  fields: readonly string[],
  least: number,
  dimension?: Reading['dimension'],
): Set<Piece> {
  const best = new Map<string, { piece: Piece; points: number }>()
  for (const { value, subject } of view.matches) {
    if (value.kind !== 'role' || value.part !== 'fields' || value.points < least) continue
    if (value.question !== undefined && value.question !== question) continue
    const piece = subject === undefined ? undefined : pieceAt(view, subject)
    if (!piece || piece.members || !fields.includes(value.id) || (dimension && !reading(piece, dimension)))
      continue
    if (value.points > (best.get(value.id)?.points ?? 0)) best.set(value.id, { piece, points: value.points })
  }
  return new Set([...best.values()].map(({ piece }) => piece))
}
