import { phraseBook } from './book'
import { evidenceFor } from './evidence'
import { askPoints, interpret } from './interpret'
import type { Line } from './line'
import { missingOf } from './needs'
import type { Interpretation, Setting } from './reading'
import { rowBuilders } from './rows'
import type { Catalogue, QuestionShape } from './shape'
import { gaugeNumbers } from './sizes'
import { isVague } from './vague'
import { listed, vocabulary } from './vocabulary'

/** The line taken as one question, in the view of its numbers that fits best. */
export function bestView(shape: QuestionShape, line: Line, setting: Setting): Interpretation {
  const [listed, single] = line.views.map(
    (view) => () => interpret(shape, line, view, setting, rowBuilders[shape.id]),
  )
  const whole = (listed as () => Interpretation)()
  const loose =
    whole.left.some((piece) => piece.members) ||
    whole.unclear.some(({ pieces }) => pieces.some((piece) => piece.members))
  const lists = whole.view.pieces.some((piece) => piece.members && piece.kind !== 'range')
  const apart = single && (loose || lists) ? single() : undefined
  if (apart === undefined) return whole
  if (!loose) return isPlain(apart, whole) && (needs(whole) || severalRoles(apart, whole)) ? apart : whole
  return apart.score > whole.score ? apart : whole
}

const needs = (reading: Interpretation): boolean => lacks(reading) > 0

/** How many inputs the question still needs. */
export const lacks = ({ shape, given }: Interpretation): number =>
  missingOf(shape, new Map([...given].map(([id, { raw }]) => [id, raw]))).length

/** "700 W and 300 W new": whether the members of one list are several inputs, each by a phrase of its own. */
const severalRoles = ({ given, unclear }: Interpretation, whole: Interpretation): boolean =>
  unclear.length <= whole.unclear.length &&
  whole.view.pieces.some(({ members = [] }) => {
    const roles = members.map((member) => [...given].find(([, { pieces }]) => pieces.includes(member))?.[0])
    return members.length > 1 && new Set(roles).size === members.length && !roles.includes(undefined)
  })

/** Whether phrases say what each member of a list is that is taken apart: "a 150 W dimmer and a 60 W driver". */
const isPlain = (apart: Interpretation, whole: Interpretation): boolean =>
  !needs(apart) &&
  whole.view.pieces.every((piece) =>
    (piece.members ?? []).every((member) => !apart.uncalled.has(member) && !apart.left.includes(member)),
  )

const NOTHING_BEFORE: Setting = { has: new Set(), wants: new Set() }

/** With more numbers than this, and no question in it, a line is not tried as every question. */
const MOST_TRIED = 16

/** The questions that the line asks at all; where it asks none, all that its numbers might be meant for. */
function inQuestion(catalogue: Catalogue, line: Line): QuestionShape[] {
  const [view] = line.views
  const shapes = Object.values(catalogue)
  if (view === undefined) return []
  const asked = shapes.map((shape) => askPoints(shape.id, view))
  if (asked.some((points) => points >= 2)) return shapes.filter((_, index) => (asked[index] ?? 0) > 0)
  return view.pieces.length <= MOST_TRIED ? shapes : []
}

/** The line taken as each question that it may ask, the likeliest first. */
export function ranked(catalogue: Catalogue, line: Line): Interpretation[] {
  return inQuestion(catalogue, line)
    .map((shape) => bestView(shape, line, NOTHING_BEFORE))
    .sort((a, b) => b.score - a.score)
}

/** A question is asked plainly enough from so many points on. */
export const PLAINLY_ASKED = 3.4
/** So far ahead of the next question must one be for nobody to have to choose. */
const CLEARLY_AHEAD = 0.7
/** A question asked so much more plainly than another is no longer its rival. */
const MUCH_PLAINER = 2.5

/** The question that the line asks, or undefined where it might be several or none. */
export function clearlyAsked(readings: readonly Interpretation[]): Interpretation | undefined {
  const [likeliest] = readings
  if (likeliest === undefined) return undefined
  const asked = readings.find((reading) => reading.ask >= PLAINLY_ASKED)
  const first =
    asked && likeliest.ask < PLAINLY_ASKED && asked.score >= likeliest.score - 2 ? asked : likeliest
  const second =
    readings.find((reading) => reading !== first && reading.ask >= 2) ??
    readings.find((reading) => reading !== first)
  const whole = !needs(first)
  const ahead = first.score - (second?.score ?? 0)
  if (first.ask >= 2 && whole && ahead >= 1.5) return first
  if (first.ask < PLAINLY_ASKED) return undefined
  const rival = second && second.ask >= 2 && first.ask - second.ask < MUCH_PLAINER ? second : undefined
  if (rival && first.score - rival.score < CLEARLY_AHEAD) return undefined
  if (first.plainest >= ASKED_OUTRIGHT) return first
  return unread(first) > 0 || othersFitBetter(first, readings) ? undefined : first
}

/** From so many points on something in the line hints at a question. */
const HINTED = 1.5
/** A phrase of so many points asks a question outright. */
export const ASKED_OUTRIGHT = 6

/** Measured quantities that a reading has no use for. */
const unused = ({ left }: Interpretation): number =>
  left.filter((piece) => piece.kind === 'quantity' && piece.readings.length > 0).length

/** Sizes of conductors that a reading has no use for: they ask another question. */
const unread = ({ left }: Interpretation): number =>
  left.filter(({ readings }) => readings.some(({ dimension }) => dimension === 'size')).length

/** Whether another question that may be meant has everything it needs, and uses a quantity that this one leaves. */
function othersFitBetter(first: Interpretation, readings: readonly Interpretation[]): boolean {
  return readings.some((other) => other.ask >= HINTED && unused(other) < unused(first) && !needs(other))
}

/** So many quantities must a line hold for its single words to settle what it asks. */
const TELLING = 2
/** How much its words must speak for a question, and how far it must be ahead of the next. */
const SPEAKS_FOR = 0.3
const AHEAD = 0.6

/**
 * The question that single words and quantities speak for together, where no phrase asks one plainly: it has a use for
 * every quantity of the line, lacks one input at most, and is well ahead of every other of that kind.
 *
 * @param readings of the line as questions that were tried before
 */
export function settledByWords(
  catalogue: Catalogue,
  line: Line,
  readings: readonly Interpretation[],
): Interpretation | undefined {
  const pieces = (line.views[0]?.pieces ?? []).filter(({ kind }) => kind !== 'label')
  if (pieces.length < TELLING || pieces.length > MOST_TRIED || isVague(line)) return undefined
  const evidence = evidenceFor(line)
  const [first, second] = Object.values(catalogue)
    .filter(({ id }) => (evidence.get(id) ?? 0) > 0)
    .map(
      (shape) => readings.find((reading) => reading.shape === shape) ?? bestView(shape, line, NOTHING_BEFORE),
    )
    .filter(
      (reading) =>
        reading.unclear.every(({ pieces }) => pieces.length === 0) &&
        unused(reading) === 0 &&
        lacks(reading) <= 1,
    )
    .map((reading) => ({
      reading,
      points: reading.score + (evidence.get(reading.shape.id) ?? 0) - lacks(reading),
    }))
    .sort((one, other) => other.points - one.points)
  if (!first || (evidence.get(first.reading.shape.id) ?? 0) < SPEAKS_FOR) return undefined
  return second && first.points - second.points < AHEAD ? undefined : first.reading
}

/** What may be meant where not even a hint is given: "would a bigger one help". */
const MOST_ASKED = ['driver-size', 'feed-gauge', 'dimmer-fit']

/** The questions that the words of a line speak for, if the trade knows each of its words; none else. */
export function likeliest(catalogue: Catalogue, line: Line): string[] {
  const words = line.tokens.filter(({ kind }) => kind === 'word').map(({ text }) => text)
  if (
    words.length < 2 ||
    words.length > LONGEST_HINT ||
    !words.every(isKnown) ||
    !words.some((word) => POINTS.has(word))
  )
    return []
  const evidence = [...evidenceFor(line)].filter(([id]) => catalogue[id]).sort((a, b) => b[1] - a[1])
  return [...new Set([...evidence.map(([id]) => id), ...MOST_ASKED.filter((id) => catalogue[id])])].slice(
    0,
    3,
  )
}

/** A longer line says more than that something of the job is meant. */
const LONGEST_HINT = 8

/** Words that point at something of the job without naming it. */
const POINTS = listed('points')
const COMMON = listed('commonWords')

const isKnown = (word: string): boolean =>
  phraseBook().tradeWords.has(word) || COMMON.has(word) || POINTS.has(word) || word.length < 3

/** Why the line is out of reach, if it is, by the key of its message; a soft reason holds where nothing is asked. */
export function outOfReach(line: Line): { hard: string | undefined; soft: string | undefined } {
  const said = new Set<string>()
  const spared = new Set<string>()
  for (const { value } of line.whole.matches) {
    if (value.kind !== 'out-of-reach') continue
    if (value.unless) spared.add(value.why)
    else said.add(value.why)
  }
  const [hard, soft] = [false, true].map((kind) =>
    Object.entries(vocabulary.outOfReach).find(
      ([why, entry]) => entry.soft === kind && said.has(why) && !spared.has(why),
    ),
  )
  return { hard: hard?.[0], soft: soft?.[0] }
}

/** "is the 300 big enough", "is 12 possible": what a lone number without a unit may be. */
function byNumber(line: Line, entries: readonly number[]): { among: string[] } | undefined {
  const numbers = (line.views[0]?.pieces ?? []).filter(({ kind }) => kind !== 'label')
  const [only] = numbers
  // What the line's words say counts before the number does, unless that is all there is to them.
  const first = vocabulary.choose[Math.min(...entries)]
  const said = first !== undefined && !first.said.some((phrase) => phrase.includes('{number}'))
  if (numbers.length !== 1 || only?.bare === undefined || (said && only.bare < FEWEST_WATTS)) return undefined
  if (only.bare > MOST_WATTS || !line.tokens.some(({ text }) => ASKS.has(text))) return undefined
  if (only.bare >= FEWEST_WATTS) return { among: ['driver-size', 'dimmer-fit', 'circuit-room'] }
  return gaugeNumbers.has(only.bare)
    ? { among: ['feed-gauge', 'tape-reach', 'driver-size'] }
    : { among: ['dimmer-fit', 'box-fill', 'hole-fit'] }
}

const FEWEST_WATTS = 25
const MOST_WATTS = 2000
const ASKS: ReadonlySet<string> = new Set([
  'is',
  'are',
  'will',
  'would',
  'can',
  'could',
  'does',
  'do',
  'if',
  'possible',
  'enough',
])

/** The questions to offer when a line may ask several: by what it says, else the likeliest. */
export function offered(catalogue: Catalogue, line: Line, readings: readonly Interpretation[]): string[] {
  const entries = (line.views[0]?.matches ?? []).flatMap(({ value }) =>
    value.kind === 'choose' ? [value.entry] : [],
  )
  const entry = byNumber(line, entries) ?? vocabulary.choose[Math.min(...entries)]
  const likely = readings.filter((reading) => reading.ask >= HINTED).map((reading) => reading.shape.id)
  const best = readings[0]
  const fitting = best && best.score >= 3 && best.given.size >= 2 ? [best.shape.id] : []
  const close = [...new Set([...likely, ...fitting])].slice(0, 3)
  if (entry && close.length < 2) return entry.among.filter((id) => catalogue[id])
  if (entry)
    return [...new Set([...close.slice(0, 2), ...entry.among])].filter((id) => catalogue[id]).slice(0, 3)
  return close
}
