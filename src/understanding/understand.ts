import { questions } from '../questions/registry'
import { roleWords, tradeWords } from './book'
import {
  ASKED_OUTRIGHT,
  bestView,
  clearlyAsked,
  lacks,
  outOfReach,
  PLAINLY_ASKED,
  ranked,
  settledByWords,
} from './decide'
import { doubtsOf } from './doubts'
import { carriedOf, changesOf, editsIn, type Following } from './follow'
import type { Change } from './follow-change'
import type { ListEdit } from './follow-edits'
import { type Exchange, exchangesIn } from './follow-scalars'
import { type Line, readLine } from './line'
import { unitSaid } from './list-units'
import { missingOf, superfluous } from './needs'
import type { Raw } from './raw'
import type { ClaimGiven, Interpretation } from './reading'
import { choose, type Draft, type Explanation, finish, type Understood, unreachable } from './reply'
import { rivalsOf } from './rivals'
import { setAside } from './set-aside'
import type { Catalogue, QuestionShape } from './shape'
import { isVague } from './vague'
import type { View } from './view'
import { without } from './view-edit'
import { listed, vocabulary } from './vocabulary'

export type { Understood } from './reply'

export type Asked = { text: string; following?: Following | undefined; explain?: boolean | undefined }

const known: Catalogue = Object.fromEntries(questions.map((question) => [question.id, question]))

/**
 * Understands one typed or dictated line: which question it asks, with which inputs and which claim, or what to ask
 * back. Deterministic, and it never throws, whatever the text.
 *
 * @param asked the text (what lies beyond 8,000 characters is not read), and the question before it with its inputs
 *   in fixed units or as text
 * @param catalogue the questions there are
 * @example understand({ text: '40 ft, 24 V, 60 W: what gauge?' }).raw // { distance: '40 ft', voltage: '24 V', load: '60 W' }
 */
export function understand(asked: Asked, catalogue: Catalogue = known): Understood {
  const line = readLine(asked.text)
  const readings = ranked(catalogue, line)
  const understood = decide(asked, catalogue, line, readings)
  return asked.explain ? { ...understood, explanation: explain(line, readings, understood) } : understood
}

function decide(asked: Asked, catalogue: Catalogue, line: Line, readings: Interpretation[]): Understood {
  const first = clearlyAsked(readings)
  const { hard } = outOfReach(line)
  if (hard && !(vocabulary.outOfReach[hard]?.yields && first && isWhole(first)))
    return unreachable(hard, line)
  const before =
    asked.following && Object.hasOwn(catalogue, asked.following.question) ? asked.following : undefined
  const shape = before && catalogue[before.question]
  const takesAll = () => before !== undefined && shape !== undefined && goesOn(shape, before, line)
  if (before && shape && !changesSubject(line, readings, first, shape, takesAll)) {
    const followed = follow(shape, before, line, first)
    if (followed) return followed
  }
  const settled = first ?? settledByWords(catalogue, line)
  if (settled === undefined || isVague(line)) return choose(catalogue, line, readings)
  return conclude(settled, line)
}

/** So many quantities make a whole question of a line, whatever else it talks of. */
const WHOLE = 3

const isWhole = (reading: Interpretation): boolean =>
  lacks(reading) === 0 && reading.unclear.length === 0 && piecesUsed(reading) >= WHOLE

/** A line that plainly asks another question leaves the one before behind. */
function changesSubject(
  line: Line,
  readings: readonly Interpretation[],
  first: Interpretation | undefined,
  before: QuestionShape,
  takesAll: () => boolean,
): boolean {
  const anew = line.views[0]?.matches.some(({ value }) => value.kind === 'follow' && value.how === 'anew')
  if (first === undefined) return false
  const own = readings.find((reading) => reading.shape.id === before.id)
  if (first.shape.id === before.id) return anew === true && first.given.size >= 2
  if (anew) return true
  const missing = lacks(first)
  // What is whole by itself needs nothing from before, unless the question before could be whole of it too.
  const used = piecesUsed(first)
  const tellsMuch = used >= 2
  const strange = own === undefined || own.ask <= 0
  if (tellsMuch && missing === 0 && (own === undefined || lacks(own) > 0)) return true
  if (own?.claim && own.left.every(({ kind }) => kind === 'label') && !WHAT.test(line.text)) return false
  if (strange && used >= 1 && !takesAll() && (first.ask >= ASKED_OUTRIGHT || missing === 0)) return true
  if (!tellsMuch && !asksSomething(line) && missing > 0) return false
  if (first.ask - Math.max(0, own?.ask ?? 0) < 2) return false
  return first.plainest >= ASKED_OUTRIGHT || (first.ask >= 5 && missing === 0) || (tellsMuch && missing <= 1)
}

/** Whether the question before has a use by name for every quantity of a line that asks nothing. */
function goesOn(shape: QuestionShape, before: Following, line: Line): boolean {
  if (asksSomething(line)) return false
  const carried = carriedOf(shape, before.inputs)
  const setting = { has: new Set(carried.keys()), wants: new Set(missingOf(shape, carried)) }
  const { given, left, uncalled, unclear } = bestView(shape, line, setting)
  const pieces = [...given.values()].flatMap((each) => each.pieces)
  return (
    unclear.length === 0 &&
    left.every(({ kind }) => kind === 'label') &&
    pieces.length > 0 &&
    !pieces.some((piece) => uncalled.has(piece))
  )
}

/** How many quantities of the line the reading takes for inputs. */
const piecesUsed = ({ given }: Interpretation): number =>
  [...given.values()]
    .flatMap(({ pieces }) => pieces)
    .reduce((sum, { members }) => sum + (members?.length ?? 1), 0)

const QUESTIONS = listed('questionWords')
const WHAT = /\b(?:what|which|how)\b/i

/** Whether a line has the words or the mark of a question: "two dimmers" after a box is no new one. */
const asksSomething = (line: Line): boolean =>
  line.tokens.some((token, at) => {
    if (token.text === '?') return true
    if (token.kind !== 'word' || !QUESTIONS.has(token.text)) return false
    const before = line.tokens[at - 1]
    // "they are on a 20 A breaker" asks nothing, "are they?" does.
    return (
      !VERBS.has(token.text) || before === undefined || before.kind === 'mark' || !SUBJECTS.has(before.text)
    )
  })

const VERBS: ReadonlySet<string> = new Set([
  'is',
  'are',
  'do',
  'does',
  'did',
  'can',
  'could',
  'will',
  'would',
  'should',
  'may',
])
const SUBJECTS = listed('subjects')

const metricUnit = /(?:^|\s)(?:m|cm|mm)(?:\s|$|2)/
const usUnit = /(?:ft|in|yd)(?:\s|$)/

const textsOf = (raw: Raw): string[] =>
  typeof raw === 'string'
    ? [raw]
    : typeof raw === 'object'
      ? Object.values(raw).flatMap((each) => textsOf(each as Raw))
      : []

/** Settings that go with how it was said: metres, and square millimetres. */
function settle(
  raws: Map<string, Raw>,
  line: Line,
  fresh: Iterable<Raw>,
  claim: ClaimGiven | undefined,
): void {
  const texts = [...[...fresh].flatMap(textsOf), ...(claim ? [claim.raw] : [])]
  const lengths = (line.views[0]?.pieces ?? []).flatMap((piece) =>
    (piece.members ?? [piece]).flatMap((each) =>
      each.readings.some(({ dimension }) => dimension === 'size')
        ? []
        : each.readings.map(({ typed }) => typed),
    ),
  )
  const rules =
    line.views[0]?.matches.flatMap(({ value }) => (value.kind === 'rules' ? [value.rules] : [])) ?? []
  if (rules.length > 0) raws.set('rules', rules[rules.length - 1] ?? 'nec')
  else if (texts.some((text) => / mm2$/.test(text)) && !raws.has('rules')) raws.set('rules', 'iec')
  const [system] = line.whole.matches.flatMap(({ value }) => (value.kind === 'system' ? [value.system] : []))
  if (system !== undefined) raws.set('units', system)
  else if (
    lengths.some((text) => metricUnit.test(text)) &&
    !lengths.some((text) => usUnit.test(text)) &&
    !raws.has('units')
  )
    raws.set('units', 'metric')
}

/** "He says it's fine", where no figure is claimed; or a category named. */
function saidClaim(reading: Interpretation): ClaimGiven | undefined {
  if (reading.claim) return reading.claim
  const counted = countedClaim(reading)
  const said = (how: string) =>
    reading.view.matches.filter(({ value }) => value.kind === 'claim' && value.how === how)
  // The "no" of "says that's no problem" denies nothing.
  const found = (how: string) =>
    said(how).some(
      ({ to }) => how !== 'notFine' || !said('fine').some((fine) => fine.from < to && to <= fine.to),
    )
  if (!found('said') && !found('fine')) return undefined
  if (counted) return counted
  for (const { value } of reading.view.matches) {
    if (
      value.kind === 'means' &&
      value.question === reading.shape.id &&
      Object.hasOwn(reading.shape.figures, value.id)
    ) {
      return { figure: value.id, value: value.value, raw: value.value, said: '', pieces: [] }
    }
  }
  if (!found('fine') || found('notFine')) return undefined
  return { figure: 'verdict', value: 'holds', raw: 'holds', said: '', pieces: [] }
}

/** "he says one 100 ft spool is plenty" claims one spool. */
function countedClaim({ shape, given }: Interpretation): ClaimGiven | undefined {
  for (const figure of Object.keys(shape.figures)) {
    const of = roleWords(shape.id, 'figures', figure).find(({ countOf }) => countOf)?.countOf
    const piece = of === undefined ? undefined : given.get(of)?.pieces.find(({ counted }) => counted)
    if (piece) {
      const value = piece.times
      return { figure, value, unit: 'count', raw: String(value), said: '', pieces: [] }
    }
  }
  return undefined
}

/** A fresh line as its question. */
function conclude(reading: Interpretation, line: Line): Understood {
  const raws = new Map([...reading.given].map(([id, given]) => [id, given.raw]))
  const claim = saidClaim(reading)
  settle(raws, line, [...raws.values()], claim)
  const gone = superfluous(reading.shape, raws, new Set())
  const left = [...reading.left, ...gone.flatMap((id) => reading.given.get(id)?.pieces ?? [])]
  for (const id of gone) raws.delete(id)
  const rivals = [...rivalsOf(reading), ...doubtsOf(reading)]
  for (const { field } of rivals) raws.delete(field)
  const said = new Map([...reading.given].map(([id, given]) => [id, given.said]))
  const unclear = [...reading.unclear, ...rivals]
  return finish({ shape: reading.shape, raws, said, claim, left, unclear, view: reading.view }, line)
}

/** A line that goes on from the question before, or undefined where it says nothing about it. */
function follow(
  shape: QuestionShape,
  before: Following,
  line: Line,
  first: Interpretation | undefined,
): Understood | undefined {
  const carried = carriedOf(shape, before.inputs)
  const wants = new Set(missingOf(shape, carried))
  const { rest, edits, exchanges } = apartFromEdits(shape, carried, line)
  const setting = { has: new Set(carried.keys()), wants, unitOf: unitsIn(carried) }
  const reading = bestView(shape, rest, setting)
  const change = changesOf(reading, carried, line, edits)
  for (const { field, raw, pieces } of exchanges) {
    change.set.set(field, raw)
    change.said.set(field, pieces.map((piece) => line.said(piece)).join(', '))
  }
  const claim = saidClaim(reading)
  const wantsUnits = line.whole.matches.some(({ value }) => value.kind === 'system')
  const nothing = !wantsUnits && change.set.size === 0 && change.dropped.size === 0 && claim === undefined
  if (nothing && change.unclear.length === 0 && (isNoFollowUp(line, reading) || asksOther(line, reading)))
    return undefined
  if (nothing && reading.unclear.length === 0 && change.unclear.length === 0 && reading.left.length === 0) {
    if (reading.ask >= PLAINLY_ASKED && first?.shape.id !== shape.id) return undefined
    // What the same question asks without a word that it can use asks what should change.
    return first?.shape.id === shape.id && first.given.size === 0
      ? askAgain(shape, carried, line, reading)
      : stillMissing(shape, carried, line, reading)
  }
  if (nothing) return askAgain(shape, carried, line, reading)
  return finish(
    followed(shape, reading, carried, change, claim, line, new Set(edits.map(({ field }) => field))),
    line,
  )
}

/** Thanks, talk and signs that are no words: a line of which nothing speaks of this job at all. */
function isNoFollowUp(line: Line, reading: Interpretation): boolean {
  if (reading.unclear.length > 0 || line.whole.matches.some(({ value }) => value.kind === 'scale'))
    return false
  if (outOfReach(line).soft) return true
  const words = line.tokens.filter(({ kind }) => kind === 'word')
  return words.length > 0 && words.every(({ text }) => !tradeWords.has(text))
}

/** "would 500 watts be too much", after a question that has no use for watts: another question, whichever it is. */
const asksOther = (line: Line, { unclear, left }: Interpretation): boolean =>
  unclear.length === 0 &&
  left.some(({ readings }) => readings.length > 0) &&
  asksSomething(line) &&
  !line.whole.matches.some(({ value }) => value.kind === 'scale' || value.kind === 'follow')

/** The single things that a line changes, and the line without the words that did. */
function apartFromEdits(
  shape: QuestionShape,
  carried: ReadonlyMap<string, Raw>,
  line: Line,
): { rest: Line; edits: ListEdit[]; exchanges: Exchange[] } {
  const edits = editsIn(shape, carried, line)
  const exchanges = edits.length > 0 ? [] : exchangesIn(shape, carried, line.whole)
  const [first] = line.views
  const gone = [...edits, ...exchanges]
  const put = (view: View): View => without(view, [...gone, ...setAside(view.items, true)])
  const views = gone.length > 0 && first ? [put(first)] : line.views.map(put)
  return { rest: { ...line, views }, edits, exchanges }
}

/** The units in which the inputs before are given: "existing is 900" goes on in them. */
const unitsIn = (carried: ReadonlyMap<string, Raw>): ReadonlyMap<string, string> =>
  new Map(
    [...carried].flatMap(([id, raw]) => {
      const unit = unitSaid(Array.isArray(raw) ? (raw as Raw[])[0] : raw)
      return unit === undefined ? [] : [[id, unit] as const]
    }),
  )

/** Nothing in the line goes on from the question before. */
function stillMissing(
  shape: QuestionShape,
  carried: ReadonlyMap<string, Raw>,
  line: Line,
  reading: Interpretation,
): Understood | undefined {
  const goesOn = line.views[0]?.matches.some(({ value }) => value.kind === 'follow' || value.kind === 'scale')
  return goesOn ? askAgain(shape, carried, line, reading) : undefined
}

/** The question before stands, but what of it should change is not clear. */
function askAgain(
  shape: QuestionShape,
  carried: ReadonlyMap<string, Raw>,
  line: Line,
  reading: Interpretation,
): Understood {
  const fields = Object.keys(shape.inputs).filter((id) => carried.has(id) && id !== 'units' && id !== 'rules')
  const unclear =
    reading.unclear.length > 0
      ? reading.unclear
      : [{ field: missingOf(shape, carried)[0] ?? fields[0] ?? '', pieces: [] }]
  return finish(
    {
      shape,
      raws: new Map(carried),
      said: new Map(),
      claim: undefined,
      left: reading.left,
      unclear,
      view: reading.view,
    },
    line,
    true,
  )
}

function followed(
  shape: QuestionShape,
  reading: Interpretation,
  carried: ReadonlyMap<string, Raw>,
  change: Change,
  claim: ClaimGiven | undefined,
  line: Line,
  edited: ReadonlySet<string>,
): Draft {
  const raws = new Map(carried)
  for (const [id, raw] of change.set) raws.set(id, raw)
  for (const id of change.dropped) raws.delete(id)
  for (const id of superfluous(shape, raws, new Set(change.set.keys()))) raws.delete(id)
  settle(raws, line, change.set.values(), claim)
  const doubts = doubtsOf(reading).filter(({ field }) => !edited.has(field))
  for (const { field } of doubts) {
    raws.delete(field)
    change.set.delete(field)
  }
  const unclear = [
    ...reading.unclear,
    ...doubts,
    ...change.unclear.filter(Boolean).map((field) => ({ field, pieces: [] })),
  ].filter(({ field }) => !change.set.has(field) && !change.dropped.has(field))
  const changed = [
    ...new Set([
      ...change.set.keys(),
      ...change.dropped,
      ...[...carried.keys()].filter((id) => !raws.has(id)),
    ]),
  ]
  const left = reading.left.filter((piece) => !change.used.has(piece))
  return { shape, raws, said: change.said, claim, left, unclear, changed, view: reading.view }
}

function explain(line: Line, readings: readonly Interpretation[], understood: Understood): Explanation {
  const chosen = readings.find((reading) => reading.shape.id === understood.question) ?? readings[0]
  return {
    pieces: (chosen?.view.pieces ?? []).map((piece) => ({
      said: line.said(piece),
      kind: piece.kind,
      readings: piece.readings.map((reading) => `${reading.typed} (${reading.dimension})`),
    })),
    scores: readings.slice(0, 5).map((reading) => ({
      question: reading.shape.id,
      score: Number(reading.score.toFixed(2)),
      asked: Number(reading.ask.toFixed(2)),
    })),
    why: chosen?.why ?? [],
  }
}
