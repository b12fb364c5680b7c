import { askings } from './asking'
import type { Kind, Piece } from './pieces'
import type { View } from './view'

/** The kinds of quantity that a line holds, each member of a list counted for itself. */
function kindsIn(pieces: readonly Piece[]): ReadonlySet<string> {
  const kinds = new Set<Kind>()
  for (const piece of pieces) {
    for (const each of piece.members ?? [piece]) {
      for (const { dimension } of each.readings) kinds.add(dimension)
    }
  }
  return kinds
}

/** Whether one of `a|b` is there. */
const holdsOne = (kinds: ReadonlySet<string>, either: string): boolean =>
  either.split('|').some((kind) => kinds.has(kind))

/**
 * The points of each sign of a question that the line shows: quantities that are there together, and words that
 * stand anywhere beside them. They let a line speak whose wording nobody foresaw.
 */
export function signPoints(question: string, view: View): number[] {
  const signs = askings[question]?.asking.signs ?? []
  if (signs.length === 0) return []
  const kinds = kindsIn(view.pieces)
  const said = new Set<number>()
  const spared = new Set<number>()
  for (const { value } of view.byQuestion.get(question) ?? []) {
    if (value.kind === 'sign') (value.unless ? spared : said).add(value.sign)
  }
  return signs.flatMap(({ points, has, lacks, said: phrases }, sign) => {
    if (spared.has(sign) || (phrases.length > 0 && !said.has(sign))) return []
    const shown =
      has.every((either) => holdsOne(kinds, either)) && !lacks.some((either) => holdsOne(kinds, either))
    return shown ? [points] : []
  })
}
