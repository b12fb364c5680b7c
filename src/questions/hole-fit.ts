import * as z from 'zod/mini'
import prompts from '../../prompts/en/hole-fit.yaml'
import {
  type Bundle,
  type BundledCable,
  bundleOf,
  fillLimitPercent,
  holeFit as fitOf,
  type HoleFit,
} from '../calculators/bundle'
import { printLength, printNumber, type Rounding } from '../quantities/print'
import type { System } from '../quantities/systems'
import { type DrillBit, drillBitRules } from '../tables/drill-bits'
import { emt, racewayRules } from '../tables/raceways'
import type { Assumption, Setting } from './common/answer'
import {
  assumed,
  choice,
  count,
  type Field,
  knownAs,
  list,
  optional,
  quantity,
  required,
  row,
  yesNo,
} from './common/fields'
import { chosenSettings } from './common/line-side'
import { exactly, printValue } from './common/printing'
import {
  type Claim,
  type Composition,
  defineQuestion,
  type Outcome,
  type Question,
  type Step,
} from './common/question'
import type { FieldFault, Values } from './common/read-inputs'
import { holds, type Judged, verdictOf } from './common/verdict'
import { questionWordsOf } from './common/words'

const mostCables = 30
const side = () => quantity('length', 0.001, 0.06)
const cableCount = count(1, mostCables)
/** One, when nobody says how many; a value of its own, so that it too may drift. */
const oneOrMore: Field<number> = {
  ...cableCount,
  schema: (system) => z.prefault(cableCount.schema(system), '1') as ReturnType<typeof cableCount.schema>,
}

const inputs = {
  cables: knownAs(
    'bundle',
    required(
      list(
        row({}, { count: oneOrMore, diameter: side(), width: side(), height: side() }, 'diameter'),
        1,
        mostCables,
      ),
    ),
  ),
  material: assumed(choice('wood', 'metal'), 'wood'),
  raceway: optional(choice('1/2', '3/4', '1', '1-1/4', '1-1/2', '2')),
  nipple: assumed(yesNo(), false),
}

type Inputs = Values<typeof inputs>
type CableRow = Inputs['cables'][number]

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: ['bit', 'bundle', 'fill', 'fillLimit', 'raceway', 'jamRatio'],
    limits: ['bit', 'fill', 'width'],
    sentences: {
      'headline.bit': ['bit', 'bundle', 'percent'],
      'headline.noBit': ['bundle', 'hole'],
      'headline.smallest': ['raceway'],
      'headline.noRaceway': ['raceway'],
      'headline.fits': ['raceway', 'fill', 'limit', 'bit'],
      'headline.fitsTight': ['raceway', 'fill', 'limit', 'bit'],
      'headline.tooFull': ['raceway', 'fill', 'limit', 'ways'],
      'headline.tooNarrow': ['raceway', 'bundle', 'inside', 'ways'],
      'headline.jam': [],
      'headline.noRule': [],
      'way.raceway': ['raceway'],
      'way.split': [],
      'bit.us': ['size'],
      'bit.metric': ['size'],
      'says.bit': ['bit'],
      'says.noBit': [],
      'says.raceway': ['bit', 'raceway'],
      'says.noRaceway': ['bit'],
      'says.fits': ['bit'],
      'says.tight': ['bit'],
      'says.fails': [],
      'flat.text': [],
      'flat.why': [],
      'picture.title.hole': [],
      'picture.title.raceway': [],
      'picture.title.bundle': [],
      'picture.description': ['outer', 'bundle', 'cables'],
      'picture.outer.hole': ['size'],
      'picture.outer.raceway': ['size', 'inside', 'fill'],
      'picture.outer.none': [],
      'picture.cable.round': ['count', 'diameter'],
      'picture.cable.flat': ['count', 'width', 'height'],
      'picture.hole': ['size'],
      'picture.raceway': ['size', 'inside'],
      'picture.bundle': ['bundle'],
      'picture.row': ['number', 'cable'],
    },
    cautions: [
      'ask-framing',
      'sealed-hole',
      'sealed-hole-iec',
      'jam',
      'bushing',
      'bushing-iec',
      'old-dust',
      'one-measured',
    ],
    working: ['bundle', 'hole', 'bit', 'fill', 'fillLimit', 'jamRatio'],
    columns: [],
    faults: ['cable-size', 'round-or-flat', 'too-many-cables', 'nothing-to-check', 'no-rule-to-check'],
  },
)

/** What the drawing needs: lengths in m from the middle of the bundle, and every text ready to be shown. */
export type HoleFitPicture = {
  outer?: { kind: 'hole' | 'raceway'; diameterM: number }
  bundleM: number
  /** `row` is the place of the cable's kind in the list given, from 1. */
  cables: { row: number; xM: number; yM: number; diameterM: number }[]
  title: string
  description: string
  labels: { outer: string; bundle: string; rows: string[] }
}

/** The packing is worked out once, and only when somebody looks. */
type Solution = { readonly fit: HoleFit }

const countOf = ({ count }: CableRow): number => count ?? 1

/** How many cables there are. */
const countAll = (cables: readonly CableRow[]): number =>
  cables.reduce((sum, cable) => sum + countOf(cable), 0)

const roundM = ({ diameter, width = 0, height = 0 }: CableRow): number => diameter ?? Math.max(width, height)

const bundledOf = (cable: CableRow): BundledCable => {
  const { diameter, width = 0, height = 0 } = cable
  return diameter === undefined
    ? { count: countOf(cable), widthM: width, heightM: height }
    : { count: countOf(cable), diameterM: diameter }
}

const fitFor = ({ rules, units, cables, raceway, nipple }: Inputs): HoleFit =>
  fitOf({ rules, system: units, cables: cables.map(bundledOf), raceway, nipple })

function solve(values: Inputs): Solution {
  let found: HoleFit | undefined
  return {
    get fit() {
      found ??= fitFor(values)
      return found
    },
  }
}

type KnownBundle = { cables: readonly CableRow[]; bundle: Bundle }

/** The bundles packed so far for one answer: its set of given inputs, or its claim, stands for it. */
const packedFor = new WeakMap<object, KnownBundle[]>()

function knownOf(answer: object): KnownBundle[] {
  const known = packedFor.get(answer) ?? []
  packedFor.set(answer, known)
  return known
}

/**
 * What is certain of a bundle from one that is known, without packing: cables thicker by a share make it wider by
 * that share at most, and one more cable fits beside it.
 */
function boundsFrom({ cables, bundle }: KnownBundle, now: readonly CableRow[]): [number, number] {
  const shares = now.map((cable, i) => roundM(cable) / roundM(cables[i] ?? cable))
  const more = now.map((cable, i) => countOf(cable) - countOf(cables[i] ?? cable))
  const beside = now.reduce((sum, cable, i) => sum + Math.max(0, more[i] ?? 0) * roundM(cable), 0)
  const least = more.every((count) => count >= 0) ? bundle.diameterM * Math.min(...shares) : 0
  return [least, bundle.diameterM * Math.max(...shares) + beside]
}

/** Packing takes longer for more cables, so fewer are tried; the widest the bundle may be then stands for it. */
const mostPackings = (cables: readonly CableRow[]): number =>
  Math.min(24, Math.max(3, Math.round(300 / countAll(cables) ** 2)))

/** A bundle known so far from which these cables are a small step: at most this many more of them. */
const fewMore = 2

/** How wide the bundle is; packed only where it `differs` between the least and the most that it may be. */
function bundleFor(
  values: Inputs,
  solution: Solution,
  known: KnownBundle[],
  differs: (leastM: number, mostM: number) => boolean,
): number {
  const bounds = known.map((each) => boundsFrom(each, values.cables))
  const leastM = Math.max(0, ...bounds.map(([least]) => least))
  const mostM = Math.min(...bounds.map(([, most]) => most))
  const enough = known.length >= mostPackings(values.cables)
  if (known.length > 0 && (enough || !differs(leastM, mostM))) return mostM
  const near = known.find(({ cables }) => countAll(values.cables) - countAll(cables) <= fewMore)
  const bundle = near ? bundleOf(values.cables.map(bundledOf), near.bundle) : solution.fit.bundle
  known.push({ cables: values.cables, bundle })
  return bundle.diameterM
}

const racewayOf = (tradeSize: string | undefined) => emt.find((size) => size.tradeSize === tradeSize)

const fillPercentIn = (innerDiameterM: number, { cables }: Inputs): number =>
  100 * cables.reduce((sum, cable) => sum + countOf(cable) * (roundM(cable) / innerDiameterM) ** 2, 0)

/** The two limits of a raceway, with a bundle of this width in it. */
function judgedIn(innerDiameterM: number, bundleM: number, values: Inputs): Judged[] {
  const cables = countAll(values.cables)
  return [
    {
      id: 'fill',
      value: fillPercentIn(innerDiameterM, values),
      limit: fillLimitPercent(cables, values.nipple),
      sense: 'at-most',
      unit: '%',
    },
    { id: 'width', value: bundleM, limit: innerDiameterM, sense: 'at-most', unit: 'm' },
  ]
}

/** The smallest raceway that passes the cables, with a bundle of this width. */
const smallestFor = (bundleM: number, values: Inputs) =>
  emt.find(({ innerDiameterM }) => verdictOf(judgedIn(innerDiameterM, bundleM, values)) !== 'fails')

function outcomeWith(bundleM: number, values: Inputs): Outcome {
  const { rules, units, nipple } = values
  // One cable as wide as the bundle needs the same hole, and takes no packing.
  const { bit } = fitOf({ rules: 'iec', system: units, cables: [{ count: 1, diameterM: bundleM }], nipple })
  const bitSaid = bit ? words.say('says.bit', { bit: bitText(bit, units) }) : words.say('says.noBit', {})
  if (rules === 'iec') return { step: bitSaid, binding: '', judged: [], fails: !bit }
  const given = racewayOf(values.raceway)
  if (given) return { step: bitSaid, binding: '', judged: judgedIn(given.innerDiameterM, bundleM, values) }
  const smallest = smallestFor(bundleM, values)
  const step = smallest
    ? words.say('says.raceway', { bit: bitSaid, raceway: smallest.tradeSize })
    : words.say('says.noRaceway', { bit: bitSaid })
  return { step, binding: '', judged: [], fails: !bit }
}

function outcomeFor(solution: Solution, values: Inputs, given: ReadonlySet<string>): Outcome {
  const said = (bundleM: number): string => {
    const { step, judged } = outcomeWith(bundleM, values)
    return `${step} ${verdictOf(judged)}`
  }
  const differs = (leastM: number, mostM: number) => said(leastM) !== said(mostM)
  return outcomeWith(bundleFor(values, solution, knownOf(given), differs), values)
}

function says({ step, judged }: Outcome): string {
  const verdict = verdictOf(judged)
  if (verdict === 'info') return String(step)
  return verdict === 'fails'
    ? words.say('says.fails', {})
    : words.say(`says.${verdict === 'tight' ? 'tight' : 'fits'}`, { bit: String(step) })
}

const largestShare = drillBitRules.bundlePercent.value / 100

/** A claimed bit does when the bundle takes no more of its hole than it may. */
function judgeBit(claim: Claim, solution: Solution, values: Inputs): Judged[] | undefined {
  if (claim.figure !== 'bit' || !('value' in claim)) return undefined
  const judged = (bundleM: number): Judged[] => [
    { id: 'bit', value: bundleM, limit: claim.value * largestShare, sense: 'at-most', unit: 'm' },
  ]
  const bundleM = bundleFor(
    values,
    solution,
    knownOf(claim),
    (leastM, mostM) => verdictOf(judged(leastM)) !== verdictOf(judged(mostM)),
  )
  return judged(bundleM)
}

/** A figure as it comes out with a bundle of this width; none where the case has no such figure. */
function figureWith(figure: string, bundleM: number, values: Inputs): number | undefined {
  if (figure === 'bundle') return bundleM
  const raceway = values.rules === 'nec' && (racewayOf(values.raceway) ?? smallestFor(bundleM, values))
  if (!raceway) return undefined
  return figure === 'fill'
    ? fillPercentIn(raceway.innerDiameterM, values)
    : fillLimitPercent(countAll(values.cables), values.nipple)
}

/** Begins a search for where a claim on a figure holds; packed only where that depends on how wide the bundle is. */
function claimHolds(claim: Claim): (values: Inputs) => boolean | undefined {
  const known: KnownBundle[] = []
  return (values) => claimHoldsBy(known, claim, values)
}

function claimHoldsBy(known: KnownBundle[], claim: Claim, values: Inputs): boolean | undefined {
  const { figure } = claim
  if (!('value' in claim) || figure === 'bit') return undefined
  // The raceway's figure is a name, of which no number can be true.
  if (figure === 'raceway') return false
  if (figure === 'jamRatio')
    return values.rules === 'iec' || countAll(values.cables) !== 3 ? false : undefined
  const sense = figure === 'fillLimit' ? 'at-least' : 'at-most'
  const holdsWith = (bundleM: number): boolean => {
    const value = figureWith(figure, bundleM, values)
    return value !== undefined && holds({ id: figure, value, limit: claim.value, sense, unit: claim.unit })
  }
  const differs = (leastM: number, mostM: number) => holdsWith(leastM) !== holdsWith(mostM)
  return holdsWith(bundleFor(values, solve(values), known, differs))
}

const bitText = ({ size }: DrillBit, units: System): string => words.say(`bit.${units}`, { size })

const lengthText = (lengthM: number, { units }: Inputs, rounding: Rounding): string =>
  printValue(lengthM, 'm', units, rounding)

const percentText = (percent: number, rounding: Rounding): string => printValue(percent, '%', 'us', rounding)

function headline({ fit }: Solution, values: Inputs): string {
  const noRule =
    values.rules === 'iec' && values.raceway !== undefined ? [words.say('headline.noRule', {})] : []
  if (values.raceway !== undefined && fit.raceway) return racewayHeadline(fit, values)
  return [holeSaid(fit, values), ...smallestSaid(fit, values), ...noRule].join(' ')
}

function holeSaid({ bit, bundle, holePercent }: HoleFit, values: Inputs): string {
  const bundleText = lengthText(bundle.diameterM, values, 'up')
  if (!bit || holePercent === null) {
    const hole = lengthText(bundle.diameterM / largestShare, values, 'up')
    return words.say('headline.noBit', { bundle: bundleText, hole })
  }
  const percent = percentText(holePercent, 'up')
  return words.say('headline.bit', { bit: bitText(bit, values.units), bundle: bundleText, percent })
}

function smallestSaid({ smallestRaceway }: HoleFit, { rules }: Inputs): string[] {
  if (rules === 'iec') return []
  return [
    smallestRaceway
      ? words.say('headline.smallest', { raceway: smallestRaceway.tradeSize })
      : words.say('headline.noRaceway', { raceway: emt.at(-1)?.tradeSize ?? '' }),
  ]
}

function racewayHeadline(fit: HoleFit, values: Inputs): string {
  const { raceway, bit, bundle, reasons, smallestRaceway, jamRatio } = fit
  if (!raceway) return ''
  const said = {
    raceway: raceway.tradeSize,
    fill: percentText(raceway.fillPercent, 'up'),
    limit: percentText(raceway.fillLimitPercent, 'down'),
    bit: bit ? bitText(bit, values.units) : '',
  }
  const ways = smallestRaceway
    ? words.say('way.raceway', { raceway: smallestRaceway.tradeSize })
    : words.say('way.split', {})
  if (reasons.includes('raceway-too-full')) return words.say('headline.tooFull', { ...said, ways })
  if (reasons.includes('raceway-too-narrow')) {
    const inside = lengthText(raceway.innerDiameterM, values, 'down')
    return words.say('headline.tooNarrow', {
      ...said,
      bundle: lengthText(bundle.diameterM, values, 'up'),
      inside,
      ways,
    })
  }
  const tight = verdictOf(judgedIn(raceway.innerDiameterM, bundle.diameterM, values)) === 'tight'
  const jam = jamRatio?.mayJam ? [words.say('headline.jam', {})] : []
  return [words.say(tight ? 'headline.fitsTight' : 'headline.fits', said), ...jam].join(' ')
}

function limitsOf({ fit }: Solution, values: Inputs): NonNullable<Composition['limits']> {
  if (!fit.raceway || values.raceway === undefined) return []
  const judged = judgedIn(fit.raceway.innerDiameterM, fit.bundle.diameterM, values)
  const most = Math.max(...judged.map(({ value, limit }) => value / limit))
  return judged.map(({ id, value, limit, unit }) => ({
    id,
    value: limit,
    unit,
    binds: value / limit === most,
  }))
}

function cautionsOf({ fit }: Solution, { rules, material, cables }: Inputs): Composition['cautions'] {
  const iec = rules === 'iec'
  const several = countAll(cables) > 2
  const jam = fit.jamRatio?.mayJam
    ? [{ id: 'jam', values: { ratio: printNumber(fit.jamRatio.ratio, { decimals: 2 }) } }]
    : []
  return [
    'look-behind',
    ...jam,
    ...(material === 'wood' ? ['ask-framing'] : [iec ? 'bushing-iec' : 'bushing']),
    ...(several ? [iec ? 'sealed-hole-iec' : 'sealed-hole'] : []),
    iec ? 'line-apart-iec' : 'line-apart',
    iec ? 'seal-plates-iec' : 'seal-plates',
    'one-measured',
    'old-dust',
  ]
}

function workingOf({ fit }: Solution, values: Inputs): Step[] {
  const { bundle, bit } = fit
  const bundleText = exactly(bundle.diameterM, 'm')
  const all = values.cables.map((cable) => `${countOf(cable)} × ${exactly(roundM(cable), 'm')}`).join(' + ')
  const steps: Step[] = [
    {
      id: 'bundle',
      formula: bundle.placed.length > 2 ? 'smallest circle around all, by search' : 'side by side, Σ d',
      substituted: all,
      result: bundleText,
    },
    {
      id: 'hole',
      formula: `bundle / ${largestShare}`,
      substituted: `${bundleText} / ${largestShare}`,
      result: exactly(bundle.diameterM / largestShare, 'm'),
      source: drillBitRules.bundlePercent.source,
    },
  ]
  if (bit) {
    steps.push({
      id: 'bit',
      formula: 'the next bit up',
      substituted: exactly(bundle.diameterM / largestShare, 'm'),
      result: bitText(bit, values.units),
      source: drillBitRules.source,
    })
  }
  return [...steps, ...racewaySteps(fit, values)]
}

function racewaySteps({ raceway, jamRatio }: HoleFit, values: Inputs): Step[] {
  if (!raceway) return []
  const inside = exactly(raceway.innerDiameterM, 'm')
  const squares = values.cables.map((cable) => `${countOf(cable)} × (${exactly(roundM(cable), 'm')})²`)
  const steps: Step[] = [
    {
      id: 'fill',
      formula: '100 · Σ d² / D²',
      substituted: `100 × (${squares.join(' + ')}) / (${inside})²`,
      result: exactly(raceway.fillPercent, '%'),
      source: racewayRules.emtSource,
    },
    {
      id: 'fillLimit',
      formula: values.nipple ? 'a nipple' : 'one 53 %, two 31 %, more 40 %',
      substituted: `${countAll(values.cables)} cables`,
      result: exactly(raceway.fillLimitPercent, '%'),
      source: racewayRules.fillSource,
    },
  ]
  const [first] = values.cables
  if (jamRatio && first) {
    steps.push({
      id: 'jamRatio',
      formula: '1.05 · D / d, against 2.8 to 3.2',
      substituted: `1.05 × ${inside} / ${exactly(roundM(first), 'm')}`,
      result: exactly(jamRatio.ratio, ''),
      source: racewayRules.jamWidening.source,
    })
  }
  return steps
}

const alsoAssumed = ({ fit }: Solution, { rules }: Inputs): Assumption[] =>
  fit.flatCounted
    ? [
        {
          field: 'cables',
          text: words.say('flat.text', {}),
          why: words.say('flat.why', {}),
          ...(rules === 'nec' ? { source: racewayRules.fillSource } : {}),
        },
      ]
    : []

function pictureOf({ fit }: Solution, values: Inputs): NonNullable<Composition['picture']> {
  const outer = outerOf(fit, values)
  const { cables, units } = values
  const rows = cables.map((cable) => cableSaid(cable, values))
  const data: HoleFitPicture = {
    ...(outer ? { outer: { kind: outer.kind, diameterM: outer.diameterM } } : {}),
    bundleM: fit.bundle.diameterM,
    cables: fit.bundle.placed.map(({ cable, ...place }) => ({ row: cable + 1, ...place })),
    title: words.say(`picture.title.${outer?.kind ?? 'bundle'}`, {}),
    description: words.say('picture.description', {
      outer: outer?.described ?? words.say('picture.outer.none', {}),
      bundle: lengthText(fit.bundle.diameterM, values, 'up'),
      cables: rows.join(', '),
    }),
    labels: {
      outer: outer?.label ?? '',
      bundle: words.say('picture.bundle', { bundle: printLength(fit.bundle.diameterM, units, 'up') }),
      rows: rows.map((cable, at) => words.say('picture.row', { number: String(at + 1), cable })),
    },
  }
  return { kind: 'hole-fit', data }
}

/** The raceway that was asked about, or else the hole. */
function outerOf({ raceway, bit }: HoleFit, values: Inputs) {
  if (raceway && values.raceway !== undefined) {
    const inside = printLength(raceway.innerDiameterM, values.units, 'down')
    const said = { size: raceway.tradeSize, inside, fill: percentText(raceway.fillPercent, 'up') }
    return {
      kind: 'raceway' as const,
      diameterM: raceway.innerDiameterM,
      label: words.say('picture.raceway', said),
      described: words.say('picture.outer.raceway', said),
    }
  }
  if (!bit) return undefined
  const size = bitText(bit, values.units)
  return {
    kind: 'hole' as const,
    diameterM: bit.diameterM,
    label: words.say('picture.hole', { size }),
    described: words.say('picture.outer.hole', { size }),
  }
}

/** "2 of 9 mm", as the person measures. */
function cableSaid(cable: CableRow, { units }: Inputs): string {
  const print = (lengthM: number) => printValue(lengthM, 'm', units)
  const howMany = String(countOf(cable))
  return cable.diameter === undefined
    ? words.say('picture.cable.flat', {
        count: howMany,
        width: print(cable.width ?? 0),
        height: print(cable.height ?? 0),
      })
    : words.say('picture.cable.round', { count: howMany, diameter: print(cable.diameter) })
}

function relations({ cables, units }: Inputs): FieldFault[] {
  const example = units === 'metric' ? '7 mm' : '9/32 in'
  const faults = cables.flatMap(({ diameter, width, height }, at): FieldFault[] => {
    const field = `cables.${at}.diameter`
    if (diameter !== undefined) {
      return width === undefined && height === undefined ? [] : [{ field, reason: 'round-or-flat', example }]
    }
    return width !== undefined && height !== undefined ? [] : [{ field, reason: 'cable-size', example }]
  })
  const inAll = countAll(cables)
  return inAll > mostCables ? [...faults, { field: 'cables', reason: 'too-many-cables' }] : faults
}

/** A claim that all is fine needs a raceway to check, and a rule to check it by. */
function claimFaults({ figure }: Claim, given: ReadonlySet<string>, { rules }: Setting): FieldFault[] {
  if (figure !== 'verdict' || (given.has('raceway') && rules === 'nec')) return []
  return [{ field: 'claim', reason: given.has('raceway') ? 'no-rule-to-check' : 'nothing-to-check' }]
}

const asked = defineQuestion<typeof inputs, Solution>({
  id: 'hole-fit',
  stage: 'way',
  words,
  inputs,
  relations,
  figures: {
    bit: { unit: 'm', better: 'lower', round: 'nearest', value: ({ fit }) => fit.bit?.diameterM },
    bundle: { unit: 'm', better: 'lower', round: 'up', value: ({ fit }) => fit.bundle.diameterM },
    fill: { unit: '%', better: 'lower', round: 'up', value: ({ fit }) => fit.raceway?.fillPercent },
    fillLimit: {
      unit: '%',
      better: 'higher',
      round: 'down',
      value: ({ fit }) => fit.raceway?.fillLimitPercent,
    },
    raceway: {
      unit: '',
      better: 'lower',
      round: 'nearest',
      value: ({ fit }) => fit.smallestRaceway?.tradeSize,
    },
    jamRatio: {
      unit: '',
      better: 'higher',
      round: 'nearest',
      value: ({ fit }) => fit.jamRatio?.ratio,
      text: ({ fit }) => printNumber(fit.jamRatio?.ratio ?? 0, { decimals: 2 }),
    },
  },
  solve,
  outcome: outcomeFor,
  outcomeAt: (values, given) => outcomeFor(solve(values), values, given),
  says,
  unsafe: { 'cables.count': 'up', 'cables.diameter': 'up', 'cables.width': 'up', 'cables.height': 'up' },
  claimFaults,
  judgeClaim: judgeBit,
  claimHolds,
  irrelevant: ({ raceway, rules }) => (rules === 'iec' || raceway === undefined ? ['nipple'] : []),
  otherWays: (values) => {
    if (values.rules === 'iec' || values.raceway === undefined) return []
    const smallest = fitFor(values).smallestRaceway?.tradeSize as Inputs['raceway']
    return [...(smallest ? [{ raceway: smallest }] : []), ...(values.nipple ? [] : [{ nipple: true }])]
  },
  compose: (solution, values, given) => {
    const settings = chosenSettings(values, given)
    const { bit } = solution.fit
    return {
      headline: headline(solution, values),
      limits: limitsOf(solution, values),
      cautions: cautionsOf(solution, values),
      working: workingOf(solution, values),
      alsoAssumed: alsoAssumed(solution, values),
      next: [
        {
          question: 'framing-hole',
          inputs: { ...settings, ...(bit ? { holeDiameter: `${bit.diameterM} m` } : {}) },
        },
        { question: 'pull-plan', inputs: settings },
      ],
      picture: pictureOf(solution, values),
    }
  },
})

type Body = { claim?: { figure?: unknown; value?: unknown } | string; raceway?: unknown }

/** A claim on the raceway says that this raceway is fine, so it is asked like that. */
function withRacewayClaimed(raw: unknown): unknown {
  const { claim, raceway } = (typeof raw === 'object' && raw !== null ? raw : {}) as Body
  if (typeof claim !== 'object' || claim?.figure !== 'raceway' || raceway !== undefined) return raw
  const size = String(claim.value)
    .replace(/\s*(?:in(?:ch)?|")?\s*(?:emt)?\s*$/i, '')
    .trim()
    .replace(/\s+/, '-')
  return { ...(raw as Body), raceway: size, claim: { figure: 'verdict', value: 'holds' } }
}

/** What hole, or what raceway, passes these cables? */
export const holeFit: Question = {
  ...asked,
  answer: (raw, remembered) => asked.answer(withRacewayClaimed(raw), remembered),
  faults: (raw) => asked.faults(withRacewayClaimed(raw)),
}
