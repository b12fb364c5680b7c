import { atLeast, within } from './limit'
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
 * Every limit holds at the reach, and with one cut more the binding ones do not.
 *
 * @example reachOfTape({ … 24 V, 14.4 W/m, 96 W at 80 % … }).reachM // 5.3
 */
export function reachOfTape(question: ReachQuestion): Reach {
  const { tape, driverW } = question
  const longest = longestOf(question)
  const judges = judgesOf(question, tapeAtWork(question))
  const found = judges.map((judge) => ({
    ...judge,
    units: judge.counted ?? mostHolding(judge.holds, longest),
  }))
  const least = () => Math.min(longest, ...found.map((limit) => limit.units))
  // Should a limit that is not monotone break below its reach, that lower place is its reach.
  for (let broken = found.find((limit) => !limit.holds(least())); broken; ) {
    broken.units = mostHolding(broken.holds, least())
    broken = found.find((limit) => !limit.holds(least()))
  }
  const units = least()
  const loadW = tape.ratedWPerM * units * tape.cutLengthM
  return {
    units,
    reachM: units * tape.cutLengthM,
    limits: found.map(({ id, units: limitUnits, counted }) => ({
      id,
      units: limitUnits,
      reachM: limitUnits * tape.cutLengthM,
      beyond: counted === undefined && limitUnits === longest,
    })),
    binding: found.filter((limit) => limit.units === units && !limit.holds(units + 1)).map(({ id }) => id),
    atReach: units > 0 ? tapeAtWork(question)(units) : undefined,
    loadW,
    driverLoadPercent: (100 * loadW) / driverW,
  }
}

/** The most units that are solved. */
const longestOf = ({ tape }: ReachQuestion): number =>
  Math.max(1, Math.min(mostUnits, countUnits(longestM, tape.cutLengthM)))

/**
 * Whether every limit holds for a tape of so many units: whether its reach is as far as that, for a single solution of
 * the tape.
 *
 * @param units a whole number, >= 0; more than are ever solved never hold
 * @param solve gives the tape at work; by default it is solved
 */
export function runsFor(
  question: ReachQuestion,
  units: number,
  solve: (question: ReachQuestion, units: number) => TapeAtWork = solveUnits,
): boolean {
  if (units > longestOf(question)) return false
  let atWork: TapeAtWork | undefined
  const judges = judgesOf(question, () => {
    atWork ??= solve(question, units)
    return atWork
  })
  // What is counted first, since it takes no solution.
  const isCounted = ({ counted }: Judge) => counted !== undefined
  const [counted, solved] = [judges.filter(isCounted), judges.filter((judge) => !isCounted(judge))]
  return [...counted, ...solved].every(({ holds }) => holds(units))
}

type Judge = {
  id: ReachLimitId
  /** Whether the limit holds for a tape of so many units; it always does for none. */
  holds: (units: number) => boolean
  /** The most units that hold, where that can be counted without solving the tape. */
  counted?: number
}

function judgesOf(question: ReachQuestion, atWork: (units: number) => TapeAtWork): Judge[] {
  const { tape, driverW, driverLoadLimitPercent, evennessPercent, leastLightPercent } = question
  const counting = (id: ReachLimitId, counted: number): Judge => ({
    id,
    holds: (units) => units <= counted,
    counted,
  })
  const solving = (id: ReachLimitId, holds: (tape: TapeAtWork) => boolean): Judge => ({
    id,
    holds: (units) => units === 0 || holds(atWork(units)),
  })
  const judges = [
    counting(
      'driver',
      countUnits((driverW * driverLoadLimitPercent) / 100 / tape.ratedWPerM, tape.cutLengthM),
    ),
    solving('evenness', ({ light }) => atLeast(light.evennessPercent, evennessPercent)),
    solving('brightness', ({ light }) => atLeast(light.dimmestPercent, leastLightPercent)),
  ]
  if (question.makerLimitM !== undefined) {
    const sides = question.feed === 'one-end' ? 1 : 2
    judges.push(counting('maker', countUnits(sides * question.makerLimitM, tape.cutLengthM)))
  }
  const { feedCapacityA } = question
  if (feedCapacityA !== undefined && hasCable(question)) {
    judges.push(solving('feedCapacity', ({ busiestFeedA }) => within(busiestFeedA, feedCapacityA)))
  }
  return judges
}

/** Solves the tape for a number of units, each number once. */
function tapeAtWork(question: ReachQuestion): (units: number) => TapeAtWork {
  const solved = new Map<number, TapeAtWork>()
  return (units) => {
    const tape = solved.get(units) ?? solveUnits(question, units)
    solved.set(units, tape)
    return tape
  }
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

/** A number of units that holds while one more does not; `most` when that one holds. Zero always holds. */
function mostHolding(holds: (units: number) => boolean, most: number): number {
  let good = 0
  let bad = 1
  while (bad <= most && holds(bad)) {
    good = bad
    bad *= 2
  }
  if (bad > most) {
    if (holds(most)) return most
    bad = most
  }
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2)
    if (holds(middle)) good = middle
    else bad = middle
  }
  return good
}
