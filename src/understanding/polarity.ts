import { breaksOff, type View, wordAt } from './view'
import type { Stretch } from './view-edit'
import { listed } from './vocabulary'

const DENIALS = listed('denials')
const CLAUSE_ENDS = listed('clauseEnds')
const OPENS = listed('openClauses')

/** How far from what it denies a "no" may stand. */
const FARTHEST = 7

export type Polarity = 'yes' | 'no' | 'open'

const endsClause = (view: View, at: number): boolean =>
  breaksOff(view, at) || CLAUSE_ENDS.has(wordAt(view, at))

/** The words of the clause that a stretch stands in, that stretch left out. */
function clauseAround(view: View, from: number, to: number): number[] {
  const around: number[] = []
  for (let at = from - 1; at >= from - FARTHEST && !endsClause(view, at); at--) around.push(at)
  for (let at = to; at < to + FARTHEST && !endsClause(view, at); at++) around.push(at)
  return around
}

/**
 * Whether the clause around a stretch of the line says yes or no to it: "nothing ELECTRONIC", "hasn't got any CLAMPS".
 * Denials that another phrase has read count for that one. Two of them, or a doubt ("if it is"), leave it open.
 *
 * @param read phrases that have read what they cover
 */
export function polarityOf(view: View, from: number, to: number, read: readonly Stretch[]): Polarity {
  const around = clauseAround(view, from, to)
  if (around.some((at) => OPENS.has(wordAt(view, at)))) return 'open'
  const denials = around.filter(
    (at) => DENIALS.has(wordAt(view, at)) && !read.some((match) => match.from <= at && at < match.to),
  )
  return denials.length === 0 ? 'yes' : denials.length === 1 ? 'no' : 'open'
}
