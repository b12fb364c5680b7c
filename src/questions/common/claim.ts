import { readConductorSize } from '../../quantities/conductor-size'
import { DIMENSIONS } from '../../quantities/dimensions'
import type { Rounding } from '../../quantities/print'
import { readQuantity } from '../../quantities/read'
import type { ClaimVerdict, Setting } from './answer'
import type { Fault, Input } from './fields'
import { dimensionOfUnit, figureUnit, printValue } from './printing'
import type { InputSpecs, SaidClaim, Values } from './read-inputs'
import { sizeFault } from './relations'
import { changedAt, movable } from './room'
import { endOf, nearestChange } from './search'
import { sharedSay } from './shared-words'
import type { Claim, QuestionSpec } from './spec'
import { holds, type Judged, use, verdictOf, verdictOfOne, worst } from './verdict'

/** Reads a claim against the figure it is about; the main figure when none is named. */
export function readClaim<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  said: SaidClaim,
  values: Values<F>,
): { ok: true; claim: Claim } | { ok: false; fault: Fault } {
  const { figures } = spec
  const [mainFigure = ''] = Object.keys(figures)
  const id = said.figure ?? mainFigure
  if (id === 'verdict') {
    return said.value === 'holds'
      ? { ok: true, claim: { figure: id, said: said.value } }
      : refused('claim-not-a-verdict', said.value)
  }
  const figure = Object.hasOwn(figures, id) ? figures[id] : undefined
  if (!figure)
    return refused('claim-unknown-figure', id, { choices: [...Object.keys(figures), 'verdict'].join(', ') })
  if (figure.choices) return readChoice(id, said.value, figure.choices)
  const unit = figureUnit(figure, values)
  const read = readClaimed(said.value, unit, values)
  return read.ok ? { ok: true, claim: { figure: id, value: read.value, unit, said: said.value } } : read
}

const refused = (reason: string, said: string, more: { choices?: string; example?: string } = {}) => {
  const { example, ...values } = more
  return {
    ok: false as const,
    fault: { reason, values: { said, ...values }, ...(example ? { example } : {}) },
  }
}

const readChoice = (figure: string, said: string, choices: readonly string[]) => {
  const plain = said.trim().toLowerCase().replace(/\s+/g, '-')
  const choice = choices.find((each) => each.toLowerCase() === plain)
  return choice === undefined
    ? refused('not-a-choice', said, { choices: choices.join(', ') })
    : { ok: true as const, claim: { figure, choice, said } }
}

function readClaimed(
  text: string,
  unit: string,
  setting: Setting,
): { ok: true; value: number } | { ok: false; fault: Fault } {
  if (unit === 'AWG' || unit === 'mm2') {
    const size = readConductorSize(text)
    if (!size.ok) return refused(size.reason, text, { example: claimExample(unit, setting) })
    const fault = sizeFault(size.value, setting.rules)
    return fault ? { ok: false, fault } : { ok: true, value: size.value.value }
  }
  const dimension = dimensionOfUnit(unit)
  if (dimension) {
    const reading = readQuantity(text, dimension, { system: setting.units })
    if (reading.ok) return { ok: true, value: reading.value }
    return refused(reading.reason, text, { example: reading.example })
  }
  // A currency sign may stand in front.
  const bare = /^\s*[^\d\s.-]{0,3}\s*(-?\d+(?:\.\d+)?)/.exec(text)
  return bare
    ? { ok: true, value: Number(bare[1]) }
    : refused('no-number', text, { example: claimExample(unit, setting) })
}

/** A claim on a figure of this unit, as it may be typed. */
export function claimExample(unit: string, { units }: Setting): string {
  if (unit === 'AWG') return '14 AWG'
  if (unit === 'mm2') return '2.5 mm2'
  const dimension = dimensionOfUnit(unit)
  return dimension ? DIMENSIONS[dimension].example[units] : '2'
}

/** The limits that decide whether a claim holds at these values. */
function judgedClaim<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  claim: Claim,
  solution: S,
  values: Values<F>,
  given: ReadonlySet<string>,
): { judged: readonly Judged[]; fails: boolean } {
  const special = spec.judgeClaim?.(claim, solution, values)
  if (special) return { judged: special, fails: false }
  const outcome = spec.outcome(solution, values, given)
  if (claim.figure === 'verdict') return { judged: outcome.judged, fails: outcome.fails === true }
  const figure = spec.figures[claim.figure]
  const actual = figure?.value(solution, values)
  if (figure?.choices && 'choice' in claim)
    return { judged: [], fails: !choiceHolds(figure, claim.choice, actual) }
  if (!figure || !('value' in claim) || actual === undefined || typeof actual === 'string') {
    return { judged: [], fails: true }
  }
  const extreme = figure.better === 'higher' ? Math.min : Math.max
  const value = typeof actual === 'number' ? actual : extreme(...actual)
  const sense = figure.better === 'higher' ? 'at-least' : 'at-most'
  return { judged: [{ id: claim.figure, value, limit: claim.value, sense, unit: claim.unit }], fails: false }
}

/** Whether a figure in words comes out at least as good as claimed, or as just that where words have no order. */
function choiceHolds(
  { choices = [], better }: { choices?: readonly string[]; better: 'higher' | 'lower' | 'same' },
  claimed: string,
  actual: unknown,
): boolean {
  const [is, said] = [choices.indexOf(String(actual)), choices.indexOf(claimed)]
  if (is < 0) return false
  return better === 'higher' ? is >= said : better === 'lower' ? is <= said : is === said
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
    margin: decisive ? marginText(spec, decisive, claim, values) : '',
    wouldHoldIf: verdict === 'fails' ? wouldHoldIf(spec, claim, values, given) : [],
  }
}

/** The claim's outcome in front of the headline, so that it cannot be missed: "No, 16 AWG does not hold." */
export function claimHeadline<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  claim: Claim,
  verdict: ClaimVerdict['verdict'],
  values: Values<F>,
): string {
  const claimed = claimedText(spec, claim, values)
  return claimed === undefined
    ? sharedSay(`claim.fine.${verdict}`, {})
    : sharedSay(`claim.${verdict}`, { claimed })
}

/** What was claimed, printed; `undefined` for a claim that all is fine. */
function claimedText<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  claim: Claim,
  values: Values<F>,
): string | undefined {
  if ('value' in claim) {
    return printClaimed(claim.value, claim.unit, values.units, spec.figures[claim.figure]?.round)
  }
  if ('choice' in claim) return spec.figures[claim.figure]?.choiceText?.(claim.choice) ?? claim.choice
  return undefined
}

/** An amount of money or another bare number stays as it was said: 31.99 is not 32. */
const printClaimed = (value: number, unit: string, units: Setting['units'], rounding?: Rounding): string =>
  unit === '' ? String(value) : printValue(value, unit, units, rounding)

const claimText = <F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  claim: Claim,
  values: Values<F>,
): string => {
  const claimed = claimedText(spec, claim, values)
  if (claimed === undefined) return sharedSay('claim.verdict', {})
  return sharedSay('claim.figure', { figure: spec.words.figures[claim.figure] ?? claim.figure, claimed })
}

/** "Drop comes to 4.16 %, at most 3 % is allowed: 39 % over." */
function marginText<F extends InputSpecs, S>(
  spec: QuestionSpec<F, S>,
  judged: Judged,
  claim: Claim,
  values: Values<F>,
): string {
  const { id, value, limit, unit, sense } = judged
  const what = spec.words.limits[id] ?? spec.words.figures[id] ?? id
  const safe: Rounding = sense === 'at-most' ? 'up' : 'down'
  const other: Rounding = sense === 'at-most' ? 'down' : 'up'
  const print = (number: number, rounding: Rounding) => printValue(number, unit, values.units, rounding)
  if (!Number.isFinite(value)) return sharedSay('margin.none', { what, limit: print(limit, other) })
  const share = Math.abs(value - limit) / Math.abs(limit)
  const isWhatWasClaimed = id === claim.figure && 'value' in claim && claim.value === limit
  const outcome = holds(judged) ? 'holds' : 'fails'
  const off = sense === 'at-most' ? 'over' : 'short'
  const claimed = outcome === 'holds' ? outcome : off
  return sharedSay(isWhatWasClaimed ? `margin.claimed.${claimed}` : `margin.${sense}.${outcome}`, {
    what,
    value: print(value, safe),
    // Rounded the same way where it holds, apart where it does not: what is read then never says the contrary.
    limit: (isWhatWasClaimed ? printClaimed : printValue)(
      limit,
      unit,
      values.units,
      outcome === 'holds' ? safe : other,
    ),
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
  const toldForLess = spec.claimHolds?.(claim)
  const holdsAt = (changed: Values<F>): boolean => {
    const known = toldForLess?.(changed)
    if (known !== undefined) return known
    const { judged, fails } = judgedClaim(
      spec,
      claim,
      (spec.solveRoughly ?? spec.solve)(changed),
      changed,
      given,
    )
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
