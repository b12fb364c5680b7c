import type { Rules, System } from '../../quantities/systems'

/** What an answer says of the person's case: judged limits decide; `info` where nothing is judged. */
export type Verdict = 'holds' | 'tight' | 'fails' | 'info'

/** Where a number came from. */
export type Provenance = 'given' | 'job' | 'assumed' | 'table'

export type AnswerInput = {
  value: number | string | boolean | object
  unit?: string
  text: string
  from: Provenance
}

export type Figure = {
  id: string
  label: string
  value: number | string | readonly number[]
  unit?: string
  text: string
}

export type Limit = { id: string; label: string; value: number; unit: string; text: string; binds: boolean }

export type AnswerTable = { columns: string[]; rows: (string | number)[][]; chosen?: number }

export type ClaimVerdict = {
  text: string
  verdict: 'holds' | 'tight' | 'fails'
  margin: string
  wouldHoldIf: string[]
}

export type Room = {
  field: string
  until: { value: number; unit: string; text: string } | null
  text: string
}

export type Assumption = { field: string; text: string; why: string; source?: string }

export type Caution = { level: 'stop' | 'care' | 'note'; text: string; source?: string }

export type WorkingStep = {
  label: string
  formula: string
  substituted: string
  result: string
  source?: string
}

export type NextQuestion = { question: string; title: string; inputs: Record<string, string> }

export type Source = { id: string; text: string; kind: 'published' | 'common practice' | 'from memory' }

/** One explanation of what was measured, and whether the readings tell it apart from the likeliest. */
export type Finding = { id: string; text: string; misfit: number; toldApart: boolean } & Record<
  string,
  unknown
>

/** One whole answer, the same on the page, in the API, in print and as plain text. */
export type Answer = {
  question: string
  verdict: Verdict
  headline: string
  inputs: Record<string, AnswerInput>
  figures: Figure[]
  limits: Limit[]
  table?: AnswerTable
  claim?: ClaimVerdict
  room: Room[]
  assumptions: Assumption[]
  cautions: Caution[]
  working: WorkingStep[]
  next: NextQuestion[]
  picture?: { kind: string; data: unknown }
  /** Ranked explanations, where the question is what is wrong rather than how much. */
  findings?: readonly Finding[]
  sources: Source[]
  localCode: string
}

/** The two inputs that every question has and every part of an answer needs. */
export type Setting = { rules: Rules; units: System }
