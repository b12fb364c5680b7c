import type { Rounding } from '../../quantities/print'
import type { System } from '../../quantities/systems'
import type { Answer, AnswerTable, Assumption, Finding, Setting } from './answer'
import type { Input } from './fields'
import type { Alternatives, bodySchema, FieldFault, InputSpecs, Values } from './read-inputs'
import type { Judged } from './verdict'
import type { QuestionWords } from './words'

/**
 * What somebody said a figure would be: a number in the figure's JSON unit, or one of the words it may come out as; or
 * that it is fine (`verdict`).
 */
export type Claim =
  | { figure: string; value: number; unit: string; said: string }
  | { figure: string; choice: string; said: string }
  | { figure: 'verdict'; said: string }

export type Stage = 'size' | 'light' | 'switch' | 'look' | 'way' | 'buy' | 'prove' | 'hand-over'

/** One faulty field, in words. */
export type FieldError = { field: string; message: string; example?: string }

/** A number the answer gives. */
export type FigureSpec<S, V> = {
  /** The fixed JSON unit; `size` stands for AWG or mm² by the rules. */
  unit: string
  /** The unit where it depends on the case, in place of `unit`. */
  unitOf?(values: V): string
  /** A claim holds when the figure comes out at least as good as claimed; `same` for words that have no order. */
  better: 'higher' | 'lower' | 'same'
  /** The words a figure may come out as, from the worst to the best when `better` is `higher`. */
  choices?: readonly string[]
  /** Such a word as a person reads it. */
  choiceText?(choice: string): string
  /** The safe way to round it in print. */
  round: Rounding
  /** `undefined` leaves the figure out of this answer. */
  value(solution: S, values: V): number | readonly number[] | string | undefined
  /** Where the plain print of value and unit does not say enough. */
  text?(solution: S, values: V): string
}

/** What decides whether an answer has changed: compared at other inputs to find how far each may move. */
export type Outcome = {
  /** The stepped figure: a reach, a gauge, a rating, a count. */
  step: number | string
  /** The limit that binds. */
  binding: string
  judged: readonly Judged[]
  /** Broken in a way that no limit states, such as a driver that no size covers. */
  fails?: boolean
  /** Judged and sound, without a degree that could be tight. */
  sound?: boolean
}

/** A step of working; its label stands in the words. */
export type Step = { id: string; formula: string; substituted: string; result: string; source?: string }

/** The parts of an answer that only its question can compose. */
export type Composition = {
  headline: string
  limits?: readonly { id: string; value: number; unit: string; text?: string; binds: boolean }[]
  table?: AnswerTable
  /** Ids of the question's own cautions, or of shared ones; with values where the text has placeholders. */
  cautions: readonly (string | { id: string; values: Record<string, string> })[]
  working: readonly Step[]
  /** Inputs as they may be typed; `flattenInputs` writes them for an address. */
  next: readonly { question: string; inputs: Record<string, unknown> }[]
  picture?: { kind: string; data: unknown }
  findings?: readonly Finding[]
  /** Assumptions that are no input of their own. */
  alsoAssumed?: readonly Assumption[]
}

/** What a question file declares. */
export type QuestionSpec<F extends InputSpecs, S> = {
  id: string
  stage: Stage
  words: QuestionWords
  inputs: F
  /** Each entry: alternatives of which exactly one is given whole. */
  alternatives?: readonly Alternatives[]
  /** Faults that need more than one field to see. */
  relations?(values: Values<F>, given: ReadonlySet<string>): FieldFault[]
  figures: Readonly<Record<string, FigureSpec<S, Values<F>>>>
  solve(values: Values<F>): S
  /** A solution that is found with less work and may be worse, never better: for searches that ask for hundreds. */
  solveRoughly?(values: Values<F>): S
  outcome(solution: S, values: Values<F>, given: ReadonlySet<string>): Outcome
  /** The same as `outcome` of `solve`, where the search for room can have it for less work. */
  outcomeAt?(values: Values<F>, given: ReadonlySet<string>): Outcome
  /**
   * Begins one search: whether the outcome is worse at some values than it is `now`, where that can be told for less
   * work than the outcome itself.
   */
  worsensFrom?(now: Outcome): (values: Values<F>) => boolean
  /** Which way the stepped figure gets worse; where it is not said, every change of it counts. */
  stepWorse?: 'lower' | 'higher'
  /** An outcome in a few words, for "still …, beyond that …". */
  says(outcome: Outcome, values: Values<F>): string
  /** The unsafe direction of each input that matters; `feeds.distance` reaches into rows. */
  unsafe: Readonly<Record<string, 'up' | 'down'>>
  /** What else must be given before a claim on some figure can be judged; `values` of faulty inputs are missing. */
  claimFaults?(claim: Claim, given: ReadonlySet<string>, values: Setting & Partial<Values<F>>): FieldFault[]
  /** How a claim on a figure is judged, where comparing it with the figure is not enough. */
  judgeClaim?(claim: Claim, solution: S, values: Values<F>): Judged[] | undefined
  /**
   * Begins one search: whether a claim holds at some values, where that can be told for less work than by judging it;
   * `undefined` where it has to be judged.
   */
  claimHolds?(claim: Claim): (values: Values<F>) => boolean | undefined
  /** Inputs that play no part in this case: their assumed values are not shown and have no room. */
  irrelevant?(values: Values<F>): readonly string[]
  /** Other ways to do it that might make a failing claim hold. */
  otherWays?(values: Values<F>): Partial<Values<F>>[]
  compose(solution: S, values: Values<F>, given: ReadonlySet<string>, claim?: Claim): Composition
}

export type Answered = { ok: true; answer: Answer } | { ok: false; errors: FieldError[] }

/** A question as the rest of the house sees it. */
export type Question = {
  readonly id: string
  readonly stage: Stage
  readonly words: QuestionWords
  readonly inputs: Readonly<Record<string, Input>>
  readonly alternatives: readonly Alternatives[]
  readonly figures: Readonly<
    Record<string, { unit: string; better: 'higher' | 'lower' | 'same'; choices?: readonly string[] }>
  >
  readonly mainFigure: string
  /** The zod schema of its JSON body. */
  schema(system: System): ReturnType<typeof bodySchema>
  /**
   * Reads a raw body and answers it, or says all that is wrong with it. Never throws on bad input.
   *
   * @param remembered the inputs that a job filled in; in the answer they say so
   */
  answer(raw: unknown, remembered?: ReadonlySet<string>): Answered
  /** All that is wrong with a raw body, without answering it; empty where `answer` would answer. */
  faults(raw: unknown): readonly FieldError[]
}
