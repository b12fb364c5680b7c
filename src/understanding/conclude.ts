import { roleWords } from './book'
import { doubtsOf } from './doubts'
import type { Line } from './line'
import { superfluous } from './needs'
import type { Raw } from './raw'
import type { ClaimGiven, Interpretation } from './reading'
import { finish, type Understood } from './reply'
import { rivalsOf, wattsOfTape } from './rivals'

const metricUnit = /(?:^|\s)(?:m|cm|mm)(?:\s|$|2)/
const usUnit = /(?:ft|in|yd)(?:\s|$)/

const textsOf = (raw: Raw): string[] =>
  typeof raw === 'string'
    ? [raw]
    : typeof raw === 'object'
      ? Object.values(raw).flatMap((each) => textsOf(each as Raw))
      : []

/** Settings that go with how it was said: metres, and square millimetres. */
export function settle(
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
export function saidClaim(reading: Interpretation): ClaimGiven | undefined {
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
export function conclude(reading: Interpretation, line: Line): Understood {
  const raws = new Map([...reading.given].map(([id, given]) => [id, given.raw]))
  const claim = saidClaim(reading)
  settle(raws, line, [...raws.values()], claim)
  const gone = superfluous(reading.shape, raws, new Set())
  const left = [...reading.left, ...gone.flatMap((id) => reading.given.get(id)?.pieces ?? [])]
  for (const id of gone) raws.delete(id)
  const rivals = [...rivalsOf(reading), ...doubtsOf(reading), ...wattsOfTape(reading, left)]
  for (const { field } of rivals) raws.delete(field)
  const said = new Map([...reading.given].map(([id, given]) => [id, given.said]))
  const unclear = [...reading.unclear, ...rivals]
  return finish({ shape: reading.shape, raws, said, claim, left, unclear, view: reading.view }, line)
}
