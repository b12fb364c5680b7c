import type { Item } from './items'
import { breaksOff, type Items, pieceAt, wordAt } from './view'
import type { Stretch } from './view-edit'
import { listed } from './vocabulary'

const GOES_ON = listed('afterNot')
const ARTICLES = listed('articles')
const KINDS = listed('kindsOf')

/** How many words behind "instead of" a number may stand. */
const FARTHEST = 4

/** "instead of", "rather than", "in place of": the item after them. */
export function insteadAt(view: Items, at: number): number | undefined {
  const words = [0, 1, 2].map((ahead) => wordAt(view, at + ahead)).join(' ')
  if (/^(?:instead of|rather than)\b/.test(words)) return at + 2
  return /^(?:in place of|as opposed to)$/.test(words) ? at + 3 : undefined
}

/** Up to the first number behind, or as far as the clause goes. */
function untilNumber(view: Items, from: number): number {
  let at = from
  for (; at <= from + FARTHEST; at++) {
    if (breaksOff(view, at)) return at
    if (pieceAt(view, at)) return at + 1
  }
  return at
}

/** "not 60 watts but 80", "not a lump of 60 watts, it's 18 ft", "not the flexible sort". */
function denied(view: Items, at: number): number | undefined {
  if (wordAt(view, at) !== 'not') return undefined
  const [first, second, third] = [1, 2, 3].map((ahead) => wordAt(view, at + ahead))
  if (['the', 'a', 'an'].includes(first ?? '') && second && KINDS.has(third ?? '')) return at + 4
  for (let next = at + 1; next <= at + 4; next++) {
    const item = view.items[next]
    if (item?.kind === 'word' && (ARTICLES.has(item.text) || item.text === 'lump' || item.text === 'flat'))
      continue
    if (item?.kind !== 'piece') return undefined
    const behind = view.items[next + 1]
    const goesOn = behind?.kind === 'comma' ? next + 2 : next + 1
    return GOES_ON.has(wordAt(view, goesOn)) ? next + 1 : undefined
  }
  return undefined
}

/** What two pieces must share for one to deny the other. */
const kindOf = (item: Item | undefined): string | undefined =>
  item?.kind !== 'piece' || item.piece.kind === 'label'
    ? undefined
    : item.piece.kind === 'quantity'
      ? (item.piece.readings[0]?.dimension ?? 'number')
      : item.piece.kind

/** "14/2 not 12/2", "6.2 A, not 4.8 A", "three drivers, not two": the same kind of thing was said just before. */
function deniedAfter(view: Items, at: number): number | undefined {
  if (wordAt(view, at) !== 'not') return undefined
  const article = ['a', 'an', 'the'].includes(wordAt(view, at + 1)) ? 1 : 0
  const kind = kindOf(view.items[at + 1 + article])
  if (kind === undefined) return undefined
  const before = view.items.slice(Math.max(0, at - 5), at).map(kindOf)
  return before.includes(kind) ? at + 2 + article : undefined
}

/** The stretches of a line that say what is no longer so, or never was: "instead of 12 V", "not 60 W but 80". */
export function setAside(view: Items, goesOn: boolean): Stretch[] {
  const out: Stretch[] = []
  for (let at = 0; at < view.items.length; at++) {
    const behind = insteadAt(view, at)
    const to = behind === undefined ? (denied(view, at) ?? deniedAfter(view, at)) : untilNumber(view, behind)
    // In a line that follows no other the words say what it is about: "a switch instead of a dimmer".
    const mere = behind !== undefined && !view.items.slice(at, to).some(({ kind }) => kind === 'piece')
    if (to === undefined || (mere && !goesOn)) continue
    out.push({ from: at, to })
    at = to - 1
  }
  return out
}
