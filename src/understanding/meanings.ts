import { type Meaning, roleWords } from './book'
import type { QuestionShape } from './shape'
import { matchesFor, type View } from './view'
import { listed } from './vocabulary'

const NEGATIONS = listed('negations')

/** How much a phrase says: its length; "no clamps" outweighs "clamps in it". */
const weight = (view: View, { from, to }: { from: number; to: number }): number => {
  const first = view.items[from]
  return to - from + (first?.kind === 'word' && NEGATIONS.has(first.text) ? 10 : 0)
}

/** "joins never": a yes with an unread negation beside it is neither yes nor no. */
const turnedRound = (view: View, { value, from, to }: { value: string; from: number; to: number }): boolean =>
  value === 'true' &&
  [from - 1, to].some((at) => {
    const item = view.items[at]
    return item?.kind === 'word' && NEGATIONS.has(item.text)
  })

const SWAPS = listed('swaps')

/** "swap the opal for frosted", "from opal to frosted": the first is what was. */
function isOld(view: View, { from, to }: { from: number; to: number }): boolean {
  const word = (at: number) => {
    const item = view.items[at]
    return item?.kind === 'word' ? item.text : ''
  }
  const joined =
    ['for', 'to', 'with', 'by', 'into'].includes(word(to)) || ['for', 'to', 'with'].includes(word(to + 1))
  return joined && [1, 2, 3].some((back) => SWAPS.has(word(from - back)) || word(from - back) === 'from')
}

const LEAP = 5

/** Choices, yes and no, and counts without a number, by the phrase that says most. */
export function meaningsOf(
  shape: QuestionShape,
  view: View,
): { given: Map<string, { value: string; from: number; to: number }>; unclear: string[] } {
  type Found = Extract<Meaning, { kind: 'means' }> & { from: number; to: number; loose: number }
  const byField = new Map<string, Found[]>()
  for (const { value, from, to, loose } of matchesFor(view, shape.id)) {
    if (value.kind !== 'means' || (value.question !== undefined && value.question !== shape.id)) continue
    if (!(value.id in shape.inputs)) continue
    byField.set(value.id, [...(byField.get(value.id) ?? []), { ...value, from, to, loose }])
  }
  const close = [...byField.values()].flat().filter(({ loose }) => loose === 0)
  const given = new Map<string, { value: string; from: number; to: number }>()
  const unclear: string[] = []
  for (const [id, all] of byField) {
    // "two drivers, trailing edge dimmer": words that stand by another input are not leapt to.
    const found = all.filter(
      (each) =>
        each.loose < LEAP ||
        !close.some((other) => other.id !== id && other.from < each.to && other.to >= each.to),
    )
    const longest = [...found].sort((a, b) => weight(view, b) - weight(view, a) || b.words - a.words)
    const kept: Found[] = []
    for (const each of longest) {
      if (!kept.some((other) => each.from < other.to && other.from < each.to)) kept.push(each)
    }
    const now = kept.filter((each) => !isOld(view, each))
    if (now.length > 0) kept.splice(0, kept.length, ...now)
    const [first] = kept
    if (first === undefined) continue
    if (kept.some((each) => turnedRound(view, each))) {
      unclear.push(id)
      continue
    }
    const last = kept.reduce((a, b) => (b.from > a.from ? b : a))
    const usual = roleWords(shape.id, 'fields', id).find((words) => words.usual !== undefined)?.usual
    const telling = kept.filter((each) => each.value !== usual)
    const [only] = telling
    if (only && telling.length < kept.length && telling.every((each) => each.value === only.value))
      given.set(id, only)
    else if (kept.every((each) => each.value === first.value)) given.set(id, last)
    else unclear.push(id)
  }
  return { given, unclear }
}
