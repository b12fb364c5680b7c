import type { Field } from '../questions/common/fields'
import { isMereOne, mayBeBare, UNITS } from './bare'
import type { Cue } from './cues'
import { figureNamed } from './figure-words'
import type { Piece } from './pieces'
import { rawOf } from './raw'
import { bareUnit, type Candidate, flag, type Role, roleKey, rolesFor } from './roles'
import type { QuestionShape } from './shape'
import { endsSentence, matchesFor, pieceAt, type View, wordAt } from './view'
import { listed } from './vocabulary'

const INSTRUMENTS = listed('instruments')

/** "you'd have 300 lux under its end, SHE SAYS": what stands in the sentence before. */
function piecesBefore(view: View, from: number): Piece[] {
  const pieces: Piece[] = []
  for (let at = from - 1; at >= 0 && !endsSentence(view, at); at--) {
    const piece = pieceAt(view, at)
    if (piece) pieces.push(piece)
  }
  return pieces
}

/** Pieces after somebody's "says" in the same sentence, and the first of them where no other clause begins before it. */
export function claimedPieces(view: View): { after: Set<Piece>; nearest: Set<Piece>; any: boolean } {
  const after = new Set<Piece>()
  const nearest = new Set<Piece>()
  let any = false
  for (const { value, from, to } of view.matches) {
    // "the meter says 23.1 V" reads, and claims nothing.
    if (value.kind !== 'claim' || value.how !== 'said' || INSTRUMENTS.has(wordAt(view, from - 1))) continue
    any = true
    const before = endsSentence(view, to) ? piecesBefore(view, from) : []
    for (const piece of before) after.add(piece)
    if (before.length === 1) for (const piece of before) nearest.add(piece)
    let first = true
    for (let at = to; at < view.items.length; at++) {
      const item = view.items[at]
      if (item?.kind === 'stop') break
      if (item?.kind === 'comma' && at > to + 1) first = false
      if (item?.kind !== 'piece') continue
      after.add(item.piece)
      if (first) nearest.add(item.piece)
      first = false
    }
  }
  return { after, nearest, any }
}

/** What comes first after "he says" and what a phrase says a figure is: a claim, and no input. */
export function plainlyClaimed(
  shape: QuestionShape,
  cues: ReadonlyMap<string, ReadonlyMap<Piece, Cue>>,
  nearest: ReadonlySet<Piece>,
): Set<Piece> {
  const out = new Set<Piece>()
  for (const role of rolesFor(shape)) {
    const field = role.part === 'figures' ? figureField(shape.figures[role.id]?.unit ?? '') : undefined
    for (const [piece, cue] of cues.get(roleKey(role)) ?? []) {
      const fits = field !== undefined && nearest.has(piece) && piece.bare === undefined && !cue.never
      if (
        fits &&
        cue.points >= 4 &&
        rawOf(field, piece, undefined, { sum: false, times: false }) !== undefined
      )
        out.add(piece)
    }
  }
  return out
}

/** Figures that a claim may be about carry their dimension in their unit. */
export const figureField = (unit: string): Field<unknown> | undefined => {
  const dimension = {
    m: 'length',
    V: 'voltage',
    A: 'current',
    W: 'power',
    VA: 'apparentPower',
    '': 'money',
    '%': 'percent',
    lx: 'illuminance',
    'lm/m': 'lumensPerLength',
    cm3: 'volume',
    kWh: 'energy',
    ohm: 'resistance',
  }[unit]
  if (unit === 'size') return { kind: 'size' } as Field<unknown>
  if (unit === 'count') return { kind: 'count' } as Field<unknown>
  return dimension ? ({ kind: 'quantity', dimensions: [dimension] } as unknown as Field<unknown>) : undefined
}

/** What a claimed quantity is by the words of its sentence, where no phrase says it. */
export function namedFigures(
  shape: QuestionShape,
  view: View,
  claimed: ReadonlySet<Piece>,
): ReadonlyMap<Piece, string> {
  const found = new Map<Piece, string>()
  // Who claims a class by its name claims no number beside it.
  const named = matchesFor(view, shape.id).some(
    ({ value }) => value.kind === 'means' && Object.hasOwn(shape.figures, value.id),
  )
  if (named) return found
  for (const piece of claimed) {
    if (piece.bare !== undefined || piece.members) continue
    const fitting = Object.entries(shape.figures).flatMap(([id, { unit }]) => {
      const field = figureField(unit)
      return field && rawOf(field, piece, undefined, { sum: false, times: false }) !== undefined ? [id] : []
    })
    const id = figureNamed(shape, view, piece, fitting)
    if (id !== undefined) found.set(piece, id)
  }
  return found
}

/** What the words of its sentence say that a claimed quantity is. */
const NAMED = 3.5

export function figureCandidate(
  shape: QuestionShape,
  role: Role,
  piece: Piece,
  cue: Cue | undefined,
  claimed: ReturnType<typeof claimedPieces>,
  named: ReadonlyMap<Piece, string>,
): Candidate | undefined {
  const field = figureField(shape.figures[role.id]?.unit ?? '')
  if (field === undefined) return undefined
  const cued = cue !== undefined && cue.points > 0
  const inClaim = claimed.after.has(piece)
  const main = flag(role.words, 'alone')
  const byName = inClaim && named.get(piece) === role.id
  if (!inClaim && !(cued && cue.asked)) return undefined
  if (!cued && !byName && !(main && claimed.nearest.has(piece))) return undefined
  const bare = cued || (main && claimed.nearest.has(piece)) ? bareUnit(role.words) : undefined
  if (piece.bare !== undefined && (bare === undefined || !mayBeBare(piece.bare, role.words))) return undefined
  if (isMereOne(piece) && UNITS.test(bare ?? '')) return undefined
  if (piece.bare !== undefined && cued && cue.points < 2.4) return undefined
  // "19 a year" is money of no named coin.
  const raw =
    rawOf(field, piece, bare, { sum: false, times: false }) ?? (bare === 'plain' ? piece.bare : undefined)
  if (raw === undefined) return undefined
  const nearest = claimed.nearest.has(piece) ? 2.2 : 0
  // What a phrase says of one figure in particular tells more than what may be said of the main one as well.
  const told = main ? (cued ? 0 : 0.6) : cued ? 0.8 : 0
  const score = (cued ? cue.points : 0) + nearest + told + (inClaim ? 0.4 : 0) + (byName ? NAMED : 0)
  return { piece, role, score, raw, why: inClaim ? 'claimed' : 'asked about' }
}
