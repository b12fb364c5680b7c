import type { System } from '../../quantities/systems'
import type { Answer, Caution, Source, Verdict } from '../../questions/common/answer'
import type { RowState } from '../check/row'

/** The two papers that a sheet is printed on. */
export type Paper = 'a4' | 'letter'

/** A label with what stands beside it; an empty text is a blank to be filled in by hand. */
export type Entry = { label: string; text: string }

/** What is known of one part of the job. */
export type FittedPart = {
  where: string
  facts: (Entry & {
    /** What else was said of it and not taken back. */
    contested: string
  })[]
}

/** A drawing of an answer, with its caption. */
export type SheetDrawing = {
  caption: string
  /** The number of the sum that it belongs to. */
  sum: number
  says: string
  picture: NonNullable<Answer['picture']>
}

/** One kind of material. */
export type Material = {
  /** What sort it is (`tape`, `cable`), the same in every language. */
  id: string
  what: string
  /** In `unit`, rounded the safe way; null where it is not worked out yet. */
  quantity: number | null
  /** `reel`, `length`, `piece`, `output`, or `m`. */
  unit: string
  text: string
  where: string
  /** The numbers of the sums that it comes from; none where it was told as it is. */
  sums: number[]
  /** Titles of the questions whose answers those are. */
  from: string
  /** The question it comes from; where it is not worked out yet, the one to ask. */
  question: string
  note: string
}

/** A cutting list: a table whose rows are ticked off by hand. */
export type CuttingList = { title: string; sum: number; columns: string[]; rows: string[][] }

/** What one reading should be, and what it was where somebody has told. */
export type ExpectedReading = {
  where: string
  reading: string
  expected: string
  /** In `unit`; equal where a single value is expected, null where that side is open. */
  low: number | null
  high: number | null
  unit: string
  measured: string
  /** Whether what was measured lies within; null where nothing was. */
  within: boolean | null
}

/** What the job check says of one thing. */
export type SheetVerdict = { state: RowState; stateText: string; title: string; where: string; says: string }

/** One step of a sum; `source` is its number in the list of sources. */
export type SumStep = {
  label: string
  formula: string
  substituted: string
  result: string
  source: number | null
}

/** One answer as it is printed. */
export type Sum = {
  /** From 1; materials, drawings and assumptions name it. */
  number: number
  question: string
  title: string
  where: string
  verdict: Verdict
  headline: string
  given: Entry[]
  figures: Entry[]
  limits: (Entry & { binds: boolean })[]
  steps: SumStep[]
}

/** Something assumed, with the numbers of the sums that rest on it. */
export type SheetAssumption = { text: string; why: string; source: number | null; sums: number[] }
export type SheetCaution = { level: Caution['level']; text: string; source: number | null }

/** The whole record of a job, ready to be printed: every text stands in it as a person reads it. */
export type JobSheet = {
  format: 'ladderside-job-sheet'
  formatVersion: 1
  jobId: string
  name: string
  place: string
  made: { at: string; version: string }
  units: System
  /** The paper that suits the job's units. */
  paper: Paper
  /** The title block, in its order. */
  block: Entry[]
  notes: string
  /** Why it may not be handed over; none where nothing speaks against it. */
  notReady: string[]
  fitted: FittedPart[]
  drawings: SheetDrawing[]
  materials: Material[]
  cutting: CuttingList[]
  readings: ExpectedReading[]
  /** How the readings are to be taken. */
  howToRead: string
  verdicts: SheetVerdict[]
  sums: Sum[]
  assumed: SheetAssumption[]
  cautions: SheetCaution[]
  localCode: string[]
  /** In the order of their numbers, from 1. */
  sources: Source[]
}
