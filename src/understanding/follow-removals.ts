import { type CarriedList, mentionAt, namedAt, namesThing } from './follow-mentions'
import { edit, type ListEdit, PARTICLES, REMOVES, TAIL, targetAfter, WITH_PARTICLE } from './follow-targets'
import { pieceAt, type View, wordAt } from './view'
import { listed } from './vocabulary'

/** Behind "instead of", "rather than". */
function replacesAt(view: View, at: number): number | undefined {
  if (wordAt(view, at) === 'instead' && wordAt(view, at + 1) === 'of') return at + 1
  if (wordAt(view, at) === 'rather' && wordAt(view, at + 1) === 'than') return at + 1
  if (wordAt(view, at) === 'in' && wordAt(view, at + 1) === 'place' && wordAt(view, at + 2) === 'of')
    return at + 2
  return undefined
}

/** The end of a removal: "one", "out", "away" behind it belong to it. */
function tailOf(view: View, list: CarriedList, from: number): { to: number; particle: boolean } {
  let to = from
  let particle = false
  while (
    TAIL.has(wordAt(view, to)) ||
    PARTICLES.has(wordAt(view, to)) ||
    (to === from && namesThing(list, wordAt(view, to)))
  ) {
    if (PARTICLES.has(wordAt(view, to))) particle = true
    to += 1
  }
  return { to, particle }
}

export function removalAt(lists: readonly CarriedList[], view: View, at: number): ListEdit | undefined {
  const replaced = replacesAt(view, at)
  const verb = replaced ?? at
  const word = wordAt(view, at)
  if (replaced === undefined && !REMOVES.has(word) && !WITH_PARTICLE.has(word)) return undefined
  const target = targetAfter(lists, view, verb)
  if (target === undefined) return undefined
  const tail = tailOf(view, target.list, target.to)
  const early = PARTICLES.has(wordAt(view, at + 1))
  const reallyOut = replaced !== undefined || REMOVES.has(word) || tail.particle || early
  const goesOn =
    ['to', 'by', 'for', 'with'].includes(wordAt(view, tail.to)) && pieceAt(view, tail.to + 1) !== undefined
  const from =
    ['off', 'from'].includes(wordAt(view, tail.to - 1)) &&
    ['the', 'it', 'that'].includes(wordAt(view, tail.to))
  if (!reallyOut || goesOn || from) return undefined
  const left = target.list.units.filter((_, index) => !target.indexes.includes(index))
  return edit(target.list, left, { from: at, to: tail.to }, [], replaced !== undefined)
}

const REMOVED = listed('removed')
const IS = listed('removedIs')

/** "the middle run got cancelled": what is pointed at, and behind it that it went. */
export function removedAt(lists: readonly CarriedList[], view: View, at: number): ListEdit | undefined {
  for (const list of lists) {
    const target = mentionAt(list, view, at) ?? namedAt(list, view, at)
    if (target === undefined) continue
    let to = target.to
    while (IS.has(wordAt(view, to))) to += 1
    if (to === target.to || !REMOVED.has(wordAt(view, to))) continue
    const left = list.units.filter((_, index) => !target.indexes.includes(index))
    return edit(list, left, { from: at, to: to + 1 }, [])
  }
  return undefined
}
