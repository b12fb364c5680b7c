import type { RowBuilder } from '../interpret'
import type { Piece } from '../pieces'
import type { Raw } from '../raw'
import { type View, wordAt } from '../view'
import { listed } from '../vocabulary'
import { givenBy, nothing, placesOf, reading } from './common'
import { END_WORDS, FAR_END, fedAt, placesFed, START, spotsNamed } from './feed-places'

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
  // "sixteen gauge for that feed, 20 ft of it"
  const ofIt = wordAt(view, other + 1) === 'of' && wordAt(view, other + 2) === 'it'
  for (let at = one + 1; at < other; at++) {
    const skipped = ofIt && view.items[at]?.kind === 'comma'
    if (!skipped && !BETWEEN_CABLE.has(wordAt(view, at))) return false
  }
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

const isTrunk = (view: View, cable: Cable): boolean => {
  for (let at = cable.at - 4; at <= cable.at + 6; at++) {
    if (['trunk', 'trunk-line'].includes(wordAt(view, at))) return true
    if (['shared', 'common'].includes(wordAt(view, at)) && at < cable.at) return true
  }
  return leadsToBranch(view, cable)
}

/** Where a shared cable divides: "30 ft from the driver TO A TEE". */
const BRANCHES = listed('branches')

function leadsToBranch(view: View, { at }: Cable): boolean {
  for (let ahead = at + 1; ahead <= at + 9 && view.items[ahead]?.kind !== 'comma'; ahead++) {
    const to = [1, 2, 3].some((back) => ['to', 'into'].includes(wordAt(view, ahead - back)))
    if (BRANCHES.has(wordAt(view, ahead))) return to
  }
  return false
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

/** Whether so many leads can be told apart over so many feeds: one each, or one that is said of all or of one of them. */
const leadsFit = (leads: readonly Cable[], feeds: number, told: boolean): boolean => {
  if (leads.length <= 1 && feeds === 1) return true
  return leads.length === 0 || leads.length === feeds || (leads.length === 1 && (told || feeds === 2))
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
  // "a feed at the start and a feed at the end": of more places than were read nothing is guessed.
  const unread = spotsNamed(view) > Math.max(1, rows.length)
  if (unread || !leadsFit(leads, rows.length, each || ends[0] !== undefined)) {
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
  // "fed both ends with 18 gauge, leads 6 ft and 15 ft": a size by itself is that of every lead.
  const sizes = free.filter(
    (piece) => reading(piece, 'size') && !cables.some((cable) => cable.pieces.includes(piece)),
  )
  const [size] = sizes
  if (size && sizes.length === 1 && !trunk && leads.every((lead) => !lead.gauge)) {
    for (const row of rows) row.gauge = reading(size, 'size')?.typed ?? ''
    pieces.push(size)
  }
  built.given.set('feeds', givenBy(line, rows, pieces, places?.words ?? ''))
  return built
}
