import type { Piece } from '../pieces'
import { pieceAt, type View, wordAt } from '../view'
import { listed } from '../vocabulary'
import { reading } from './common'

/** Places along a tape whose length is not yet known here. */
export const FAR_END = 'far end'
export const MIDDLE = 'middle'
/** Where a tape begins. */
export const START = '0 m'

export const END_WORDS: Readonly<Record<string, 'near' | 'far'>> = {
  far: 'far',
  other: 'far',
  right: 'far',
  second: 'far',
  near: 'near',
  left: 'near',
  start: 'near',
  first: 'near',
  beginning: 'near',
}

type Places = { at: string[]; pieces: Piece[]; words: string }

/** Where the tape is fed: both ends, the middle, the start, or at lengths along it, as many as are said. */
export function placesFed(view: View, free: ReadonlySet<Piece>, going: boolean): Places | undefined {
  const found: Places = { at: [], pieces: [], words: '' }
  let last = -9
  let read = 0
  view.items.forEach((_, at) => {
    if (at < read) return
    const joined = at - last <= 6 && found.at.length > 0
    const piece = pieceAt(view, at)
    const length = piece && free.has(piece) ? reading(piece, 'length') : undefined
    const start = piece?.bare === 0 && wordAt(view, at - 1) === 'at' && nearFeed(view, at)
    const spots =
      piece && length
        ? measuredSpots(view, at, piece, joined, going)
        : start
          ? [START]
          : spotAt(view, at, going, joined)
    if (spots === undefined) return
    found.at.push(...spots)
    if (piece) found.pieces.push(piece)
    found.words ||= wordAt(view, at)
    last = at
    if (length && measuredFrom(view, at)) read = at + 5
  })
  found.at = [...new Set(found.at)]
  return found.at.length > 0 ? found : undefined
}

/** "fed at 2 m", "2 m from the right end", "1 m in from each end". */
function measuredSpots(
  view: View,
  at: number,
  piece: Piece,
  joined: boolean,
  going: boolean,
): string[] | undefined {
  const lengths = (piece.members ?? [piece]).map((each) => reading(each, 'length')?.typed ?? '')
  const end = measuredFrom(view, at)
  if (end && isFed(view)) {
    const far = lengths.map((typed) => `${FAR_END} - ${typed}`)
    return end === 'far' ? far : end === 'each' ? [...lengths, ...far] : lengths
  }
  const named = view.items[at]?.colon === true && isFeedWord(wordAt(view, at - 1))
  if (named || (going && movesFeed(view, at))) return lengths
  const goesOn = joined && ['at', 'and'].includes(wordAt(view, at - 1))
  return fedAt(view, at) || goesOn ? lengths : undefined
}

const MOVES = listed('moves')
const GROWS = listed('grows')

/** "slide the feed along to the 3 m mark": in a line that goes on, the one length that a feed is moved to. */
function movesFeed(view: View, at: number): boolean {
  const lengths = view.pieces.filter((piece) => reading(piece, 'length'))
  const words = view.items.slice(0, at).map((_, index) => wordAt(view, index))
  const moved = words.some((word) => MOVES.has(word) || GROWS.has(word))
  return (
    moved &&
    lengths.length === 1 &&
    words.some(isFeedWord) &&
    [1, 2].some((back) => TO.has(wordAt(view, at - back)))
  )
}

const TO: ReadonlySet<string> = new Set(['to', 'at', 'on', 'by'])

/** The end that a length is measured from: "2 m from the right end", "a metre in from either end". */
function measuredFrom(view: View, at: number): 'near' | 'far' | 'each' | undefined {
  const start = wordAt(view, at + 1) === 'in' ? at + 2 : at + 1
  if (wordAt(view, start) !== 'from') return undefined
  const article = wordAt(view, start + 1) === 'the' ? 1 : 0
  const [word, next] = [wordAt(view, start + 1 + article), wordAt(view, start + 2 + article)]
  if (word === 'both-ends' || (['each', 'either', 'both'].includes(word) && next.startsWith('end')))
    return 'each'
  if (['left', 'near', 'start', 'first', 'beginning'].includes(word)) return 'near'
  return ['right', 'far', 'other'].includes(word) && ['end', 'side'].includes(next) ? 'far' : undefined
}

const isFed = (view: View): boolean => view.items.some((_, at) => isFeedWord(wordAt(view, at)))

/**
 * A place that words say by themselves. Where the line goes on from feeds before, "one end" does; where another place
 * stands just before, no word for feeding need stand near.
 */
function spotAt(view: View, at: number, going: boolean, joined: boolean): string[] | undefined {
  const word = wordAt(view, at)
  const next = wordAt(view, at + 1)
  if (isLookedAt(view, at)) return undefined
  const both = ['both', 'two', 'either'].includes(word) && ['ends', 'sides'].includes(next)
  if (word === 'both-ends' || both) return [START, FAR_END]
  if (bothSides(view, at) && nearFeed(view, at)) return [START, FAR_END]
  if (
    ['middle', 'centre', 'center'].includes(word) &&
    (nearFeed(view, at) || runFrom(view, at) || joined || (going && view.items.length <= SHORT))
  )
    return [MIDDLE]
  if (word === 'one-end' && (going || nearFeed(view, at)) && !joined) return [START]
  const side = ['left', 'near', 'start', 'first', 'beginning', 'front'].includes(word)
  if (side && next !== 'far' && !joined && nearFeed(view, at)) return [START]
  // "a feed at the start and a feed at the end"
  const last = word === 'end' && joined && nearFeed(view, at) && wordAt(view, at - 2) === 'at'
  const hand = next === 'hand' ? wordAt(view, at + 2) : next
  const end = last || (['far', 'other', 'right'].includes(word) && ['end', 'side', 'tip'].includes(hand))
  if (!end || wordAt(view, at - 1) !== 'the') return undefined
  const leads =
    last ||
    (['at', 'into', 'from'].includes(wordAt(view, at - 2)) && fedBefore(view, at - 2)) ||
    (wordAt(view, at - 2) === 'on' && nearFeed(view, at)) ||
    ['feed', 'feeding', 'inject', 'power'].includes(wordAt(view, at - 2))
  return leads || (joined && ['and', 'at', 'from'].includes(wordAt(view, at - 2))) ? [FAR_END] : undefined
}

const RUN: ReadonlySet<string> = new Set([
  'run',
  'running',
  'powered',
  'powering',
  'driven',
  'supplied',
  'wired',
])

/** "RUN the tape FROM the middle": what it is run from is where it is fed. */
const runFrom = (view: View, at: number): boolean =>
  wordAt(view, at - 2) === 'from' &&
  wordAt(view, at - 1) === 'the' &&
  [3, 4, 5].some((back) => RUN.has(wordAt(view, at - back)))

/** A line of so few words goes on from what was said before: "and the middle". */
const SHORT = 4

const LIKENESS = listed('likeness')

const SPOTS = listed('spots')
/** Words that may stand between a feed and the place it is at: "a feed AT THE start". */
const BEFORE_SPOT = new Set([
  'at',
  'in',
  'on',
  'into',
  'from',
  'the',
  'its',
  'one',
  'very',
  'by',
  'to',
  'is',
  'it',
  'goes',
  'going',
  'another',
  'and',
  'second',
  'other',
  'far',
  'near',
  'a',
])

/** How many places the words right behind a feed name: "a feed at the START and one at the END" are two. */
export function spotsNamed(view: View): number {
  const spots = new Set<string>()
  view.items.forEach((_, at) => {
    if (!isFeedWord(wordAt(view, at))) return
    for (let next = at + 1; next <= at + FARTHEST_SPOT; next++) {
      const word = wordAt(view, next)
      // "fed right in the middle"
      if (word === 'right' && ['in', 'at', 'on', 'by'].includes(wordAt(view, next + 1))) continue
      // "the left end" is one place.
      if (word === 'end' && END_WORDS[wordAt(view, next - 1)])
        spots.add(END_WORDS[wordAt(view, next - 1)] ?? '')
      else if (SPOTS.has(word) && !(END_WORDS[word] && wordAt(view, next + 1) === 'end'))
        spots.add(END_WORDS[word] ?? word)
      else if (!BEFORE_SPOT.has(word)) return
    }
  })
  return spots.size
}

const FARTHEST_SPOT = 9

/** "the same at both ends" compares the ends, and feeds none. */
const isLookedAt = (view: View, at: number): boolean =>
  ['at', 'from'].includes(wordAt(view, at - 1)) &&
  [2, 3, 4].some((back) => LIKENESS.has(wordAt(view, at - back)))

const FEED = listed('feeds')
const isFeedWord = (word: string): boolean => FEED.has(word) || FEED.has(word.replace(/s$/, ''))
/** "leads GOING IN at 3 m" */
const GOING_IN: ReadonlySet<string> = new Set([
  'going',
  'goes',
  'go',
  'in',
  'coming',
  'come',
  'comes',
  'is',
  'are',
  'it',
  'one',
  'the',
  'tape',
])

/** "left and right", "the start and the far end". */
const bothSides = (view: View, at: number): boolean => {
  const one = END_WORDS[wordAt(view, at)]
  if (one === undefined) return false
  const words = [1, 2, 3, 4].map((ahead) => wordAt(view, at + ahead))
  const and = words.indexOf('and')
  const other = words.slice(and + 1).find((word) => END_WORDS[word] ?? word === 'end')
  return and >= 0 && other !== undefined && (END_WORDS[other] ?? 'far') !== one
}

/** "fed at 2 m", "feeds at 1 m and 5 m", "one feed 2 ft from the start", "move the feed to 3 m", "feed 3 m in". */
export const fedAt = (view: View, at: number): boolean => {
  const into = (word: string) => isFeedWord(word) && word !== 'into'
  const before = wordAt(view, at - 1)
  if (['at', 'to'].includes(before)) {
    for (let back = 2; back <= 5; back++) {
      if (into(wordAt(view, at - back))) return true
      if (!GOING_IN.has(wordAt(view, at - back)) && back > 2) return false
    }
    return false
  }
  if (!into(before)) return false
  const [next, article, mark] = [1, 2, 3].map((ahead) => wordAt(view, at + ahead))
  const fromStart = next === 'from' && [article, mark].some((word) => STARTS.has(word ?? ''))
  return fromStart || next === 'in' || next === 'along'
}

const STARTS = listed('tapeStarts')

const fedBefore = (view: View, at: number): boolean =>
  [1, 2, 3].some((back) => isFeedWord(wordAt(view, at - back)))
const nearFeed = (view: View, at: number): boolean => {
  for (let near = at - 6; near <= at + 3; near++) if (isFeedWord(wordAt(view, near))) return true
  return false
}
