import { readConductorSize } from '../../quantities/conductor-size'
import { readQuantity } from '../../quantities/read'
import type { ClaimVerdict, Setting } from './answer'
import type { Fault, Input } from './fields'
import { dimensionOfUnit, figureUnit, printValue } from './printing'
import type { QuestionSpec } from './question'
import type { InputSpecs, SaidClaim, Values } from './read-inputs'
import { sizeFault } from './relations'
import { changedAt, movable } from './room'
import { endOf, nearestChange } from './search'
import { sharedSay } from './shared-words'
import { holds, type Judged, use, verdictOf, verdictOfOne, worst } from './verdict'

/** What somebody said a figure would be, in the figure's JSON unit; or that it is fine (`verdict`). */
export type Claim =
  | { figure: string; value: number; unit: string; said: string }
  | { figure: 'verdict'; said: string }

type FigureUnits = Readonly<Record<string, { unit: string }>>

/** Reads a claim against the figure it is about; the main figure when none is named. */
export function readClaim(
  said: SaidClaim,
  figures: FigureUnits,
  mainFigure: string,
  setting: Setting,
): { ok: true; claim: Claim } | { ok: false; fault: Fault } {
  const figure = said.figure ?? mainFigure
  if (figure === 'verdict') {
    return said.value === 'holds'
      ? { ok: true, claim: { figure, said: said.value } }
      : { ok: false, fault: { reason: 'claim-not-a-verdict', values: { said: said.value } } }
  }
  const spec = Object.hasOwn(figures, figure) ? figures[figure] : undefined
  if (!spec) {
    const known = [...Object.keys(figures), 'verdict'].join(', ')
    return { ok: false, fault: { reason: 'claim-unknown-figure', values: { said: figure, choices: known } } }
  }
  const unit = figureUnit(spec.unit, setting)
  const read = readClaimed(said.value, unit, setting)
  return read.ok ? { ok: true, claim: { figure, value: read.value, unit, said: said.value } } : read
}

function readClaimed(
  text: string,
  unit: string,
  setting: Setting,
): { ok: true; value: number } | { ok: false; fault: Fault } {
  if (unit === 'AWG' || unit === 'mm2') {
    const size = readConductorSize(text)
    if (!size.ok) return { ok: false, fault: { reason: size.reason, values: { said: text } } }
    const fault = sizeFault(size.value, setting.rules)
    return fault ? { ok: false, fault } : { ok: true, value: size.value.value }
  }
  const dimension = dimensionOfUnit(unit)
  if (dimension) {
    const reading = readQuantity(text, dimension, { system: setting.units })
    if (reading.ok) return { ok: true, value: reading.value }
    return { ok: false, fault: { reason: reading.reason, values: { said: text } } }
  }
  const bare = /^\s*(-?\d+(?:\.\d+)?)/.exec(text)
  return bare
    ? { ok: true, value: Number(bare[1]) }
    : { ok: false, fault: { reason: 'no-number', values: { said: text } } }
}

/** The limits that decide whether a claim holds at these values. */
function judgedClaim<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  claim: Claim,
  solution: S,
  values: Values<F>,
  given: ReadonlySet<string>,
): { judged: readonly Judged[]; fails: boolean } {
  const outcome = spec.outcome(solution, values, given)
  if (claim.figure === 'verdict') return { judged: outcome.judged, fails: outcome.fails === true }
  const special = spec.judgeClaim?.(claim, solution, values)
  if (special) return { judged: special, fails: false }
  const figure = spec.figures[claim.figure]
  const actual = figure?.value(solution, values)
  if (!figure || !('value' in claim) || actual === undefined || typeof actual === 'string') {
    return { judged: [], fails: true }
  }
  const extreme = figure.better === 'higher' ? Math.min : Math.max
  const value = typeof actual === 'number' ? actual : extreme(...actual)
  const sense = figure.better === 'higher' ? 'at-least' : 'at-most'
  return { judged: [{ id: claim.figure, value, limit: claim.value, sense, unit: claim.unit }], fails: false }
}

/** Whether a claim holds, by how much, and what would have to be true for it to hold. */
export function claimVerdict<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  claim: Claim,
  solution: S,
  values: Values<F>,
  given: ReadonlySet<string>,
): ClaimVerdict {
  const { judged, fails } = judgedClaim(spec, claim, solution, values, given)
  const verdict = fails ? 'fails' : worst(judged.map(verdictOfOne))
  const decisive = [...judged].sort((a, b) => use(b) - use(a))[0]
  return {
    text: claimText(spec, claim, values),
    verdict: verdict === 'info' ? 'holds' : verdict,
    margin: decisive ? marginText(spec, decisive, values) : '',
    wouldHoldIf: verdict === 'fails' ? wouldHoldIf(spec, claim, values, given) : [],
  }
}

/** The claim's outcome in front of the headline, so that it cannot be missed: "No, 16 AWG does not hold." */
export const claimHeadline = (claim: Claim, verdict: ClaimVerdict['verdict'], setting: Setting): string =>
  'value' in claim
    ? sharedSay(`claim.${verdict}`, { claimed: printValue(claim.value, claim.unit, setting.units) })
    : sharedSay(`claim.fine.${verdict}`, {})

const claimText = <F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  claim: Claim,
  values: Values<F>,
): string => {
  if (!('value' in claim)) return sharedSay('claim.verdict', {})
  const printed = printValue(claim.value, claim.unit, values.units)
  return sharedSay('claim.figure', {
    figure: spec.words.figures[claim.figure] ?? claim.figure,
    claimed: printed,
  })
}

/** "Drop comes to 4.16 %, at most 3 % is allowed: 39 % over." */
function marginText<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  judged: Judged,
  values: Values<F>,
): string {
  const { value, limit, unit, sense } = judged
  const share = Math.abs(value - limit) / Math.abs(limit)
  return sharedSay(`margin.${sense}.${holds(judged) ? 'holds' : 'fails'}`, {
    what: spec.words.limits[judged.id] ?? spec.words.figures[judged.id] ?? judged.id,
    value: printValue(value, unit, values.units),
    limit: printValue(limit, unit, values.units),
    percent: Number.isFinite(share) ? printValue(100 * share, '%', values.units) : '100 %',
  })
}

/** For each input, the nearest value in the safe direction at which the claim holds; then other ways to do it. */
function wouldHoldIf<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  claim: Claim,
  values: Values<F>,
  given: ReadonlySet<string>,
): string[] {
  const holdsAt = (changed: Values<F>): boolean => {
    const { judged, fails } = judgedClaim(spec, claim, spec.solve(changed), changed, given)
    return !fails && verdictOf(judged) !== 'fails'
  }
  const byInput = movable(spec, values).flatMap((move) => {
    const towards = move.unsafe === 'up' ? 'down' : 'up'
    const end = endOf(move.range, towards)
    const found = nearestChange(move.value, end, move.whole, (value) =>
      holdsAt(changedAt(values, move.path, value)),
    )
    if (!found) return []
    const printed = printValue(found.outside, move.unit, values.units, towards)
    return [
      sharedSay(towards === 'down' ? 'wouldHold.atMost' : 'wouldHold.atLeast', {
        what: move.label,
        value: printed,
      }),
    ]
  })
  const byWay = (spec.otherWays?.(values) ?? []).flatMap((way) =>
    holdsAt({ ...values, ...way }) ? [wayText(spec, way, values)] : [],
  )
  return [...byInput, ...byWay]
}

const wayText = <F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  way: Partial<Values<F>>,
  values: Values<F>,
): string =>
  Object.entries(way)
    .map(([id, value]) => {
      const words = spec.words.fields[id]
      const input = (spec.inputs as Readonly<Record<string, Input>>)[id]
      const said = words?.choices?.[String(value)] ?? input?.field.text(value, values.units) ?? String(value)
      return sharedSay('wouldHold.way', { what: words?.label ?? id, value: said })
    })
    .join(', ')
