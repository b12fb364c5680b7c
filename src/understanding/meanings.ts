import { type Meaning, roleWords } from './book'
import { polarityOf } from './polarity'
import type { QuestionShape } from './shape'
import { matchesFor, type View, wordAt } from './view'
import { listed } from './vocabulary'

const NEGATIONS = listed('negations')

/** How much a phrase says: its length; "no clamps" outweighs "clamps in it". */
const weight = (view: View, { from, to }: { from: number; to: number }): number => {
  const first = view.items[from]
  return to - from + (first?.kind === 'word' && NEGATIONS.has(first.text) ? 10 : 0)
}

type Said = Extract<Meaning, { kind: 'means' }> & { from: number; to: number; loose: number }

/** "none of it is CONTINUOUS": a yes that its clause denies is a no; undefined where the clause leaves it open. */
function denied(view: View, said: Said, read: readonly Said[]): Said | undefined {
  if (said.value !== 'true') return said
  const polarity = polarityOf(
    view,
    said.from,
    said.to,
    read.filter((other) => other !== said),
  )
  return polarity === 'open' ? undefined : polarity === 'no' ? { ...said, value: 'false' } : said
}

/** What the line speaks of without a word that says which: "the studs are DOUBLED up by the way". */
function unread(
  shape: QuestionShape,
  view: View,
  given: ReadonlyMap<string, unknown>,
): { given: Map<string, { value: string; from: number; to: number }>; unclear: string[] } {
  const found = new Map<string, { value: string; from: number; to: number }>()
  const unclear: string[] = []
  const matches = matchesFor(view, shape.id)
  const read = matches.filter(
    ({ value, loose }) =>
      value.kind === 'means' || (value.kind === 'role' && value.points >= PLAIN && loose === 0),
  )
  for (const { value, from, to } of matches) {
    if (value.kind !== 'about' || (value.question !== undefined && value.question !== shape.id)) continue
    const { id } = value
    if (!(id in shape.inputs) || given.has(id) || found.has(id) || unclear.includes(id)) continue
    if (read.some((other) => other.from < to && from < other.to)) continue
    const polarity = shape.inputs[id]?.field.kind === 'yes-no' ? polarityOf(view, from, to, read) : 'open'
    if (polarity === 'open') unclear.push(id)
    else found.set(id, { value: polarity === 'yes' ? 'true' : 'false', from, to })
  }
  return { given: found, unclear }
}

const SWAPS = listed('swaps')

/** "swap the opal for frosted", "from opal to frosted": the first is what was. */
function isOld(view: View, { from, to }: { from: number; to: number }): boolean {
  const word = (at: number) => wordAt(view, at)
  const joined =
    ['for', 'to', 'with', 'by', 'into'].includes(word(to)) || ['for', 'to', 'with'].includes(word(to + 1))
  return joined && [1, 2, 3].some((back) => SWAPS.has(word(from - back)) || word(from - back) === 'from')
}

/** "solid, not STRANDED": the other holds. */
function isDeniedChoice(view: View, { from, value }: Said): boolean {
  const word = (at: number) => wordAt(view, at)
  const instead = ['instead of', 'rather than'].includes(`${word(from - 2)} ${word(from - 1)}`)
  return value !== 'true' && value !== 'false' && (instead || word(from - 1) === 'not')
}

const LEAP = 5

/** Whether a phrase leaps over what stands together for another input, or to it. */
function isLeapt({ from, to, loose }: Said, other: Said): boolean {
  if (loose === 0 || other.from >= to) return false
  const over = other.from > from && other.to < to && loose > 1
  return over || (loose >= LEAP ? other.to >= to : other.to > to)
}
/** A phrase that says so much of a quantity has read its words. */
const PLAIN = 4

/** Choices, yes and no, and counts without a number, by the phrase that says most. */
export function meaningsOf(
  shape: QuestionShape,
  view: View,
): { given: Map<string, { value: string; from: number; to: number }>; unclear: string[] } {
  const byField = new Map<string, Said[]>()
  for (const { value, from, to, loose } of matchesFor(view, shape.id)) {
    if (value.kind !== 'means' || (value.question !== undefined && value.question !== shape.id)) continue
    if (!(value.id in shape.inputs)) continue
    byField.set(value.id, [...(byField.get(value.id) ?? []), { ...value, from, to, loose }])
  }
  const close = [...byField.values()].flat().filter(({ loose }) => loose === 0)
  const given = new Map<string, { value: string; from: number; to: number }>()
  const unclear: string[] = []
  for (const [id, all] of byField) {
    // "two drivers, trailing edge dimmer": words that stand by another input are not leapt to, be it ever so near
    // where they go on to name that one: "dimmer with three leading edge DRIVERS".
    const found = all.filter((each) => !close.some((other) => other.id !== id && isLeapt(each, other)))
    const longest = [...found].sort((a, b) => weight(view, b) - weight(view, a) || b.words - a.words)
    const kept: Said[] = []
    for (const each of longest) {
      if (!kept.some((other) => each.from < other.to && other.from < each.to)) kept.push(each)
    }
    const now = kept.filter((each) => !isOld(view, each) && !isDeniedChoice(view, each))
    if (now.length > 0) kept.splice(0, kept.length, ...now)
    else if (kept.some((each) => isDeniedChoice(view, each))) {
      unclear.push(id)
      continue
    }
    // What stands together says more than what is leapt to.
    const tight = kept.filter(({ loose }) => loose === 0)
    if (tight.length > 0) kept.splice(0, kept.length, ...tight)
    if (kept.length === 0) continue
    if (kept.some(({ value }) => value === 'true')) {
      const turned = kept.map((each) => denied(view, each, close))
      if (turned.some((each) => each === undefined)) {
        unclear.push(id)
        continue
      }
      kept.splice(0, kept.length, ...turned.filter((each) => each !== undefined))
    }
    const last = kept.reduce((a, b) => (b.from > a.from ? b : a))
    const usual = roleWords(shape.id, 'fields', id).find((words) => words.usual !== undefined)?.usual
    const telling = kept.filter((each) => each.value !== usual)
    const [only] = telling
    if (only && telling.length < kept.length && telling.every((each) => each.value === only.value))
      given.set(id, only)
    else if (kept.every((each) => each.value === last.value)) given.set(id, last)
    else unclear.push(id)
  }
  const rest = unread(shape, view, given)
  for (const [id, said] of rest.given) given.set(id, said)
  unclear.push(...rest.unclear.filter((id) => !unclear.includes(id)))
  return { given, unclear }
}
