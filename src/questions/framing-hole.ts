import prompts from '../../prompts/en/framing-hole.yaml'
import {
  type Framing,
  type FramingInput,
  type FramingLimit,
  framing,
  type Hole,
  type Notch,
  type NotchPlace,
} from '../calculators/framing'
import type { Rounding } from '../quantities/print'
import { printLength } from '../quantities/print'
import { lumber, memberDepthM } from '../tables/lumber'
import type { Assumption } from './common/answer'
import { assumed, choice, knownAs, optional, quantity, required, yesNo } from './common/fields'
import { chosenSettings } from './common/line-side'
import { exactly, printValue } from './common/printing'
import { type Claim, type Composition, defineQuestion, type Step } from './common/question'
import type { FieldFault, Values } from './common/read-inputs'
import { type Judged, use as useOf, verdictOf } from './common/verdict'
import { questionWordsOf } from './common/words'

const length = (least: number, most: number) => optional(quantity('length', least, most))

const inputs = {
  member: optional(choice('2x4', '2x6', '2x8', '2x10', '2x12')),
  depth: knownAs('memberDepth', length(0.038, 0.4)),
  use: knownAs(
    'memberUse',
    required(choice('joist', 'stud-bearing', 'stud-bearing-doubled', 'stud-other', 'top-plate')),
  ),
  holeDiameter: length(0.003, 0.15),
  edgeDistance: length(0, 0.4),
  notchDepth: length(0.001, 0.4),
  notchLength: length(0.001, 3),
  place: knownAs('placeAlongSpan', optional(choice('end', 'outer-third', 'middle-third'))),
  otherHoleDistance: length(0, 20),
  engineered: assumed(yesNo(), false),
  span: knownAs('memberSpan', length(0.3, 12)),
  fromSupport: length(0, 12),
}

type Inputs = Values<typeof inputs>

type Solution = {
  asked: FramingInput
  framing: Framing
  /** The notch it may have where the person said, or else anywhere outside the middle third. */
  notch: Framing
  /** The notch it may have at its very end. */
  endNotch: Framing
}

const limitIds = {
  'hole-diameter': 'holeDiameter',
  'edge-left': 'edgeLeft',
  'other-hole': 'otherHole',
  'notch-depth': 'notchDepth',
  'notch-length': 'notchLength',
  'off-centre-line': 'offCentreLine',
  'hole-zone-from': 'holeZoneFrom',
  'hole-zone-to': 'holeZoneTo',
  'notch-zone-from': 'notchZoneFrom',
  'notch-zone-to': 'notchZoneTo',
  'joist-depth': 'joistDepth',
} as const satisfies Record<FramingLimit['id'], string>

const words = questionWordsOf(
  prompts,
  CHECKING && {
    fields: Object.keys(inputs),
    figures: [
      'largestHole',
      'largestHoleWithoutPlate',
      'edgeNeeded',
      'edgeLeft',
      'deepestNotch',
      'longestNotch',
      'platesNeeded',
    ],
    limits: Object.values(limitIds),
    sentences: {
      'of.member': ['member', 'use'],
      'of.depth': ['use', 'depth'],
      'use.joist': [],
      'use.stud-bearing': [],
      'use.stud-bearing-doubled': [],
      'use.stud-other': [],
      'use.top-plate': [],
      'headline.joist': ['what', 'hole', 'edge', 'notch', 'long', 'end'],
      'headline.joistNoHole': ['what', 'notch', 'long', 'end'],
      'headline.stud': ['what', 'hole', 'edge', 'notch', 'noPlate'],
      'headline.studNoHole': ['what', 'notch'],
      'headline.top-plate': ['what', 'hole', 'noPlate'],
      'headline.joist-iec': ['what', 'hole', 'notch'],
      'headline.tooDeep-iec': ['what'],
      'headline.none-iec': ['what'],
      'headline.engineered': [],
      'headline.hole': ['hole', 'what', 'left', 'plates'],
      'headline.holeTight': ['hole', 'what', 'left', 'plates'],
      'headline.notch': ['notch', 'what', 'plates'],
      'headline.notchTight': ['notch', 'what', 'plates'],
      'headline.notAllowed': ['reasons', 'ways'],
      'plates.none': [],
      'plates.one': [],
      'plates.several': ['count'],
      'plates.notch': [],
      'plates.iec': [],
      'plates.none-iec': [],
      'plates.notch-iec': [],
      'needs.place': [],
      'needs.place-iec.hole': [],
      'needs.place-iec.notch': [],
      'needs.tie': [],
      and: [],
      'why.holeDiameter': ['value', 'what', 'limit'],
      'why.holeNone': ['what'],
      'why.edgeLeft': ['value', 'limit'],
      'why.otherHole': ['value', 'limit'],
      'why.notchDepth': ['value', 'limit'],
      'why.notchLength': ['value', 'limit'],
      'why.offCentreLine': ['value'],
      'why.zoneFrom': ['value', 'limit'],
      'why.zoneTo': ['value', 'limit'],
      'why.joistDepth': ['value', 'limit'],
      'why.middleThird': [],
      'why.sameSection': [],
      'why.throughTheEdge': [],
      'way.hole': ['hole', 'edge'],
      'way.holeNoEdge': ['hole'],
      'way.plate': ['hole'],
      'way.notch': ['notch'],
      'way.notchLong': ['notch', 'long'],
      'way.double': ['hole'],
      'way.apart': ['limit'],
      'way.elsewhere': [],
      'place.assumed': [],
      'place.why': [],
      'place.assumed-iec': [],
      'place.why-iec': [],
      'centred.text': ['left'],
      'centred.why': [],
      'says.free': [],
      'says.plates': ['count'],
      'says.onePlate': [],
      'says.protected': [],
      'says.tight': ['says'],
      'says.fails': [],
      'picture.title.joist': [],
      'picture.title.stud': [],
      'picture.title.plate': [],
      'picture.allowed': ['member', 'zone', 'cut'],
      'picture.sized': ['member', 'depth'],
      'picture.zone.edges': ['edge', 'hole'],
      'picture.zone.line': ['hole'],
      'picture.zone.half': ['hole'],
      'picture.zone.none': [],
      'picture.cut.hole': ['hole', 'left', 'verdict'],
      'picture.cut.notch': ['notch', 'verdict'],
      'picture.cut.none': [],
      'picture.verdict.yes': [],
      'picture.verdict.no': [],
      'picture.depth': ['depth'],
      'picture.hole': ['hole'],
      'picture.largest': ['hole'],
      'picture.notch': ['notch'],
      'picture.left': ['left'],
      'picture.zone': [],
      'picture.edge': ['edge'],
      'picture.centre': [],
      'picture.plate': [],
      'picture.protect': [],
      'picture.span': ['span'],
      'picture.spanAny': [],
      'picture.holesHere': [],
      'picture.notchesHere': [],
      'picture.here': [],
    },
    cautions: [
      'never-engineered',
      'maker-sheet',
      'plates',
      'protect-iec',
      'apart',
      'apart-iec',
      'two-doubled',
      'tie',
      'house-rules',
    ],
    working: [
      'depth',
      'largestHole',
      'noPlate',
      'edgeLeft',
      'deepestNotch',
      'longestNotch',
      'plates',
      'zone',
    ],
    columns: [],
    faults: [
      'hole-or-notch',
      'without-hole',
      'without-notch',
      'beyond-the-support',
      'without-span',
      'nothing-to-check',
      'no-figure-to-check',
    ],
  },
)

/** What the drawing needs: lengths in m, and every text ready to be shown. */
export type FramingHolePicture = {
  depthM: number
  /** Half a hole may come this near to an edge; null where holes lie on the centre line. */
  edgeNeededM: number | null
  /** Whether any hole may be bored at all. */
  holesAllowed: boolean
  /** From the upper edge to the hole; the largest hole there may be where none was asked for. */
  hole?: { diameterM: number; fromTopM: number; asked: boolean }
  notch?: { depthM: number; lengthM: number }
  allowed: boolean
  /** Edges that need a steel plate or another protection. */
  plates: { top: boolean; bottom: boolean }
  /** Where along the span iec lets a joist be cut, in shares of it from each support. */
  along?: { holes: readonly [number, number]; notches: readonly [number, number]; here?: number }
  title: string
  description: string
  labels: {
    depth: string
    cut: string
    left?: string
    zone?: string
    plate?: string
    span?: string
    holesHere?: string
    notchesHere?: string
    here?: string
  }
}

const depthOf = ({ member, depth }: Inputs): number => depth ?? memberDepthM(member ?? '') ?? 0

const cutOf = (values: Inputs): Hole | Notch | undefined => {
  const { holeDiameter, edgeDistance, notchDepth, notchLength } = values
  if (holeDiameter !== undefined)
    return { kind: 'hole', diameterM: holeDiameter, edgeDistanceM: edgeDistance }
  if (notchDepth === undefined) return undefined
  return { kind: 'notch', depthM: notchDepth, lengthM: notchLength, place: placeOf(values) }
}

/** The third of the span, said or seen from the distance to the support. */
function placeOf({ place, span, fromSupport }: Inputs): NotchPlace | undefined {
  if (place !== undefined || span === undefined || fromSupport === undefined) return place
  return Math.min(fromSupport, span - fromSupport) > span / 3 ? 'middle-third' : 'outer-third'
}

function solve(values: Inputs): Solution {
  const asked: FramingInput = {
    rules: values.rules,
    use: values.use,
    depthM: depthOf(values),
    cut: cutOf(values),
    otherHoleDistanceM: values.otherHoleDistance,
    engineered: values.engineered,
    spanM: values.span,
    fromSupportM: values.fromSupport,
  }
  const notchAt = (place: NotchPlace | undefined): Framing =>
    framing({ ...asked, cut: { kind: 'notch', depthM: 0, place } })
  return { asked, framing: framing(asked), notch: notchAt(placeOf(values)), endNotch: notchAt('end') }
}

/** Rules that say where a rule applies; they are broken or not, with no degrees between. */
const withoutDegrees: readonly FramingLimit['id'][] = ['joist-depth', 'off-centre-line']

const judgedOf = ({ framing: { limits } }: Solution): Judged[] =>
  limits
    .filter(({ id }) => !withoutDegrees.includes(id))
    .map(({ id, ...limit }) => ({ id: limitIds[id], unit: 'm', ...limit }))

/** The limit of which most is used. */
const bindingOf = (solution: Solution): string =>
  [...judgedOf(solution)].sort((a, b) => useOf(b) - useOf(a))[0]?.id ?? ''

const lengthText = (lengthM: number | null, { units }: Inputs, rounding: Rounding): string =>
  printValue(Math.max(0, lengthM ?? 0), 'm', units, rounding)

/** "2x10 joist", or "joist 195 mm (7-11/16 in) deep" */
function nameOf(values: Inputs): string {
  const use = words.say(`use.${values.use}`, {})
  const { member } = values
  return member
    ? words.say('of.member', { member, use })
    : words.say('of.depth', { use, depth: lengthText(depthOf(values), values, 'nearest') })
}

function headline(solution: Solution, values: Inputs): string {
  const { framing: found, asked } = solution
  const what = nameOf(values)
  if (found.reasons.includes('engineered')) return words.say('headline.engineered', {})
  if (found.reasons.includes('no-figure')) return words.say('headline.none-iec', { what })
  if (!asked.cut) return allowanceSaid(solution, values)
  if (!found.allowed) {
    const reasons = reasonsSaid(found, values).join(words.say('and', {}))
    return words.say('headline.notAllowed', { reasons, ways: waysOut(solution, values).join(' ') })
  }
  const tight = verdictOf(judgedOf(solution)) === 'tight' ? 'Tight' : ''
  const plates = [platesSaid(found, values), ...needsSaid(found, values)].join(' ')
  return asked.cut.kind === 'hole'
    ? words.say(`headline.hole${tight}`, {
        hole: lengthText(asked.cut.diameterM, values, 'nearest'),
        what,
        left: lengthText(found.edgeLeftM, values, 'down'),
        plates,
      })
    : words.say(`headline.notch${tight}`, {
        notch: lengthText(asked.cut.depthM, values, 'nearest'),
        what,
        plates,
      })
}

/** What the member may have, when nobody asks for one hole or notch. */
function allowanceSaid({ framing: found, notch, endNotch }: Solution, values: Inputs): string {
  const down = (lengthM: number | null) => lengthText(lengthM, values, 'down')
  const what = nameOf(values)
  const said = {
    what,
    hole: down(found.largestHoleM),
    noPlate: down(found.largestHoleWithoutPlateM),
    edge: lengthText(found.edgeNeededM, values, 'up'),
    notch: down(notch.deepestNotchM),
    long: down(notch.longestNotchM),
    end: down(endNotch.deepestNotchM),
  }
  const bored = (found.largestHoleM ?? 0) > 0
  if (values.rules === 'iec')
    return words.say(
      found.reasons.includes('joist-depth') ? 'headline.tooDeep-iec' : 'headline.joist-iec',
      said,
    )
  if (values.use === 'top-plate') return words.say('headline.top-plate', said)
  if (values.use !== 'joist') return words.say(bored ? 'headline.stud' : 'headline.studNoHole', said)
  const outside = framing({ ...outsideMiddle, depthM: depthOf(values) })
  return words.say(bored ? 'headline.joist' : 'headline.joistNoHole', {
    ...said,
    notch: down(outside.deepestNotchM),
    long: down(outside.longestNotchM),
  })
}

const outsideMiddle = { rules: 'nec', use: 'joist', engineered: false } as const

function platesSaid({ platesNeeded }: Framing, { rules, notchDepth }: Inputs): string {
  if (notchDepth !== undefined) return words.say(rules === 'iec' ? 'plates.notch-iec' : 'plates.notch', {})
  if (rules === 'iec') return words.say(platesNeeded ? 'plates.iec' : 'plates.none-iec', {})
  if (!platesNeeded) return words.say('plates.none', {})
  return platesNeeded === 1
    ? words.say('plates.one', {})
    : words.say('plates.several', { count: String(platesNeeded) })
}

function needsSaid({ needs }: Framing, { rules, notchDepth }: Inputs): string[] {
  return needs.map((need) => {
    if (need === 'top-plate-tie') return words.say('needs.tie', {})
    if (rules === 'nec') return words.say('needs.place', {})
    return words.say(notchDepth === undefined ? 'needs.place-iec.hole' : 'needs.place-iec.notch', {})
  })
}

function reasonsSaid(found: Framing, values: Inputs): string[] {
  const what = nameOf(values)
  const ofLimits = found.limits
    .filter(({ id }) => found.reasons.includes(id))
    .map(({ id, value, limit, sense }) => {
      const [safeValue, safeLimit] =
        sense === 'at-most' ? (['up', 'down'] as const) : (['down', 'up'] as const)
      const said = {
        what,
        value: lengthText(value, values, safeValue),
        limit: lengthText(limit, values, safeLimit),
      }
      if (id === 'hole-diameter' && limit <= 0) return words.say('why.holeNone', said)
      if (id.endsWith('zone-from')) return words.say('why.zoneFrom', said)
      if (id.endsWith('zone-to')) return words.say('why.zoneTo', said)
      return words.say(`why.${limitIds[id]}` as 'why.edgeLeft', said)
    })
  const others = {
    'notch-in-middle-third': 'why.middleThird',
    'same-section': 'why.sameSection',
    'through-the-edge': 'why.throughTheEdge',
  } as const
  const ofPlace = Object.entries(others).flatMap(([reason, key]) =>
    found.reasons.includes(reason as keyof typeof others) ? [words.say(key, {})] : [],
  )
  // Too deep for a place where none is allowed says the same twice.
  return ofPlace.includes(words.say('why.middleThird', {})) ? ofPlace : [...ofLimits, ...ofPlace]
}

/** What would be allowed instead, each with its number. */
function waysOut(solution: Solution, values: Inputs): string[] {
  const { framing: found, asked } = solution
  const ways = asked.cut?.kind === 'hole' ? holeWays(solution, values) : notchWays(solution, values)
  const apart = found.limits.find(({ id }) => id === 'other-hole' && found.reasons.includes(id))
  if (apart) ways.push(words.say('way.apart', { limit: lengthText(apart.limit, values, 'up') }))
  return ways.length > 0 ? ways : [words.say('way.elsewhere', {})]
}

function holeWays({ framing: found, asked }: Solution, values: Inputs): string[] {
  const { reasons, largestHoleM, edgeNeededM } = found
  const sizeOrPlace = (['hole-diameter', 'edge-left', 'off-centre-line', 'through-the-edge'] as const).some(
    (reason) => reasons.includes(reason),
  )
  if (!sizeOrPlace || !largestHoleM || reasons.includes('joist-depth')) return []
  const hole = lengthText(largestHoleM, values, 'down')
  if (values.use === 'top-plate') return [words.say('way.plate', { hole })]
  if (edgeNeededM === null) return [words.say('way.holeNoEdge', { hole })]
  const ways = [words.say('way.hole', { hole, edge: lengthText(edgeNeededM, values, 'up') })]
  const doubled = framing({ ...asked, use: 'stud-bearing-doubled' })
  if (values.use === 'stud-bearing' && doubled.allowed && doubled.largestHoleM)
    ways.push(words.say('way.double', { hole: lengthText(doubled.largestHoleM, values, 'down') }))
  return ways
}

function notchWays({ framing: found, asked }: Solution, values: Inputs): string[] {
  const { reasons } = found
  if (reasons.includes('joist-depth')) return []
  const size = reasons.some((reason) =>
    ['notch-depth', 'notch-length', 'notch-in-middle-third', 'through-the-edge'].includes(reason),
  )
  if (!size) return []
  const cut = asked.cut as Notch
  const place = cut.place === 'middle-third' ? 'outer-third' : cut.place
  const instead = framing({ ...asked, cut: { ...cut, place } })
  const notch = lengthText(instead.deepestNotchM, values, 'down')
  return instead.longestNotchM === null
    ? [words.say('way.notch', { notch })]
    : [words.say('way.notchLong', { notch, long: lengthText(instead.longestNotchM, values, 'down') })]
}

const cutSource = ({ rules, use }: Inputs): string => {
  if (rules === 'iec') return 'approved-document-a'
  if (use === 'joist') return 'irc-r502-8-1'
  return use === 'top-plate' ? 'irc-r602-6-1' : 'irc-r602-6'
}

/** How each kind of member limits its largest hole and its deepest notch. */
const formulas = {
  joist: { hole: 'least of d / 3 and d − 2 × 2 in', notch: 'd / 6', end: 'd / 4' },
  'stud-bearing': { hole: 'least of 0.4 · d and d − 2 × 5/8 in', notch: '0.25 · d' },
  'stud-bearing-doubled': { hole: 'least of 0.6 · d and d − 2 × 5/8 in', notch: '0.25 · d' },
  'stud-other': { hole: 'least of 0.6 · d and d − 2 × 5/8 in', notch: '0.4 · d' },
  'top-plate': { hole: 'd / 2', notch: 'd / 2' },
  iec: { hole: '0.25 · d', notch: '0.125 · d' },
} as const

function notchFormula(values: Inputs): string {
  if (values.rules === 'iec') return formulas.iec.notch
  const place = values.use === 'joist' ? placeOf(values) : undefined
  if (place === 'end') return formulas.joist.end
  return place === 'middle-third' ? 'none in the middle third' : formulas[values.use].notch
}

function workingOf({ framing: found, notch, asked }: Solution, values: Inputs): Step[] {
  const depth: Step = depthStep(values)
  if (found.largestHoleM === null) return [depth]
  const d = exactly(asked.depthM, 'm')
  const m = (lengthM: number | null) => exactly(lengthM ?? 0, 'm')
  const source = cutSource(values)
  const iec = values.rules === 'iec'
  const formula = iec ? formulas.iec.hole : formulas[values.use].hole
  const ofNotch = notchFormula(values)
  const filled = (text: string) => text.replace(/\bd\b/g, d)
  return [
    depth,
    { id: 'largestHole', formula, substituted: filled(formula), result: m(found.largestHoleM), source },
    {
      id: 'noPlate',
      formula: iec ? 'least of that and d − 2 × 50 mm' : 'least of that and d − 2 × 1-1/4 in',
      substituted: `least of ${m(found.largestHoleM)} and ${d} − 2 × ${iec ? '50 mm' : '1-1/4 in'}`,
      result: m(found.largestHoleWithoutPlateM),
      source: iec ? 'bs-7671-522-6' : 'nec-300-4-a',
    },
    {
      id: 'deepestNotch',
      formula: ofNotch,
      substituted: filled(ofNotch),
      result: m(notch.deepestNotchM),
      source,
    },
    ...(notch.longestNotchM
      ? [
          {
            id: 'longestNotch',
            formula: 'd / 3',
            substituted: filled('d / 3'),
            result: m(notch.longestNotchM),
            source,
          },
        ]
      : []),
    ...cutSteps(found, asked, values),
  ]
}

function depthStep(values: Inputs): Step {
  const { member } = values
  const result = exactly(depthOf(values), 'm')
  return member
    ? { id: 'depth', formula: 'dressed depth d', substituted: member, result, source: lumber.source }
    : { id: 'depth', formula: 'd, as given', substituted: result, result }
}

function cutSteps(
  found: Framing,
  { cut, depthM, spanM, fromSupportM }: FramingInput,
  values: Inputs,
): Step[] {
  const steps: Step[] = []
  const iec = values.rules === 'iec'
  if (cut?.kind === 'hole') {
    const edge = cut.edgeDistanceM
    steps.push({
      id: 'edgeLeft',
      formula: edge === undefined ? '(d − hole) / 2' : 'least of e and d − hole − e',
      substituted:
        edge === undefined
          ? `(${exactly(depthM, 'm')} − ${exactly(cut.diameterM, 'm')}) / 2`
          : `e = ${exactly(edge, 'm')}, ${exactly(depthM, 'm')} − ${exactly(cut.diameterM, 'm')} − ${exactly(edge, 'm')}`,
      result: exactly(found.edgeLeftM ?? 0, 'm'),
      source: cutSource(values),
    })
  }
  if (cut) {
    steps.push({
      id: 'plates',
      formula: iec ? 'edges nearer than 50 mm; every notch' : 'edges nearer than 1-1/4 in; every notch',
      substituted:
        cut.kind === 'hole'
          ? `${exactly(found.edgeLeftM ?? 0, 'm')} left at the nearer edge`
          : `notch ${exactly(cut.depthM, 'm')} deep`,
      result: String(found.platesNeeded ?? 0),
      source: iec ? 'bs-7671-522-6' : 'nec-300-4-a',
    })
  }
  if (iec && cut && spanM !== undefined && fromSupportM !== undefined) {
    steps.push({
      id: 'zone',
      formula: cut.kind === 'hole' ? '0.25 to 0.4 of the span' : '0.07 to 0.25 of the span',
      substituted: `${exactly(Math.min(fromSupportM, spanM - fromSupportM), 'm')} / ${exactly(spanM, 'm')}`,
      result: exactly(Math.min(fromSupportM, spanM - fromSupportM) / spanM, ''),
      source: 'approved-document-a',
    })
  }
  return steps
}

function cautionsOf({ framing: found, asked }: Solution, { rules, use }: Inputs): string[] {
  const iec = rules === 'iec'
  const unknown = found.largestHoleM === null
  return [
    unknown ? 'maker-sheet' : 'never-engineered',
    'look-behind',
    ...(unknown ? [] : [iec ? 'protect-iec' : 'plates', iec ? 'apart-iec' : 'apart']),
    ...(use === 'stud-bearing-doubled' && !iec ? ['two-doubled'] : []),
    ...(use === 'top-plate' && !iec && !asked.engineered ? ['tie'] : []),
    iec ? 'seal-plates-iec' : 'seal-plates',
    'house-rules',
  ]
}

function alsoAssumed({ framing: found, asked }: Solution, values: Inputs): Assumption[] {
  const { cut } = asked
  const assumptions: Assumption[] = []
  const { edgeLeftM } = found
  if (cut?.kind === 'hole' && cut.edgeDistanceM === undefined && edgeLeftM !== null) {
    assumptions.push({
      field: 'edgeDistance',
      text: words.say('centred.text', { left: lengthText(edgeLeftM, values, 'down') }),
      why: words.say('centred.why', {}),
    })
  }
  if (found.needs.includes('place-along-span')) {
    const iec = values.rules === 'iec'
    assumptions.push({
      field: iec ? 'fromSupport' : 'place',
      text: words.say(iec ? 'place.assumed-iec' : 'place.assumed', {}),
      why: words.say(iec ? 'place.why-iec' : 'place.why', {}),
    })
  }
  return assumptions
}

function pictureOf(
  solution: Solution,
  values: Inputs,
): { picture: NonNullable<Composition['picture']> } | object {
  const { framing: found, asked } = solution
  if (found.largestHoleM === null) return {}
  const { cut, depthM } = asked
  const hole = drawnHole(solution)
  const notch = cut?.kind === 'notch' ? { depthM: cut.depthM, lengthM: cut.lengthM ?? depthM / 3 } : undefined
  const clear = (sideM: number) => sideM < (values.rules === 'iec' ? 0.05 : 1.25 * 0.0254) * (1 - 1e-9)
  const data: FramingHolePicture = {
    depthM,
    edgeNeededM: found.edgeNeededM,
    holesAllowed: found.largestHoleM > 0,
    ...(hole ? { hole } : {}),
    ...(notch ? { notch } : {}),
    allowed: found.allowed !== false,
    plates: {
      top: notch !== undefined || (hole?.asked === true && clear(hole.fromTopM)),
      bottom: hole?.asked === true && clear(depthM - hole.diameterM - hole.fromTopM),
    },
    ...alongOf(values),
    title: words.say(`picture.title.${kindOf(values)}`, {}),
    description: describe(solution, values),
    labels: labelsOf(solution, values),
  }
  return { picture: { kind: 'framing-hole', data } }
}

const kindOf = ({ use }: Inputs): 'joist' | 'stud' | 'plate' => {
  if (use === 'joist') return 'joist'
  return use === 'top-plate' ? 'plate' : 'stud'
}

function drawnHole({ framing: found, asked: { cut, depthM } }: Solution): FramingHolePicture['hole'] {
  if (cut?.kind === 'notch') return undefined
  const diameterM = cut?.diameterM ?? found.largestHoleM ?? 0
  if (diameterM <= 0) return undefined
  return { diameterM, fromTopM: cut?.edgeDistanceM ?? (depthM - diameterM) / 2, asked: cut !== undefined }
}

function alongOf({ rules, use, span, fromSupport }: Inputs): Pick<FramingHolePicture, 'along'> {
  if (rules !== 'iec' || use !== 'joist') return {}
  const here = span !== undefined && fromSupport !== undefined ? { here: fromSupport / span } : {}
  return { along: { holes: [0.25, 0.4], notches: [0.07, 0.25], ...here } }
}

/** Short texts: there is no room for both systems in the drawing. */
function labelsOf({ framing: found, asked: { cut, depthM } }: Solution, values: Inputs) {
  const short = (lengthM: number | null, rounding: Rounding) =>
    printLength(Math.max(0, lengthM ?? 0), values.units, rounding)
  const iec = values.rules === 'iec'
  const labels: FramingHolePicture['labels'] = {
    depth: words.say('picture.depth', { depth: short(depthM, 'nearest') }),
    cut: cutLabel(found, cut, short),
  }
  if (cut?.kind === 'hole') labels.left = words.say('picture.left', { left: short(found.edgeLeftM, 'down') })
  if (found.largestHoleM) labels.zone = words.say(iec ? 'picture.centre' : 'picture.zone', {})
  if (found.platesNeeded) labels.plate = words.say(iec ? 'picture.protect' : 'picture.plate', {})
  if (!iec) return labels
  return {
    ...labels,
    span:
      values.span === undefined
        ? words.say('picture.spanAny', {})
        : words.say('picture.span', { span: short(values.span, 'nearest') }),
    holesHere: words.say('picture.holesHere', {}),
    notchesHere: words.say('picture.notchesHere', {}),
    here: words.say('picture.here', {}),
  }
}

function cutLabel(
  { largestHoleM }: Framing,
  cut: Hole | Notch | undefined,
  short: (lengthM: number | null, rounding: Rounding) => string,
): string {
  if (cut?.kind === 'notch') return words.say('picture.notch', { notch: short(cut.depthM, 'nearest') })
  if (cut) return words.say('picture.hole', { hole: short(cut.diameterM, 'nearest') })
  return largestHoleM
    ? words.say('picture.largest', { hole: short(largestHoleM, 'down') })
    : words.say('picture.zone.none', {})
}

function describe({ framing: found, asked: { cut, depthM } }: Solution, values: Inputs): string {
  const hole = lengthText(found.largestHoleM, values, 'down')
  const edge = lengthText(found.edgeNeededM, values, 'up')
  const verdict = words.say(found.allowed === false ? 'picture.verdict.no' : 'picture.verdict.yes', {})
  const drawn = () => {
    if (cut?.kind === 'hole')
      return words.say('picture.cut.hole', {
        hole: lengthText(cut.diameterM, values, 'nearest'),
        left: lengthText(found.edgeLeftM, values, 'down'),
        verdict,
      })
    if (cut)
      return words.say('picture.cut.notch', { notch: lengthText(cut.depthM, values, 'nearest'), verdict })
    return found.largestHoleM ? words.say('picture.cut.none', {}) : ''
  }
  const zone = () => {
    if (!found.largestHoleM) return words.say('picture.zone.none', {})
    if (values.use === 'top-plate') return words.say('picture.zone.half', { hole })
    return found.edgeNeededM === null
      ? words.say('picture.zone.line', { hole })
      : words.say('picture.zone.edges', { edge, hole })
  }
  const member = nameOf(values)
  return words
    .say('picture.allowed', {
      member: values.member
        ? words.say('picture.sized', { member, depth: lengthText(depthM, values, 'nearest') })
        : member.charAt(0).toUpperCase() + member.slice(1),
      zone: zone(),
      cut: drawn(),
    })
    .trim()
}

function relations(values: Inputs, given: ReadonlySet<string>): FieldFault[] {
  const { holeDiameter, notchDepth, span, fromSupport, units } = values
  const faults: FieldFault[] = []
  if (holeDiameter !== undefined && notchDepth !== undefined)
    faults.push({ field: 'notchDepth', reason: 'hole-or-notch' })
  if (given.has('edgeDistance') && holeDiameter === undefined)
    faults.push({ field: 'edgeDistance', reason: 'without-hole' })
  if (given.has('notchLength') && notchDepth === undefined)
    faults.push({ field: 'notchLength', reason: 'without-notch' })
  if (fromSupport !== undefined && span === undefined)
    faults.push({ field: 'fromSupport', reason: 'without-span' })
  if (fromSupport !== undefined && span !== undefined && fromSupport > span)
    faults.push({
      field: 'fromSupport',
      reason: 'beyond-the-support',
      example: printLength(span / 3, units, 'down'),
    })
  return faults
}

/** A claim needs a rule to check it by; one that all is fine also needs something to check. */
function claimFaults({ figure }: Claim, given: ReadonlySet<string>, values: Partial<Inputs>): FieldFault[] {
  const { rules, use, engineered } = values
  // That engineered timber is left alone is a rule of its own.
  if (engineered) return []
  if (rules === 'iec' && use !== undefined && use !== 'joist')
    return [{ field: 'claim', reason: 'no-figure-to-check' }]
  const nothing = figure === 'verdict' && !given.has('holeDiameter') && !given.has('notchDepth')
  return nothing ? [{ field: 'claim', reason: 'nothing-to-check' }] : []
}

/** May I bore or notch this joist or stud here? */
export const framingHole = defineQuestion<typeof inputs, Solution>({
  id: 'framing-hole',
  stage: 'way',
  words,
  inputs,
  alternatives: [[['member'], ['depth']]],
  relations,
  figures: {
    largestHole: {
      unit: 'm',
      better: 'higher',
      round: 'down',
      value: (s) => s.framing.largestHoleM ?? undefined,
    },
    largestHoleWithoutPlate: {
      unit: 'm',
      better: 'higher',
      round: 'down',
      value: (s) => s.framing.largestHoleWithoutPlateM ?? undefined,
    },
    edgeNeeded: {
      unit: 'm',
      better: 'lower',
      round: 'up',
      value: (s) => s.framing.edgeNeededM || undefined,
    },
    edgeLeft: {
      unit: 'm',
      better: 'higher',
      round: 'down',
      value: (s) => s.framing.edgeLeftM ?? undefined,
    },
    deepestNotch: {
      unit: 'm',
      better: 'higher',
      round: 'down',
      value: (s) => s.notch.deepestNotchM ?? undefined,
    },
    longestNotch: {
      unit: 'm',
      better: 'higher',
      round: 'down',
      value: (s) => s.notch.longestNotchM ?? undefined,
    },
    platesNeeded: {
      unit: 'count',
      better: 'lower',
      round: 'up',
      value: (s) => s.framing.platesNeeded ?? undefined,
    },
  },
  solve,
  claimFaults,
  outcome: (solution) => ({
    step: solution.framing.platesNeeded ?? '',
    // Which limit is nearest changes nothing for the person as long as all of them hold.
    binding: '',
    judged: judgedOf(solution),
    fails: solution.framing.allowed === false,
  }),
  says: ({ step, judged, fails }, { rules, holeDiameter }) => {
    if (fails) return words.say('says.fails', {})
    const says = () => {
      if (!step) return words.say('says.free', {})
      if (rules === 'iec' || holeDiameter === undefined) return words.say('says.protected', {})
      return step === 1 ? words.say('says.onePlate', {}) : words.say('says.plates', { count: String(step) })
    }
    return verdictOf(judged) === 'tight' ? words.say('says.tight', { says: says() }) : says()
  },
  unsafe: {
    holeDiameter: 'up',
    edgeDistance: 'down',
    notchDepth: 'up',
    notchLength: 'up',
    otherHoleDistance: 'down',
    depth: 'down',
    fromSupport: 'down',
    span: 'up',
  },
  // Without a hole or a notch, or without a rule for it, there is nothing that a change could break.
  irrelevant: ({ holeDiameter, notchDepth, rules, use }) =>
    (holeDiameter === undefined && notchDepth === undefined) || (rules === 'iec' && use !== 'joist')
      ? [
          'depth',
          'holeDiameter',
          'edgeDistance',
          'notchDepth',
          'notchLength',
          'otherHoleDistance',
          'fromSupport',
          'span',
        ]
      : [],
  otherWays: (values) => [
    ...(values.holeDiameter !== undefined && values.edgeDistance !== undefined
      ? [{ edgeDistance: Math.max(0, (depthOf(values) - values.holeDiameter) / 2) }]
      : []),
    ...(values.use === 'stud-bearing' ? [{ use: 'stud-bearing-doubled' as const }] : []),
    ...(values.notchDepth !== undefined && placeOf(values) === 'middle-third' && values.place !== undefined
      ? [{ place: 'outer-third' as const }]
      : []),
  ],
  compose: (solution, values, given) => {
    const settings = chosenSettings(values, given)
    const binding = bindingOf(solution)
    return {
      headline: headline(solution, values),
      limits: solution.framing.limits.map(({ id, limit, sense }) => ({
        id: limitIds[id],
        value: limit,
        unit: 'm',
        text: lengthText(limit, values, sense === 'at-most' ? 'down' : 'up'),
        binds: limitIds[id] === binding || solution.framing.reasons.includes(id),
      })),
      cautions: cautionsOf(solution, values),
      working: workingOf(solution, values),
      alsoAssumed: alsoAssumed(solution, values),
      next: [
        { question: 'hole-fit', inputs: settings },
        { question: 'pull-plan', inputs: settings },
      ],
      ...pictureOf(solution, values),
    }
  },
})
