import { fill } from '../questions/common/words'
import { askings } from './asking'
import { likeliest, offered, outOfReach } from './decide'
import { placedFeeds, type Refusal, readInputs } from './inputs'
import type { Line } from './line'
import { missingOf } from './needs'
import type { Piece } from './pieces'
import type { Raw } from './raw'
import type { ClaimGiven, Interpretation } from './reading'
import type { Catalogue, QuestionShape } from './shape'
import { isVague } from './vague'
import { vocabulary } from './vocabulary'

/** One input of the reading, in fixed units, and the words it came from. */
export type UnderstoodInput = { value: number | string | boolean | object; unit?: string; said: string }

/** What a line of text was understood to ask. */
export type Understood = {
  kind: 'answer' | 'ask-back' | 'choose' | 'out-of-reach'
  question: string | null
  /** Every input of the reading, those carried over from the question before included. */
  inputs: Record<string, UnderstoodInput>
  claim?: { figure: string; value: number | string; unit?: string }
  /** Numbers that no input uses, as they were said. */
  leftOver: string[]
  /** The inputs as `POST /api/questions/:id` takes them, with the claim. */
  raw: Record<string, unknown>
  missing?: { field: string; prompt: string; suggestion?: string }[]
  choices?: { question: string; title: string; inputs: Record<string, string> }[]
  message: string
  /** Inputs that differ from those of the question before. */
  changed?: string[]
  /** Inputs that were said but cannot be used, or not without asking: nothing known elsewhere may stand in for them. */
  doubtful?: string[]
  explanation?: Explanation
}

/** Why a line was understood as it was. */
export type Explanation = {
  pieces: { said: string; kind: string; readings: string[] }[]
  scores: { question: string; score: number; asked: number }[]
  why: string[]
}

const say = (key: string, values: Record<string, string> = {}): string =>
  fill(vocabulary.sentences[key] ?? '', values)

export type Draft = {
  shape: QuestionShape
  raws: Map<string, Raw>
  said: Map<string, string>
  claim: ClaimGiven | undefined
  left: readonly Piece[]
  unclear: readonly { field: string; pieces: readonly Piece[] }[]
  changed?: string[]
  view: Interpretation['view']
}

const NAMELESS = new Set(['one', 'single', 'a single', 'the single'])

/** What the reply names as left aside: numbers, in the order of the line. */
function leftOverOf(line: Line, left: readonly Piece[]): string[] {
  const pieces = [...left, ...line.takenBack].sort((a, b) => a.from - b.from)
  return [
    ...new Set(
      pieces
        .map((piece) => line.said(piece))
        .filter((said) => said !== '' && !NAMELESS.has(said.toLowerCase())),
    ),
  ]
}

/** Reads the inputs by the question's own schema, and answers or asks back. */
export function finish(draft: Draft, line: Line, again = false): Understood {
  const { shape, raws, said, claim } = draft
  const system = raws.get('units') === 'metric' ? 'metric' : 'us'
  placedFeeds(shape, raws, system)
  const { read, refused } = readInputs(shape, raws, system)
  if (isLineVoltage(shape, raws, refused, draft)) return unreachable('mains', line)
  const good = new Map([...raws].filter(([id]) => read.has(id)))
  const leftOver = leftOverOf(line, draft.left)
  const inputs: Record<string, UnderstoodInput> = {}
  for (const [id, input] of read) inputs[id] = { ...input, said: said.get(id) ?? '' }
  const understood = {
    question: shape.id,
    inputs,
    ...(claim ? { claim: claimOf(claim) } : {}),
    leftOver,
    raw: {
      ...Object.fromEntries(good),
      ...(claim ? { claim: { figure: claim.figure, value: claim.raw } } : {}),
    },
    ...(draft.changed ? { changed: draft.changed } : {}),
    doubtful: [...refused, ...draft.unclear].map(({ field }) => field),
  }
  const missing = asksBack(draft, good, refused, line, again)
  const rest = leftOver.length > 0 ? ` ${say('leftOver', { pieces: leftOver.join(', ') })}` : ''
  if (missing.length > 0) {
    return { kind: 'ask-back', ...understood, missing, message: `${missing[0]?.prompt ?? ''}${rest}`.trim() }
  }
  const title = askings[shape.id]?.title ?? shape.id
  return { kind: 'answer', ...understood, message: `${say('answer', { title })}${rest}` }
}

const claimOf = ({ figure, value, unit }: ClaimGiven): NonNullable<Understood['claim']> => ({
  figure,
  value,
  ...(unit ? { unit } : {}),
})

/** Voltages of house wiring where a tape's voltage is asked for. */
function isLineVoltage(
  shape: QuestionShape,
  raws: ReadonlyMap<string, Raw>,
  refused: readonly Refusal[],
  draft: Draft,
): boolean {
  if (shape.id !== 'feed-gauge') return false
  const said = refused.some(({ field }) => field === 'voltage')
    ? Number.parseFloat(String(raws.get('voltage')))
    : 0
  const left = raws.has('voltage')
    ? []
    : draft.left.flatMap((piece) =>
        piece.readings.filter((each) => each.dimension === 'voltage').map((each) => each.value),
      )
  return [said, ...left].some((volts) => volts > 60 && volts <= 1000)
}

/** What to ask back: first what was refused or is unclear, then what is missing. */
function asksBack(
  draft: Draft,
  good: ReadonlyMap<string, Raw>,
  refused: readonly Refusal[],
  line: Line,
  again: boolean,
): NonNullable<Understood['missing']> {
  const { shape } = draft
  const words = (field: string) => askings[shape.id]?.ask[field]
  const entry = (field: string, prompt: string) => {
    const suggestion = words(field)?.suggest
    return { field, prompt: prompt.trim(), ...(suggestion ? { suggestion } : {}) }
  }
  const ask = (field: string) => words(field)?.ask ?? words(field)?.label ?? field
  const refusals = refused.map(({ field, reason, values }) => {
    const why =
      reason === 'out-of-range' ? say('outOfRange', values as Record<string, string>) : say('unreadable')
    const said = draft.said.get(field) || String(draft.raws.get(field))
    return entry(field, say('refused', { said, label: words(field)?.label ?? field, why, ask: ask(field) }))
  })
  const unclear = draft.unclear
    .filter(({ field }) => (again || !good.has(field)) && !refused.some((each) => each.field === field))
    .map(({ field, pieces }) =>
      entry(
        field,
        pieces.length > 0
          ? say('unclear', { ask: ask(field), pieces: pieces.map((piece) => line.said(piece)).join(', ') })
          : ask(field),
      ),
    )
  const missing = missingOf(shape, good).map((field) => entry(field, ask(field)))
  const all = [...refusals, ...unclear, ...missing]
  return all.filter(({ field }, index) => all.findIndex((other) => other.field === field) === index)
}

export const unreachable = (why: string, line: Line): Understood => ({
  kind: 'out-of-reach',
  question: null,
  inputs: {},
  leftOver: leftOverOf(line, line.views[0]?.pieces ?? []),
  raw: {},
  message: vocabulary.outOfReach[why]?.message ?? '',
})

/** Several readings to choose from, or none at all. */
export function choose(catalogue: Catalogue, line: Line, readings: readonly Interpretation[]): Understood {
  const { soft } = outOfReach(line)
  const found = offered(catalogue, line, readings)
  const ids = found.length === 0 && soft === undefined ? likeliest(catalogue, line) : found
  if (ids.length === 0 || (soft && isVague(line) && (line.views[0]?.pieces.length ?? 0) === 0))
    return unreachable(soft ?? 'nonsense', line)
  const choices = ids.map((id) => {
    const reading = readings.find((each) => each.shape.id === id)
    const inputs = Object.fromEntries(
      [...(reading?.given ?? [])].flatMap(([field, { raw }]) =>
        typeof raw === 'object' ? [] : [[field, String(raw)]],
      ),
    )
    return { question: id, title: askings[id]?.title ?? id, inputs }
  })
  const leftOver = leftOverOf(line, line.views[0]?.pieces ?? [])
  return { kind: 'choose', question: null, inputs: {}, leftOver, raw: {}, choices, message: say('choose') }
}
