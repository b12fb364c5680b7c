import type { RowBuilder } from '../interpret'
import type { View } from '../line'
import type { Piece } from '../pieces'
import type { Raw } from '../raw'
import { listed } from '../vocabulary'
import { givenBy, nothing, pieceAt, placesOf, reading, wordAt } from './common'

/** Places along a tape whose length is not yet known here. */
export const FAR_END = 'far end'
export const MIDDLE = 'middle'
const START = '0 m'

type Cable = { distance?: string; gauge?: string; pieces: Piece[]; at: number }

/** "3 m and 8 m of 1.5 mm²" are two cables of one size. */
const apart = (cable: Cable): Cable[] => {
  const list = cable.pieces.find((piece) => (piece.members?.length ?? 1) > 1)
  return (list?.members ?? []).length > 1
    ? (list?.members ?? []).map((member) => ({ ...cable, distance: reading(member, 'length')?.typed ?? '' }))
    : [cable]
}

const CABLE_WORDS = listed('feedCables')
const BETWEEN_CABLE = listed('betweenFeedCable')

/** A length beside a size ("12 ft of #18", "#18 lead 12 ft long"), or beside the word cable. */
function cablesIn(view: View, free: ReadonlySet<Piece>): Cable[] {
  const out: Cable[] = []
  const places = placesOf(view, free)
  const used = new Set<Piece>()
  for (let index = 0; index < places.length; index++) {
    const one = places[index]
    const other = places[index + 1]
    if (!one || used.has(one.piece)) continue
    const [length, size] = [reading(one.piece, 'length'), reading(one.piece, 'size')]
    const next = other && joined(view, one.at, other.at) ? other.piece : undefined
    const pair = next && (length ? reading(next, 'size') : reading(next, 'length'))
    if ((length || size) && pair && next && !(length && !size && !reading(next, 'size'))) {
      const distance =
        length && !(size && reading(next, 'length')) ? length.typed : reading(next, 'length')?.typed
      const gauge = (length && !(size && reading(next, 'length')) ? reading(next, 'size') : size)?.typed
      used.add(one.piece).add(next)
      out.push({
        ...(distance ? { distance } : {}),
        ...(gauge ? { gauge } : {}),
        pieces: [one.piece, next],
        at: one.at,
      })
    } else if (length && !view.items[one.at]?.colon && !fedAt(view, one.at) && isCableWord(view, one.at)) {
      out.push({ distance: length.typed, pieces: [one.piece], at: one.at })
    }
  }
  return out.flatMap(apart)
}

const joined = (view: View, one: number, other: number): boolean => {
  if (other - one > 5) return false
  for (let at = one + 1; at < other; at++) if (!BETWEEN_CABLE.has(wordAt(view, at))) return false
  return true
}

const isCableWord = (view: View, at: number): boolean => {
  const after = [1, 2].map((step) => wordAt(view, at + step))
  if (
    CABLE_WORDS.has(after[0] ?? '') ||
    (['of', 'long', 'feed'].includes(after[0] ?? '') && CABLE_WORDS.has(after[1] ?? ''))
  )
    return true
  const before = [1, 2, 3].map((step) => wordAt(view, at - step))
  const link = ['is', 'of', 'about', 'are', 'a', 'on']
  // "the tail of 32 ft" is where the tape ends, and no lead.
  if (before.join(' ') === 'of tail the') return false
  return (
    CABLE_WORDS.has(before[0] ?? '') || (link.includes(before[0] ?? '') && CABLE_WORDS.has(before[1] ?? ''))
  )
}

const cableRow = ({ distance, gauge }: Cable): Record<string, Raw> => ({
  ...(distance ? { distance } : {}),
  ...(gauge ? { gauge } : {}),
})

type Places = { at: string[]; pieces: Piece[]; words: string }

/** Where the tape is fed: both ends, the middle, the start, or at lengths along it, as many as are said. */
function placesFed(view: View, free: ReadonlySet<Piece>, going: boolean): Places | undefined {
  const found: Places = { at: [], pieces: [], words: '' }
  let last = -9
  let read = 0
  view.items.forEach((_, at) => {
    if (at < read) return
    const joined = at - last <= 5 && found.at.length > 0
    const piece = pieceAt(view, at)
    const length = piece && free.has(piece) ? reading(piece, 'length') : undefined
    const start = piece?.bare === 0 && wordAt(view, at - 1) === 'at' && nearFeed(view, at)
    const spots =
      piece && length
        ? measuredSpots(view, at, piece, joined)
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
function measuredSpots(view: View, at: number, piece: Piece, joined: boolean): string[] | undefined {
  const lengths = (piece.members ?? [piece]).map((each) => reading(each, 'length')?.typed ?? '')
  const end = measuredFrom(view, at)
  if (end && isFed(view)) {
    const far = lengths.map((typed) => `${FAR_END} - ${typed}`)
    return end === 'far' ? far : end === 'each' ? [...lengths, ...far] : lengths
  }
  const named = view.items[at]?.colon === true && isFeedWord(wordAt(view, at - 1))
  if (named) return lengths
  const goesOn = joined && ['at', 'and'].includes(wordAt(view, at - 1))
  return fedAt(view, at) || goesOn ? lengths : undefined
}

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
    (nearFeed(view, at) || joined || (going && view.items.length <= SHORT))
  )
    return [MIDDLE]
  if (word === 'one-end' && (going || nearFeed(view, at)) && !joined) return [START]
  const side = ['left', 'near', 'start', 'first', 'beginning', 'front'].includes(word)
  if (side && next !== 'far' && !joined && nearFeed(view, at)) return [START]
  const end = ['far', 'other', 'right'].includes(word) && ['end', 'side'].includes(next)
  if (!end || wordAt(view, at - 1) !== 'the') return undefined
  const leads =
    (['at', 'into', 'from'].includes(wordAt(view, at - 2)) && fedBefore(view, at - 2)) ||
    ['feed', 'feeding', 'inject', 'power'].includes(wordAt(view, at - 2))
  return leads || (joined && ['and', 'at', 'from'].includes(wordAt(view, at - 2))) ? [FAR_END] : undefined
}

/** A line of so few words goes on from what was said before: "and the middle". */
const SHORT = 4

const LIKENESS = listed('likeness')

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
const fedAt = (view: View, at: number): boolean => {
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

const isTrunk = (view: View, cable: Cable): boolean => {
  for (let at = cable.at - 4; at <= cable.at + 6; at++) {
    if (['trunk', 'trunk-line'].includes(wordAt(view, at))) return true
    if (['shared', 'common'].includes(wordAt(view, at)) && at < cable.at) return true
  }
  return false
}

const END_WORDS: Readonly<Record<string, 'near' | 'far'>> = {
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

/** Which end a cable feeds, by a word in the same clause before it or after it. */
const endBeside = (view: View, cable: Cable, step: 1 | -1): 'near' | 'far' | undefined => {
  const places = cable.pieces.map((piece) =>
    view.items.findIndex((item) => item.kind === 'piece' && item.piece === piece),
  )
  const start = step > 0 ? Math.max(...places) : Math.min(...places)
  for (let at = start + step; Math.abs(at - start) <= 7; at += step) {
    const item = view.items[at]
    if (item?.kind !== 'word') return undefined
    const end = END_WORDS[item.text]
    if (end) return end
  }
  return undefined
}

/** The end that each cable feeds; all are named before their cable, or all after it. */
const endsOf = (view: View, cables: readonly Cable[]): ('near' | 'far' | undefined)[] => {
  const before = cables.map((cable) => endBeside(view, cable, -1))
  return before[0] ? before : cables.map((cable) => endBeside(view, cable, 1))
}

/** The feeds of a tape and the trunk they share. */
export const feedRows: RowBuilder = (_shape, line, view, setting, free) => {
  const built = nothing()
  const open = new Set(free)
  const cables = cablesIn(view, open)
  const trunk = cables.find((cable) => isTrunk(view, cable))
  if (trunk?.distance) built.given.set('trunk', givenBy(line, cableRow(trunk), trunk.pieces))
  const leads = cables.filter((cable) => cable !== trunk)
  const places = placesFed(
    view,
    new Set(free.filter((piece) => !cables.some((cable) => cable.pieces.includes(piece)))),
    setting.has.has('feeds'),
  )
  if (!places && leads.length === 0) {
    const loose = free.filter((piece) => !cables.some((cable) => cable.pieces.includes(piece)))
    const size = setting.has.size > 0 ? loose.find((piece) => reading(piece, 'size')) : undefined
    if (size)
      built.given.set('feeds', {
        raw: [
          { ...(setting.has.has('feeds') ? {} : { at: START }), gauge: reading(size, 'size')?.typed ?? '' },
        ],
        said: line.said(size),
        pieces: [size],
      })
    return built
  }
  const ends = endsOf(view, leads)
  const two = leads.length === 2 && new Set(ends).size === 2 && ends.every(Boolean)
  const spots = two
    ? [START, FAR_END]
    : (places?.at ?? (leads.length === 2 ? [START, FAR_END] : ends[0] === 'far' ? [FAR_END] : [START]))
  const rows: Record<string, Raw>[] = spots.map((at) => ({ at }))
  const pieces = [...(places?.pieces ?? []), ...leads.flatMap((lead) => lead.pieces)]
  const each = view.items.some((item) => item.kind === 'word' && item.text === 'each')
  const fits =
    leads.length === 0 || rows.length === 1
      ? leads.length <= 1
      : leads.length === rows.length ||
        (leads.length === 1 && (each || ends[0] !== undefined || rows.length === 2))
  if (!fits) {
    built.unclear.push({ field: 'feeds', pieces })
    return built
  }
  leads.forEach((lead, index) => {
    const everywhere = leads.length === 1 && rows.length > 1 && ends[0] === undefined
    if (everywhere) for (const row of rows) Object.assign(row, cableRow(lead))
    else {
      const at = rows.length === 1 ? 0 : ends[index] === 'far' ? 1 : ends[index] === 'near' ? 0 : index
      Object.assign(rows[at] ?? {}, cableRow(lead))
    }
  })
  built.given.set('feeds', givenBy(line, rows, pieces, places?.words ?? ''))
  return built
}
