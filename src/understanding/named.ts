import { roleWords } from './book'
import type { Piece } from './pieces'
import { readingFor } from './raw'
import { rolesFor } from './roles'
import type { QuestionShape } from './shape'
import type { View } from './view'
import { listed } from './vocabulary'
import { canonicalWords } from './words'

const CLAUSE_ENDS = listed('clauseEnds')

type Clause = { pieces: Piece[]; words: string[] }

/** The clauses of a line: what stands between its stops, its commas, and words like "and". */
function clausesOf(view: View): Clause[] {
  const clauses: Clause[] = [{ pieces: [], words: [] }]
  for (const item of view.items) {
    const clause = clauses[clauses.length - 1] as Clause
    if (item.kind === 'stop' || item.kind === 'comma' || (item.kind === 'word' && CLAUSE_ENDS.has(item.text)))
      clauses.push({ pieces: [], words: [] })
    else if (item.kind === 'word') clause.words.push(item.text)
    else {
      clause.pieces.push(item.piece)
      clause.words.push('')
    }
  }
  return clauses
}

const names = new WeakMap<QuestionShape, [id: string, name: string[]][]>()

/** What the inputs of a question that measure something are called. */
function namesOf(shape: QuestionShape): [id: string, name: string[]][] {
  const known = names.get(shape)
  if (known) return known
  const made = rolesFor(shape).flatMap(({ id, field }) =>
    field === undefined
      ? []
      : roleWords(shape.id, 'fields', id)
          .flatMap((words) => words.names)
          .map((name): [string, string[]] => [id, canonicalWords(name)]),
  )
  names.set(shape, made)
  return made
}

const saysName = (words: readonly string[], name: readonly string[]): boolean =>
  words.some((_, at) =>
    name.every((part, index) => words[at + index] === part || words[at + index] === `${part}s`),
  )

/**
 * A quantity that stands alone in its clause is what the clause names, wherever the name stands in it: "the SPOOLS I
 * can get are 100 m". Only where one input of its kind is named; of two, neither.
 *
 * @param unitOf the units of the inputs before: a number without one is in that of the input that is named
 */
export function namedAlone(
  shape: QuestionShape,
  view: View,
  unitOf: ReadonlyMap<string, string> = new Map(),
): Map<Piece, string> {
  const found = new Map<Piece, string>()
  for (const { pieces, words } of clausesOf(view)) {
    const [piece, ...more] = pieces.filter(({ kind }) => kind !== 'label')
    if (piece === undefined || more.length > 0 || piece.members) continue
    const fitting = namesOf(shape).filter(([id, name]) => {
      const field = shape.inputs[id]?.field
      const inner = field?.item ?? field
      const unit = piece.bare === undefined ? undefined : unitOf.get(id)
      return inner !== undefined && readingFor(inner, piece, unit) !== undefined && saysName(words, name)
    })
    const longest = Math.max(...fitting.map(([, name]) => name.length))
    const ids = new Set(fitting.filter(([, name]) => name.length === longest).map(([id]) => id))
    const [id] = ids
    if (ids.size === 1 && id !== undefined) found.set(piece, id)
  }
  return found
}
