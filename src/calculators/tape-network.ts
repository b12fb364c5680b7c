/** How a unit of tape takes its current: through a resistor, or held by a regulator. */
export type TapeStyle = 'resistor' | 'regulated'

/** What a tape is. */
export type TapeDesign = {
  /** m, 0.01–100. */
  lengthM: number
  /** Pitch of the cut marks, m, 0.005–0.5. */
  cutLengthM: number
  /** Rated voltage, V, 3–60. */
  ratedV: number
  /** Rated power, W/m, 0.5–40. */
  ratedWPerM: number
  /** Loop resistance of both rails, ohm/m, 0.005–2. */
  railOhmPerM: number
  /** Where a unit starts to conduct, as a part of the rated voltage, 0.50–0.85. */
  knee: number
  style: TapeStyle
}

/** A feed: where it joins the tape, and the loop resistance of its own cable. */
export type TapeFeed = { atM: number; ohm: number }

/** A joint in the rails: its place, and the ohms it adds to the loop there; `Infinity` is a break. */
export type TapeJoint = { atM: number; ohm: number }

/** What supplies the tape. */
export type TapeSupply = {
  /** Voltage at the driver, V, 0.5–1.15 times rated. */
  sourceV: number
  /** Loop resistance of the cable that all feeds share, ohm; 0 for none. */
  trunkOhm: number
  joints?: readonly TapeJoint[]
}

/** Voltages, currents and losses of a tape at work. */
export type TapeSolution = {
  /** Voltage at each unit, V. */
  unitV: Float64Array
  /** Current of each unit, A. */
  unitA: Float64Array
  /** Light of each unit, percent of rated. */
  lightPercent: Float64Array
  /** Where the feeds part: the driver's voltage less the trunk's drop, V. */
  splitV: number
  /** Current of each feed, A, in the order given. */
  feedA: number[]
  sourceA: number
  /** Power of all units, Σ V·I, W. */
  tapeW: number
  railLossW: number
  feedLossW: number
  trunkLossW: number
  iterations: number
  /** The largest current left unaccounted for at any node, A. */
  residualA: number
}

/**
 * Cut units in a length, `floor(x/s + 1e-6)`: a piece still to cut is never rounded up.
 *
 * @param lengthM m
 * @param cutLengthM pitch of the cut marks, m
 *
 * @example countUnits(5, 0.1) // 50
 */
export function countUnits(lengthM: number, cutLengthM: number): number {
  return Math.floor(lengthM / cutLengthM + 1e-6)
}

/**
 * Cut units in tape that is already cut: a length within 5 mm (at most half a pitch) of a mark is that mark.
 *
 * @param lengthM m, as measured
 * @param cutLengthM pitch of the cut marks, m
 *
 * @example countCutUnits(4.99872, 0.1) // 50, as 16.4 ft is
 */
export function countCutUnits(lengthM: number, cutLengthM: number): number {
  const nearest = Math.round(lengthM / cutLengthM)
  const toleranceM = Math.min(0.005, cutLengthM / 2)
  return Math.abs(lengthM - nearest * cutLengthM) <= toleranceM * (1 + 1e-9)
    ? nearest
    : countUnits(lengthM, cutLengthM)
}

/**
 * Solves a tape as the resistive network it is: one node for each cut unit, joined by the rails, fed through
 * the cables. Unknown are the voltages lost on the way from the driver, which keeps digits that voltages lose.
 *
 * The units' law makes the equations the gradient of a convex, piecewise quadratic energy, so Newton's method
 * ends after finitely many steps, with a line search for the steps that overshoot. Each step is one sweep of the
 * tridiagonal system; a trunk adds one bordered row.
 *
 * @param feeds at least one, or nothing is lit; a feed of no resistance holds its unit at the split's voltage
 * @returns the solution; a part of the tape that no feed reaches is at 0 V
 *
 * Source of the units' law: the piecewise-linear diode of electronics handbooks (common practice for the knee).
 */
export function solveTape(design: TapeDesign, feeds: readonly TapeFeed[], supply: TapeSupply): TapeSolution {
  const network = layOut(design, feeds, supply)
  const state = startAtRest(network)
  let now = startWithoutCeiling(network, state)
  let iterations = 1
  let settled = isExact(now)
  while (!settled && iterations < mostIterations) {
    const before = now
    newtonDirection(network, state, before)
    now = advance(network, state, before)
    iterations++
    const isStalled = !now.segmentsChanged && now.worstA >= 0.5 * before.worstA
    const isStill = now.worstA < smallResidualA && before.worstA < smallResidualA
    settled = isExact(now) || isStill || isStalled
  }
  return describe(feeds, network, state, { iterations, residualA: now.worstA })
}

/** A whole step that stays on the pieces it was made for ends at the solution of those pieces. */
function isExact({ worstA, segmentsChanged }: Evaluation): boolean {
  return worstA < smallResidualA && !segmentsChanged
}

/**
 * The first step takes units as if no regulator held their current down: for resistors that is their law, and for
 * regulated tape it ends near the answer, where a start with every unit at its ceiling is far off on long tapes.
 */
function startWithoutCeiling(network: Network, state: State): Evaluation {
  const unheld = { ...network, mostA: Number.POSITIVE_INFINITY }
  const rest = evaluate(unheld, state)
  newtonDirection(unheld, state, rest)
  const now = advance(unheld, state, rest)
  return network.mostA === unheld.mostA ? now : evaluate(network, state)
}

/** The light of a solved tape in the few numbers it is judged by. */
export type TapeLight = {
  /** Lowest voltage at any unit, V. */
  lowestV: number
  /** Light of the dimmest unit, percent of rated. */
  dimmestPercent: number
  brightestPercent: number
  /** Dimmest by brightest, percent; 0 for a tape that is dark. */
  evennessPercent: number
}

/** Sums up the light of a solved tape of at least one unit. */
export function lightOf({ unitV, lightPercent }: TapeSolution): TapeLight {
  let lowestV = Number.POSITIVE_INFINITY
  let dimmestPercent = Number.POSITIVE_INFINITY
  let brightestPercent = 0
  for (let k = 0; k < unitV.length; k++) {
    lowestV = Math.min(lowestV, unitV[k] as number)
    dimmestPercent = Math.min(dimmestPercent, lightPercent[k] as number)
    brightestPercent = Math.max(brightestPercent, lightPercent[k] as number)
  }
  const evennessPercent = brightestPercent > 0 ? (100 * dimmestPercent) / brightestPercent : 0
  return { lowestV, dimmestPercent, brightestPercent, evennessPercent }
}

const smallResidualA = 5e-10
const mostIterations = 300
/** A cable of less than this holds its unit at the split's voltage: its drop is far below anything a meter shows. */
const joinedOhm = 1e-7

const FREE = 0
const JOINED = 1
const DEAD = 2

type Network = {
  units: number
  /** From each unit to the next, S. */
  linkS: Float64Array
  /** From each unit to the split, S. */
  feedS: Float64Array
  /** Whether a unit's voltage is free, the split's, or none. */
  held: Uint8Array
  feedUnits: number[]
  sourceV: number
  trunkOhm: number
  /** A unit's current: `clamp(slopeS·(V − kneeV), 0, mostA)`. */
  kneeV: number
  slopeS: number
  mostA: number
  ratedA: number
}

type State = {
  /** Split less unit, V. */
  dropV: Float64Array
  /** The same before the step that is being taken, V. */
  fromV: Float64Array
  /** Source less split, V. */
  trunkDropV: number
  /** Current that arrives at each unit less what leaves, A. */
  excessA: Float64Array
  /** Slope of each unit's current at its voltage, S. */
  slopeS: Float64Array
  /** Which piece of its law each unit is on. */
  segment: Uint8Array
  stepV: Float64Array
  trunkStepV: number
  /** How much of the next unit's step each unit takes on. */
  carried: Float64Array
  /** By how much less each unit's drop grows for each volt more that the trunk loses. */
  perTrunk: Float64Array
}

type Evaluation = {
  /** Largest current unaccounted for at a unit or the split, A. */
  worstA: number
  /** What the trunk brings less what the units take, A. */
  trunkExcessA: number
  segmentsChanged: boolean
}

function layOut(design: TapeDesign, feeds: readonly TapeFeed[], supply: TapeSupply): Network {
  const { cutLengthM, ratedV, ratedWPerM, railOhmPerM, knee, style } = design
  const units = countCutUnits(design.lengthM, cutLengthM)
  const kneeV = knee * ratedV
  const ratedA = (ratedWPerM * cutLengthM) / ratedV
  const fullV = style === 'resistor' ? ratedV : regulatedFrom * ratedV
  const { linkS, feedS, held } = workspaceFor(units)
  linkS.fill(1 / (railOhmPerM * cutLengthM), 0, units)
  feedS.fill(0, 0, units)
  held.fill(FREE, 0, units)
  if (units > 0) linkS[units - 1] = 0
  for (const joint of supply.joints ?? []) {
    const link = Math.max(0, Math.min(units - 2, Math.floor(joint.atM / cutLengthM - 0.5 + 1e-6)))
    if (units > 1) linkS[link] = 1 / (1 / (linkS[link] as number) + joint.ohm)
  }
  const feedUnits = feeds.map(({ atM }) => Math.min(units - 1, Math.floor(atM / cutLengthM + 1e-6)))
  feeds.forEach(({ ohm }, i) => {
    const unit = feedUnits[i] as number
    if (ohm < joinedOhm) held[unit] = JOINED
    else if (unit >= 0) feedS[unit] = (feedS[unit] as number) + 1 / ohm
  })
  holdDeadParts(units, linkS, feedS, held)
  return {
    units,
    linkS,
    feedS,
    held,
    feedUnits,
    sourceV: supply.sourceV,
    trunkOhm: supply.trunkOhm,
    kneeV,
    slopeS: ratedA / (fullV - kneeV),
    mostA: style === 'resistor' ? Number.POSITIVE_INFINITY : ratedA,
    ratedA,
  }
}

/** Regulated units hold their current down to this part of the rated voltage. */
const regulatedFrom = 0.9

/** A part of the tape between breaks, with no feed of its own, would leave its voltage undetermined. */
function holdDeadParts(units: number, linkS: Float64Array, feedS: Float64Array, held: Uint8Array): void {
  let start = 0
  let fed = false
  for (let k = 0; k < units; k++) {
    fed ||= held[k] === JOINED || (feedS[k] as number) > 0
    if (linkS[k] !== 0) continue
    if (!fed) held.fill(DEAD, start, k + 1)
    start = k + 1
    fed = false
  }
}

function startAtRest({ units, held, sourceV }: Network): State {
  const { dropV, fromV, excessA, slopeS, segment, stepV, carried, perTrunk } = workspaceFor(units)
  segment.fill(0, 0, units)
  for (let k = 0; k < units; k++) dropV[k] = held[k] === DEAD ? sourceV : 0
  return { trunkDropV: 0, trunkStepV: 0, dropV, fromV, excessA, slopeS, segment, stepV, carried, perTrunk }
}

type Workspace = Pick<Network, 'linkS' | 'feedS' | 'held'> & Omit<State, 'trunkDropV' | 'trunkStepV'>

/**
 * Making a dozen arrays costs more than solving a short tape, and a search solves hundreds, so the arrays that no
 * solution keeps are used again. They may be longer than the tape; nothing of a former tape is read from them.
 */
let workspace: Workspace | undefined

function workspaceFor(units: number): Workspace {
  if (workspace && workspace.linkS.length >= units) return workspace
  const numbers = () => new Float64Array(Math.max(units, 512))
  const marks = () => new Uint8Array(Math.max(units, 512))
  workspace = {
    linkS: numbers(),
    feedS: numbers(),
    held: marks(),
    dropV: numbers(),
    fromV: numbers(),
    excessA: numbers(),
    slopeS: numbers(),
    segment: marks(),
    stepV: numbers(),
    carried: numbers(),
    perTrunk: numbers(),
  }
  return workspace
}

/** Kirchhoff's current law at every node for given drops, and the piece of its law each unit is on. */
function evaluate(network: Network, state: State): Evaluation {
  const { units, linkS, feedS, held, slopeS, mostA, trunkOhm } = network
  const { dropV, trunkDropV, excessA, segment } = state
  // The two large voltages first: close to the knee their difference is exact, and the small drops keep their digits.
  const aboveKneeV = network.sourceV - network.kneeV - trunkDropV
  let worstA = 0
  let takenA = 0
  let feedsA = 0
  let arrivingA = 0
  let segmentsChanged = false
  for (let k = 0; k < units; k++) {
    const drop = dropV[k] as number
    const wantedA = slopeS * (aboveKneeV - drop)
    const piece = wantedA <= 0 ? 0 : wantedA >= mostA ? 2 : 1
    if (piece !== segment[k]) {
      segment[k] = piece
      segmentsChanged = true
    }
    state.slopeS[k] = piece === 1 ? slopeS : 0
    const unitA = piece === 0 ? 0 : piece === 2 ? mostA : wantedA
    const leavingA = k + 1 < units ? (linkS[k] as number) * ((dropV[k + 1] as number) - drop) : 0
    const beforeFeedA = unitA + leavingA - arrivingA
    const feedA = held[k] === FREE ? (feedS[k] as number) * drop : beforeFeedA
    const excess = feedA - beforeFeedA
    excessA[k] = excess
    if (excess > worstA) worstA = excess
    else if (-excess > worstA) worstA = -excess
    takenA += unitA
    feedsA += feedA
    arrivingA = leavingA
  }
  if (trunkOhm === 0) return { worstA, trunkExcessA: 0, segmentsChanged }
  const trunkA = trunkDropV / trunkOhm
  worstA = Math.max(worstA, Math.abs(trunkA - feedsA))
  return { worstA, trunkExcessA: trunkA - takenA, segmentsChanged }
}

/**
 * One sweep of the tridiagonal system gives the step with the split held still; with a trunk the same sweep also
 * gives how each unit follows the split, and the sum of all equations gives the split's own step.
 *
 * Elimination carries the conductance of all that lies behind a node, never a difference, so it loses no digits
 * on stiff rails.
 */
function newtonDirection(network: Network, state: State, { trunkExcessA }: Evaluation): void {
  const { units, linkS, feedS, held, trunkOhm } = network
  const { excessA, slopeS, stepV, carried, perTrunk } = state
  let step = 0
  let follow = 0
  let behindS = 0
  let linkBeforeS = 0
  for (let k = 0; k < units; k++) {
    const linkAfterS = linkS[k] as number
    if (held[k] === FREE) {
      const ownS = slopeS[k] as number
      const toSplitS = behindS + (feedS[k] as number) + ownS
      const inverse = 1 / (toSplitS + linkAfterS)
      step = (linkBeforeS * step - (excessA[k] as number)) * inverse
      follow = (linkBeforeS * follow + ownS) * inverse
      carried[k] = linkAfterS * inverse
      behindS = linkAfterS * toSplitS * inverse
    } else {
      step = 0
      follow = held[k] === DEAD ? 1 : 0
      carried[k] = 0
      behindS = linkAfterS
    }
    stepV[k] = step
    perTrunk[k] = follow
    linkBeforeS = linkAfterS
  }
  let takenA = 0
  let takenPerTrunkS = 0
  for (let k = units - 1; k >= 0; k--) {
    const share = carried[k] as number
    const ownS = slopeS[k] as number
    step = (stepV[k] as number) + share * step
    follow = (perTrunk[k] as number) + share * follow
    stepV[k] = step
    perTrunk[k] = follow
    takenA += ownS * step
    takenPerTrunkS += ownS * (1 - follow)
  }
  if (trunkOhm === 0) return
  state.trunkStepV = -(trunkExcessA + takenA) / (1 / trunkOhm + takenPerTrunkS)
  for (let k = 0; k < units; k++) stepV[k] = (stepV[k] as number) - state.trunkStepV * (perTrunk[k] as number)
}

/** Goes the whole step, or, where the energy rises before its end, about as far as it falls. */
function advance(network: Network, state: State, before: Evaluation): Evaluation {
  const trunkFromV = state.trunkDropV
  const steepness = Math.abs(goWhole(network, state, before))
  let now = evaluate(network, state)
  if (!now.segmentsChanged || now.worstA < smallResidualA) return now
  let low = 0
  let high = 1
  let slope = energySlope(network, state, now)
  while (slope > 0.1 * steepness || (high < 1 && slope < -0.1 * steepness)) {
    const part = (low + high) / 2
    if (part === low || part === high) break
    goPart(network, state, trunkFromV, part)
    now = evaluate(network, state)
    slope = energySlope(network, state, now)
    if (slope > 0) high = part
    else low = part
  }
  // Short of the whole step the pieces are not the ones the step was made for, even if the last two moves agree.
  return { ...now, segmentsChanged: true }
}

/** Takes the whole step, and returns how the energy changed along it where it began. */
function goWhole({ units }: Network, state: State, { trunkExcessA }: Evaluation): number {
  const { fromV, dropV, stepV, excessA } = state
  let slope = trunkExcessA * state.trunkStepV
  for (let k = 0; k < units; k++) {
    const from = dropV[k] as number
    const step = stepV[k] as number
    fromV[k] = from
    dropV[k] = from + step
    slope += (excessA[k] as number) * step
  }
  state.trunkDropV += state.trunkStepV
  return slope
}

function goPart({ units }: Network, state: State, trunkFromV: number, part: number): void {
  const { fromV, dropV, stepV } = state
  for (let k = 0; k < units; k++) dropV[k] = (fromV[k] as number) + part * (stepV[k] as number)
  state.trunkDropV = trunkFromV + part * state.trunkStepV
}

/** How the energy changes along the step: the unaccounted currents times the way each node goes. */
function energySlope({ units }: Network, { excessA, stepV, trunkStepV }: State, now: Evaluation): number {
  let slope = now.trunkExcessA * trunkStepV
  for (let k = 0; k < units; k++) slope += (excessA[k] as number) * (stepV[k] as number)
  return slope
}

function describe(
  feeds: readonly TapeFeed[],
  network: Network,
  { dropV, trunkDropV }: State,
  { iterations, residualA }: { iterations: number; residualA: number },
): TapeSolution {
  const { units, linkS, sourceV, slopeS, kneeV, mostA, ratedA, trunkOhm } = network
  const splitV = sourceV - trunkDropV
  const unitV = new Float64Array(units)
  const unitA = new Float64Array(units)
  const lightPercent = new Float64Array(units)
  let tapeW = 0
  let railLossW = 0
  for (let k = 0; k < units; k++) {
    const drop = dropV[k] as number
    const amperes = Math.min(mostA, Math.max(0, slopeS * (sourceV - kneeV - trunkDropV - drop)))
    unitV[k] = splitV - drop
    unitA[k] = amperes
    lightPercent[k] = (100 * amperes) / ratedA
    tapeW += (splitV - drop) * amperes
    if (k + 1 < units) railLossW += (linkS[k] as number) * ((dropV[k + 1] as number) - drop) ** 2
  }
  const feedA = feedCurrents(feeds, network, dropV, unitA)
  const feedLossW = feeds.reduce(
    (sum, { ohm }, i) => sum + (ohm < joinedOhm ? 0 : (feedA[i] as number) ** 2 * ohm),
    0,
  )
  const sourceA = feedA.reduce((sum, amperes) => sum + amperes, 0)
  return {
    unitV,
    unitA,
    lightPercent,
    splitV,
    feedA,
    sourceA,
    tapeW,
    railLossW,
    feedLossW,
    trunkLossW: trunkOhm > 0 ? trunkDropV ** 2 / trunkOhm : 0,
    iterations,
    residualA,
  }
}

/** A feed with a cable carries by its drop; one without carries what its unit needs, shared if there are several. */
function feedCurrents(
  feeds: readonly TapeFeed[],
  { units, linkS, held, feedUnits }: Network,
  dropV: Float64Array,
  unitA: Float64Array,
): number[] {
  const leavingA = (k: number): number =>
    k >= 0 && k + 1 < units ? (linkS[k] as number) * ((dropV[k + 1] as number) - (dropV[k] as number)) : 0
  return feeds.map(({ ohm }, i) => {
    const unit = feedUnits[i] as number
    if (unit < 0) return 0
    if (held[unit] !== JOINED) return (dropV[unit] as number) / ohm
    if (ohm >= joinedOhm) return 0
    const sharing = feeds.filter((other, j) => feedUnits[j] === unit && other.ohm < joinedOhm).length
    return ((unitA[unit] as number) + leavingA(unit) - leavingA(unit - 1)) / sharing
  })
}
