import { fahrenheit } from '../../quantities/convert'
import { printNumber } from '../../quantities/print'
import type { System } from '../../quantities/systems'
import type { Answer, AnswerInput, Caution, Provenance } from './answer'
import { compareParts, compareSay } from './compare-words'
import { printValue } from './printing'
import type { Question } from './question'
import { fieldWordsOf, sharedSay } from './shared-words'

export type Side = 'a' | 'b'

/** What each of the two says of one thing; a side that says nothing of it is missing. */
export type Pair<T> = { a?: T; b?: T }

/** One thing that was asked otherwise. */
export type ComparedInput = { field: string; label: string } & Pair<{ text: string; from: Provenance }>

type Said = { value: unknown; unit?: string; text: string }

/** One figure or limit of the two. */
export type Compared = {
  id: string
  label: string
  same: boolean
  /** B less A, printed with its sign; without a number where the values have an order alone, such as sizes. */
  difference?: { value?: number; unit: string; text: string }
} & Pair<Said>

export type ComparedFigure = Compared & {
  /** The side that comes out better, where the figure has an order. */
  better?: Side
}

export type ComparedLimit = Compared & { binds: readonly Side[] }

/** The row of its table that each side is about: the claimed one, or the chosen. */
export type ComparedRows = { columns: string[] } & Record<Side, readonly (string | number)[]>

/** Two answers to one question, thing by thing. */
export type Comparison = {
  /** What was asked otherwise; an input that only came from elsewhere is the same. */
  inputs: ComparedInput[]
  figures: ComparedFigure[]
  limits: ComparedLimit[]
  rows?: ComparedRows
  cautions: { a: Caution[]; b: Caution[]; both: Caution[] }
  /** Whether anything differs at all. */
  differs: boolean
}

/**
 * Compares two answers to the same question. Swapping the answers swaps the sides and turns every difference round,
 * and does nothing else.
 */
export function compareAnswers(question: Question, a: Answer, b: Answer): Comparison {
  const system = systemOf(a, b)
  const rows = rowsOf(question, a, b)
  const compared = {
    inputs: inputsOf(question, a, b),
    figures: figuresOf(question, a, b, system),
    limits: limitsOf(question, a, b, system),
    ...(rows ? { rows } : {}),
    cautions: cautionsOf(a, b),
  }
  return { ...compared, differs: differs(compared, a, b) }
}

/** Differences are printed as both print, or in feet and inches where they print otherwise. */
const systemOf = (a: Answer, b: Answer): System =>
  [a, b].every(({ inputs }) => inputs.units?.value === 'metric') ? 'metric' : 'us'

const differs = (
  { inputs, figures, limits, rows, cautions }: Omit<Comparison, 'differs'>,
  a: Answer,
  b: Answer,
): boolean =>
  inputs.length + cautions.a.length + cautions.b.length > 0 ||
  [...figures, ...limits].some(({ same }) => !same) ||
  (rows !== undefined && !alike(rows.a, rows.b)) ||
  a.verdict !== b.verdict ||
  a.headline !== b.headline

/** Ten digits: what differs less differs by the arithmetic of units alone (40 ft and 480 in). */
const alike = (one: unknown, other: unknown): boolean => rounded(one) === rounded(other)

const rounded = (value: unknown): string | undefined =>
  JSON.stringify(value, (_, each) => (typeof each === 'number' ? Number(each.toPrecision(10)) : each))

const pair = <T>(a: T | undefined, b: T | undefined): Pair<T> => ({
  ...(a === undefined ? {} : { a }),
  ...(b === undefined ? {} : { b }),
})

function inputsOf(question: Question, a: Answer, b: Answer): ComparedInput[] {
  const said = (id: string, input: AnswerInput | undefined) =>
    input && { text: fieldWordsOf(question.words, id).choices?.[input.text] ?? input.text, from: input.from }
  return Object.keys(question.inputs).flatMap((id) => {
    const [one, other] = [a.inputs[id], b.inputs[id]]
    if (alike(measureOf(one), measureOf(other))) return []
    return [
      { field: id, label: fieldWordsOf(question.words, id).label, ...pair(said(id, one), said(id, other)) },
    ]
  })
}

const measureOf = (said: { value: unknown; unit?: string } | undefined) => said && [said.value, said.unit]

const figuresOf = (question: Question, a: Answer, b: Answer, system: System): ComparedFigure[] =>
  Object.keys(question.figures).flatMap((id) => {
    const [one, other] = [a, b].map(({ figures }) => figures.find((figure) => figure.id === id))
    const label = one?.label ?? other?.label
    if (label === undefined) return []
    const compared = comparedOf({ id, label }, plainOf(one), plainOf(other), system)
    const better = compared.same ? undefined : betterOf(question, id, one, other)
    return [{ ...compared, ...(better ? { better } : {}) }]
  })

const limitsOf = (question: Question, a: Answer, b: Answer, system: System): ComparedLimit[] =>
  Object.keys(question.words.limits).flatMap((id) => {
    const [one, other] = [a, b].map(({ limits }) => limits.find((limit) => limit.id === id))
    const label = one?.label ?? other?.label
    if (label === undefined) return []
    const binds = [...(one?.binds ? ['a' as const] : []), ...(other?.binds ? ['b' as const] : [])]
    const compared = comparedOf({ id, label }, plainOf(one), plainOf(other), system)
    return [{ ...compared, same: compared.same && one?.binds === other?.binds, binds }]
  })

const plainOf = (said: Said | undefined): Said | undefined =>
  said && { value: said.value, ...(said.unit === undefined ? {} : { unit: said.unit }), text: said.text }

function comparedOf(
  named: { id: string; label: string },
  a: Said | undefined,
  b: Said | undefined,
  system: System,
): Compared {
  const same = a !== undefined && b !== undefined && alike(measureOf(a), measureOf(b))
  const difference = same || !a || !b ? undefined : differenceOf(a, b, system)
  return { ...named, same, ...(difference ? { difference } : {}), ...pair(a, b) }
}

/** Units of a conductor's size: two sizes have an order, but no difference that says anything. */
export const sizeUnits: ReadonlySet<string> = new Set(['AWG', 'mm2'])

/** B less A; nothing where there is no number to take away, or no common unit. */
function differenceOf(a: Said, b: Said, system: System): Compared['difference'] {
  if (typeof a.value !== 'number' || typeof b.value !== 'number') return undefined
  if (a.unit === undefined || a.unit !== b.unit) return undefined
  const value = b.value - a.value
  if (sizeUnits.has(a.unit)) {
    const thicker = a.unit === 'AWG' ? value < 0 : value > 0
    return { unit: a.unit, text: compareParts[thicker ? 'thicker' : 'thinner'] }
  }
  const sign = value < 0 ? '−' : '+'
  return { value, unit: a.unit, text: `${sign}${printDistance(Math.abs(value), a.unit, system)}` }
}

/** How far two values lie apart, which is another thing than a value for shares and temperatures. */
function printDistance(distance: number, unit: string, system: System): string {
  if (unit === '%') {
    const value = printNumber(distance, { significantDigits: 3 })
    return compareSay(value === '1' ? 'points.one' : 'points.many', { value })
  }
  if (unit !== 'degC') return printValue(distance, unit, system)
  const celsius = `${printNumber(distance, { decimals: 0 })} °C`
  const inFahrenheit = `${printNumber(fahrenheit(distance) - fahrenheit(0), { decimals: 0 })} °F`
  return system === 'us' ? `${inFahrenheit} (${celsius})` : `${celsius} (${inFahrenheit})`
}

/** Which side's figure a claim would be easier met by, as the question orders it. */
function betterOf(
  question: Question,
  id: string,
  one: Said | undefined,
  other: Said | undefined,
): Side | undefined {
  const figure = question.figures[id]
  if (!figure || !one || !other || one.unit !== other.unit) return undefined
  const [a, b] = [one, other].map(({ value }) => rankOf(value, figure.choices))
  if (a === undefined || b === undefined || figure.better === 'same') return undefined
  // What is better higher as a gauge number is better thinner, and thinner in mm² is lower.
  const higher = (figure.better === 'higher') !== (figure.unit === 'size' && one.unit === 'mm2')
  return b > a === higher ? 'b' : 'a'
}

function rankOf(value: unknown, choices: readonly string[] | undefined): number | undefined {
  if (typeof value === 'number') return value
  const rank = typeof value === 'string' ? (choices?.indexOf(value) ?? -1) : -1
  return rank < 0 ? undefined : rank
}

/** The rows that the two are about, where one of them claims a row: nothing else says the numbers of that row. */
function rowsOf(question: Question, a: Answer, b: Answer): ComparedRows | undefined {
  const claimed = [claimedRow(question, a), claimedRow(question, b)]
  const [one, other] = [a, b].map(({ table }, at) => claimed[at] ?? table?.rows[table.chosen ?? -1])
  if (!claimed.some(Boolean) || !one || !other || !a.table) return undefined
  return alike(a.table.columns, b.table?.columns) ? { columns: a.table.columns, a: one, b: other } : undefined
}

/** The row of an answer's table whose name the claim on the main figure says. */
const claimedRow = (question: Question, { claim, table }: Answer) =>
  claim &&
  table?.rows.find(([name]) => {
    const figure = question.words.figures[question.mainFigure] ?? question.mainFigure
    return claim.text === sharedSay('claim.figure', { figure, claimed: String(name) })
  })

/** A caution that both give by different codes is one caution; it then names neither. */
function cautionsOf(a: Answer, b: Answer): Comparison['cautions'] {
  const sameIn = ({ cautions }: Answer, { level, text }: Caution) =>
    cautions.find((caution) => level === caution.level && text === caution.text)
  return {
    a: a.cautions.filter((caution) => !sameIn(b, caution)),
    b: b.cautions.filter((caution) => !sameIn(a, caution)),
    both: a.cautions.flatMap((caution) => {
      const other = sameIn(b, caution)
      if (!other) return []
      return other.source === caution.source ? [caution] : [{ level: caution.level, text: caution.text }]
    }),
  }
}
