import { askings } from './asking'
import { stem } from './evidence'
import type { Piece } from './pieces'
import { rolesFor } from './roles'
import type { QuestionShape } from './shape'
import { endsSentence, type View, wordAt } from './view'
import { listed } from './vocabulary'
import { plainWords } from './words'

const COMMON = listed('commonWords')
const EVERYWHERE = listed('everywhereWords')

const telling = (phrase: string): string[] =>
  plainWords(phrase.toLowerCase()).filter(
    (word) => word.length > 2 && !COMMON.has(word) && !EVERYWHERE.has(word),
  )

const known = new WeakMap<QuestionShape, ReadonlyMap<string, ReadonlySet<string>>>()

/** The words that each figure of a question goes by: of its label and of what people call it. */
function wordsOf(shape: QuestionShape): ReadonlyMap<string, ReadonlySet<string>> {
  const made =
    known.get(shape) ??
    new Map(
      rolesFor(shape)
        .filter(({ part }) => part === 'figures')
        .map(({ id, words }) => {
          const label = askings[shape.id]?.figures[id] ?? ''
          const sayings = [label, ...words.flatMap(({ names, called }) => [...names, ...called])]
          return [id, new Set(sayings.flatMap(telling).map(stem))] as const
        }),
    )
  known.set(shape, made)
  return made
}

/** The words of the sentence that a quantity stands in. */
function sentenceOf(view: View, piece: Piece): Set<string> {
  const at = view.items.findIndex((item) => item.kind === 'piece' && item.piece === piece)
  const words = new Set<string>()
  for (const step of [-1, 1])
    for (let place = at + step; !endsSentence(view, place); place += step) {
      const word = wordAt(view, place)
      if (word) words.add(stem(word))
    }
  return words
}

/**
 * The figure that the words around a claimed quantity speak of, among those of its kind: "the RAILS waste 5 W" of what
 * is lost in the rails. Undefined where none is named, or two as much.
 *
 * @param fitting the figures whose unit the quantity has
 */
export function figureNamed(
  shape: QuestionShape,
  view: View,
  piece: Piece,
  fitting: readonly string[],
): string | undefined {
  const figures = wordsOf(shape)
  const said = sentenceOf(view, piece)
  const scores = fitting.map((id) => {
    const words = [...(figures.get(id) ?? [])].filter((word) => said.has(word))
    const points = words.reduce(
      (sum, word) => sum + 1 / fitting.filter((other) => figures.get(other)?.has(word)).length,
      0,
    )
    return { id, points }
  })
  const [first, second] = scores.sort((one, other) => other.points - one.points)
  return first && first.points >= LEAST && first.points > (second?.points ?? 0) ? first.id : undefined
}

const LEAST = 0.5
