import { spareAbove, spareBelow } from './limit'
import {
  countUnits,
  lightOf,
  solveTape,
  type TapeDesign,
  type TapeFeed,
  type TapeLight,
  type TapeSolution,
} from './tape-network'

/** Where a tape is fed. */
export type FeedPlace = 'one-end' | 'both-ends' | 'middle'

/** What can stop a tape from running on. */
export type ReachLimitId = 'driver' | 'evenness' | 'brightness' | 'maker' | 'feedCapacity'

/** How far may this tape run. */
export type ReachQuestion = {
  /** The tape, its length left open. */
  tape: Omit<TapeDesign, 'lengthM'>
  feed: FeedPlace
  /** One conductor of the feed cable, ohm/m. */
  cableOhmPerM: number
  /** Cable from the driver to the feed (the near one of two), one way, m, >= 0. */
  feedDistanceM: number
  /** Cable to the far end, one way, m; by default the near feed's and the run itself. */
  farFeedDistanceM?: number
  /** What the feed cable may carry continuously, A; not judged if not given. */
  feedCapacityA?: number
  /** Rating of the driver, W. */
  driverW: number
  /** Percent of the rating that the driver may be loaded to. */
  driverLoadLimitPercent: number
  /** Least light of the dimmest unit by the brightest, percent. */
  evennessPercent: number
  /** Least light of the dimmest unit, percent of rated. */
  leastLightPercent: number
  /** Longest run fed at one end that the maker allows, m. */
  makerLimitM?: number
}

/** How far one limit lets the tape run. */
export type ReachLimit = {
  id: ReachLimitId
  units: number
  reachM: number
  /** Whether the limit still held at the longest tape that is solved, so that it lies beyond. */
  beyond: boolean
}

/** A tape of a certain number of units at work. */
export type TapeAtWork = {
  feeds: TapeFeed[]
  solution: TapeSolution
  light: TapeLight
  /** Current of the feed nearest its capacity (with no cable anywhere: of the largest), A. */
  busiestFeedA: number
}

export type Reach = {
  units: number
  reachM: number
  limits: ReachLimit[]
  /** The limits that stop the tape there; all of them where several do. */
  binding: ReachLimitId[]
  /** The tape at its reach; `undefined` when not even one unit will do. */
  atReach: TapeAtWork | undefined
  /** Rated power at the reach, W. */
  loadW: number
  /** The same in percent of the driver's rating. */
  driverLoadPercent: number
}

/** Longest tape that is solved, m and units. */
const longestM = 100
const mostUnits = 5000

/**
 * How far a tape can run, and which limits stop it: driver, evenness, brightness, the maker's printed run and
 * the feed cable's capacity. Each limit has its own reach, down to a cut; the least is the answer.
 *
 * Every limit holds at the reach, and with one cut more the binding ones do not. What the reach itself does not need,
 * the limits' own and the tape at work, is worked out when somebody looks.
 *
 * @example reachOfTape({ … 24 V, 14.4 W/m, 96 W at 80 % … }).reachM // 5.3
 */
export function reachOfTape(question: ReachQuestion): Reach {
  const { tape, driverW } = question
  const longest = longestOf(question)
  const atWork = tapeAtWork(question)
  const judges = judgesOf(question, atWork)
  const units = mostRunning(judges, longest)
  const loadW = tape.ratedWPerM * units * tape.cutLengthM
  const isBinding = ({ spare }: Judge) => spare(units + 1) < 0
  return {
    units,
    reachM: units * tape.cutLengthM,
    get limits() {
      return judges.map((judge) => {
        const limitUnits = isBinding(judge)
          ? units
          : (judge.counted ?? mostHolding(judge.spare, longest, units))
        const beyond = judge.counted === undefined && limitUnits === longest
        return { id: judge.id, units: limitUnits, reachM: limitUnits * tape.cutLengthM, beyond }
      })
    },
    get binding() {
      return judges.filter(isBinding).map(({ id }) => id)
    },
    get atReach() {
      return units > 0 ? atWork(units) : undefined
    },
    loadW,
    driverLoadPercent: (100 * loadW) / driverW,
  }
}

/** The most units at which every limit holds, those that are counted first: the others need not look further. */
function mostRunning(judges: readonly Judge[], longest: number): number {
  let most = Math.min(longest, ...judges.flatMap(({ counted }) => counted ?? []))
  // Should a limit that is not monotone break below its reach, that lower place is its reach.
  for (let broken: Judge | undefined = judges[0]; broken && most > 0; ) {
    for (const { spare, counted } of judges)
      if (counted === undefined && most > 0) most = mostHolding(spare, most)
    broken = judges.find(({ spare }) => spare(most) < 0)
  }
  return most
}

/** The most units that are solved. */
const longestOf = ({ tape }: ReachQuestion): number =>
  Math.max(1, Math.min(mostUnits, countUnits(longestM, tape.cutLengthM)))

/**
 * Whether every limit holds for a tape of so many units: whether its reach is as far as that, for a single solution of
 * the tape.
 *
 * @param units a whole number, >= 0; more than are ever solved never hold, but for a limit that is counted
 * @param only the one limit to ask of
 * @param solve what solves the tape, where one search asks for many of them
 */
export function runsFor(
  question: ReachQuestion,
  units: number,
  only?: ReachLimitId,
  solve: TapeSolver = solveUnits,
): boolean {
  const judges = judgesOf(question, tapeAtWork(question, solve)).filter(
    ({ id }) => only === undefined || id === only,
  )
  const isCounted = ({ counted }: Judge) => counted !== undefined
  const solved = judges.filter((judge) => !isCounted(judge))
  if (units > longestOf(question) && (only === undefined || solved.length > 0)) return false
  // What is counted first, since it takes no solution.
  return [...judges.filter(isCounted), ...solved].every(({ spare }) => spare(units) >= 0)
}

type Judge = {
  id: ReachLimitId
  /** How much of the limit a tape of so many units leaves, in its own unit: it holds from 0 up, and always for none. */
  spare: (units: number) => number
  /** The most units that hold, where that can be counted without solving the tape. */
  counted?: number
}

function judgesOf(question: ReachQuestion, atWork: (units: number) => TapeAtWork): Judge[] {
  const { tape, driverW, driverLoadLimitPercent, evennessPercent, leastLightPercent } = question
  const counting = (id: ReachLimitId, counted: number): Judge => ({
    id,
    spare: (units) => counted - units,
    counted,
  })
  const solving = (id: ReachLimitId, spare: (tape: TapeAtWork) => number): Judge => ({
    id,
    spare: (units) => (units === 0 ? Number.POSITIVE_INFINITY : spare(atWork(units))),
  })
  const judges = [
    counting(
      'driver',
      countUnits((driverW * driverLoadLimitPercent) / 100 / tape.ratedWPerM, tape.cutLengthM),
    ),
    solving('evenness', ({ light }) => spareAbove(light.evennessPercent, evennessPercent)),
    solving('brightness', ({ light }) => spareAbove(light.dimmestPercent, leastLightPercent)),
  ]
  if (question.makerLimitM !== undefined) {
    const sides = question.feed === 'one-end' ? 1 : 2
    judges.push(counting('maker', countUnits(sides * question.makerLimitM, tape.cutLengthM)))
  }
  const { feedCapacityA } = question
  if (feedCapacityA !== undefined && hasCable(question)) {
    judges.push(solving('feedCapacity', ({ busiestFeedA }) => spareBelow(busiestFeedA, feedCapacityA)))
  }
  return judges
}

/** Solves the tape for a number of units, each number once. */
function tapeAtWork(question: ReachQuestion, solve: TapeSolver = solveUnits): (units: number) => TapeAtWork {
  const solved = new Map<number, TapeAtWork>()
  return (units) => {
    const tape = solved.get(units) ?? solve(question, units)
    solved.set(units, tape)
    return tape
  }
}

/** Solves the tape of a question for a number of units. */
export type TapeSolver = (question: ReachQuestion, units: number) => TapeAtWork

/**
 * A solver for one search, which keeps the tape that it solved last: where the search moves a limit, it asks for the
 * same tape again and again.
 */
export function solverOfOneSearch(): TapeSolver {
  let last: { restsOn: readonly unknown[]; atWork: TapeAtWork } | undefined
  return (question, units) => {
    const restsOn = [units, ...solutionRestsOn(question)]
    if (!last?.restsOn.every((part, at) => part === restsOn[at]))
      last = { restsOn, atWork: solveUnits(question, units) }
    return last.atWork
  }
}

/** What of a question the solution of its tape rests on: all but the limits. */
function solutionRestsOn({ tape, feed, cableOhmPerM, feedDistanceM, farFeedDistanceM }: ReachQuestion) {
  const { cutLengthM, ratedV, ratedWPerM, railOhmPerM, knee, style } = tape
  const design = [cutLengthM, ratedV, ratedWPerM, railOhmPerM, knee, style]
  return [...design, feed, cableOhmPerM, feedDistanceM, farFeedDistanceM]
}

function solveUnits(question: ReachQuestion, units: number): TapeAtWork {
  const lengthM = units * question.tape.cutLengthM
  const feeds = feedsFor(question, lengthM)
  const solution = solveTape({ ...question.tape, lengthM }, feeds, {
    sourceV: question.tape.ratedV,
    trunkOhm: 0,
  })
  const cabled = solution.feedA.filter((_, i) => (feeds[i]?.ohm ?? 0) > 0)
  const busiestFeedA = Math.max(...(cabled.length > 0 ? cabled : solution.feedA))
  return { feeds, solution, light: lightOf(solution), busiestFeedA }
}

/**
 * The feeds of a tape of a certain length, each with the loop resistance of its cable.
 *
 * @param lengthM m
 */
export function feedsFor(question: ReachQuestion, lengthM: number): TapeFeed[] {
  const loopOhm = (distanceM: number): number => 2 * question.cableOhmPerM * distanceM
  const near = loopOhm(question.feedDistanceM)
  switch (question.feed) {
    case 'one-end':
      return [{ atM: 0, ohm: near }]
    case 'middle':
      return [{ atM: lengthM / 2, ohm: near }]
    case 'both-ends':
      return [
        { atM: 0, ohm: near },
        { atM: lengthM, ohm: loopOhm(question.farFeedDistanceM ?? question.feedDistanceM + lengthM) },
      ]
  }
}

function hasCable(question: ReachQuestion): boolean {
  return feedsFor(question, question.tape.cutLengthM).some(({ ohm }) => ohm > 0)
}

/**
 * A number of units that holds while one more does not; `most` when that one holds. `from` always holds.
 *
 * By doubling and then false position: what a tape loses grows as the square of its length, so that the place where
 * nothing is left is foretold within a few units. Every third guess halves what is left, should one end stand still.
 */
function mostHolding(spare: (units: number) => number, most: number, from = 0): number {
  const tried = (units: number): Tried => ({ units, spare: spare(units) })
  if (from >= most) return most
  let good: Tried = from === 0 ? { units: 0, spare: Number.POSITIVE_INFINITY } : tried(from)
  let bad = tried(from === 0 ? 1 : Math.min(2 * from, most))
  while (bad.spare >= 0) {
    if (bad.units === most) return most
    good = bad
    bad = tried(Math.min(2 * bad.units, most))
  }
  for (let guesses = 1; bad.units - good.units > 1; guesses++) {
    const here = tried(guesses % 3 === 0 ? Math.floor((good.units + bad.units) / 2) : foretold(good, bad))
    if (here.spare < 0) bad = here
    else good = here
  }
  return good.units
}

type Tried = { units: number; spare: number }

/** Where nothing is left if it falls as the square of the length; always between the two. */
function foretold(good: Tried, bad: Tried): number {
  const share = Number.isFinite(good.spare) ? good.spare / (good.spare - bad.spare) : 0.5
  const units = Math.floor(Math.sqrt(good.units ** 2 + share * (bad.units ** 2 - good.units ** 2)))
  return Math.min(bad.units - 1, Math.max(good.units + 1, units))
}
