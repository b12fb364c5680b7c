import { phraseBook } from './book'
import { ASKED_OUTRIGHT, bestView, lacks, outOfReach } from './decide'
import { carriedOf, type Following } from './follow'
import type { Line } from './line'
import { missingOf } from './needs'
import type { Interpretation } from './reading'
import type { QuestionShape } from './shape'
import { listed } from './vocabulary'

/** So many quantities make a whole question of a line, whatever else it talks of. */
const WHOLE = 3

/** Whether a line asks a whole question by itself; what the question before has no input for tells as much as a quantity. */
export const isWhole = (reading: Interpretation, before?: QuestionShape): boolean =>
  lacks(reading) === 0 &&
  reading.unclear.length === 0 &&
  piecesUsed(reading) + (before ? choicesUnknownTo(reading, before) : 0) >= WHOLE

const choicesUnknownTo = ({ given }: Interpretation, before: QuestionShape): number =>
  [...given].filter(([id, { pieces }]) => pieces.length === 0 && !Object.hasOwn(before.inputs, id)).length

/** A line that plainly asks another question leaves the one before behind. */
export function changesSubject(
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
  if (isWhole(first, before) || (tellsMuch && missing === 0 && (own === undefined || lacks(own) > 0)))
    return true
  if (own?.claim && own.left.every(({ kind }) => kind === 'label') && !WHAT.test(line.text)) return false
  if (strange && used >= 1 && !takesAll() && (first.ask >= ASKED_OUTRIGHT || missing === 0)) return true
  if (!tellsMuch && !asksSomething(line) && missing > 0) return false
  if (first.ask - Math.max(0, own?.ask ?? 0) < 2) return false
  return first.plainest >= ASKED_OUTRIGHT || (first.ask >= 5 && missing === 0) || (tellsMuch && missing <= 1)
}

/** Whether the question before has a use by name for every quantity of a line that asks nothing. */
export function goesOn(shape: QuestionShape, before: Following, line: Line): boolean {
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
      !VERBS.has(token.text) || before === undefined || before.kind === 'mark' || OPENERS.has(before.text)
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
/** Words that a clause may begin with before its verb. */
const OPENERS = listed('openers')

/** Thanks, talk and signs that are no words: a line of which nothing speaks of this job at all. */
export function isNoFollowUp(line: Line, reading: Interpretation): boolean {
  if (reading.unclear.length > 0 || line.whole.matches.some(({ value }) => value.kind === 'scale'))
    return false
  if (outOfReach(line).soft) return true
  const words = line.tokens.filter(({ kind }) => kind === 'word')
  return words.length > 0 && words.every(({ text }) => !phraseBook().tradeWords.has(text))
}

/** "would 500 watts be too much", after a question that has no use for watts: another question, whichever it is. */
export const asksOther = (line: Line, { unclear, left }: Interpretation): boolean =>
  unclear.length === 0 &&
  left.some(({ readings }) => readings.length > 0) &&
  asksSomething(line) &&
  !line.whole.matches.some(({ value }) => value.kind === 'scale' || value.kind === 'follow')
