import type { Meaning } from './book'
import type { Match } from './phrases'
import type { Piece } from './pieces'
import { roleKey, rolesFor } from './roles'
import type { QuestionShape } from './shape'
import { matchesFor, type View } from './view'

type Stretch = { from: number; to: number }

/** `said` are the plain phrases that give the piece this role, `denied` those that say it is not. */
export type Cue = {
  points: number
  asked: boolean
  never: boolean
  rest: boolean
  said: Stretch[]
  denied: Stretch[]
}

/** A phrase within a longer one that says otherwise says nothing: "existing load is [50 watts more]". */
const within = (inner: Stretch, outer: Stretch): boolean =>
  inner.from >= outer.from && inner.to <= outer.to && inner.to - inner.from < outer.to - outer.from

const PLAIN = 4

/** The phrases that plainly say what a quantity is, by the item that it stands at. */
function plainBySubject(matches: readonly Match<Meaning>[]): Map<number, Match<Meaning>[]> {
  const plain = new Map<number, Match<Meaning>[]>()
  for (const match of matches) {
    const { value, subject, loose } = match
    if (value.kind !== 'role' || value.part !== 'fields' || value.points < PLAIN) continue
    if (loose > 0 || subject === undefined) continue
    const known = plain.get(subject)
    if (known) known.push(match)
    else plain.set(subject, [match])
  }
  return plain
}

/** A phrase within a longer one that gives its quantity another role: "30 cm OFF to the side" is no height. */
function isPartOfOther(
  plain: ReadonlyMap<number, readonly Match<Meaning>[]>,
  match: Match<Meaning>,
): boolean {
  const { value, subject, loose } = match
  if (value.kind !== 'role' || value.part !== 'fields' || value.points < PLAIN || loose > 0) return false
  return (plain.get(subject ?? -1) ?? []).some(
    (other) =>
      other.value.kind === 'role' &&
      other.value.id !== value.id &&
      other.from === match.from &&
      within(match, other),
  )
}

/** What stands right behind a quantity names it best: in "joist 2 inch hole" the 2 inches are a hole's. */
const isNamedBehind = (no: Stretch, yes: Stretch, subject: number): boolean =>
  no.from < subject && no.to === subject + 1 && yes.from === subject

/** What the phrases say of each piece, by role. */
export function cuesOf(shape: QuestionShape, view: View): Map<string, Map<Piece, Cue>> {
  const cues = new Map<string, Map<Piece, Cue>>()
  const matches = matchesFor(view, shape.id).filter(
    ({ value }) =>
      value.kind !== 'role' || value.id in (value.part === 'fields' ? shape.inputs : shape.figures),
  )
  const plain = plainBySubject(matches)
  for (const match of matches) {
    const { value, subject, from, to, loose } = match
    if (value.kind !== 'role' || (value.question !== undefined && value.question !== shape.id)) continue
    const item = subject === undefined ? undefined : view.items[subject]
    if (item?.kind !== 'piece' || isPartOfOther(plain, match)) continue
    const key = roleKey({ part: value.part, id: value.id })
    const byPiece = cues.get(key) ?? new Map<Piece, Cue>()
    cues.set(key, byPiece)
    const before = byPiece.get(item.piece) ?? {
      points: 0,
      asked: false,
      never: false,
      rest: false,
      said: [],
      denied: [],
    }
    // What stands close says more than what is far away.
    const closeness = Math.min(0.3, 0.05 * (to - from - loose)) - Math.min(1.1, 0.1 * loose)
    if (value.points < 0 && view.items.slice(from + 1, to).some(({ colon }) => colon)) continue
    const said = value.points >= PLAIN && loose === 0 ? [...before.said, { from, to }] : before.said
    const denied = value.points < 0 ? [...before.denied, { from, to }] : before.denied
    byPiece.set(item.piece, {
      said,
      denied,
      points: value.points > 0 ? Math.max(before.points, value.points + closeness) : before.points,
      asked: before.asked || value.asked,
      rest: before.rest || value.rest === true,
      never: denied.some(
        (no) => !said.some((yes) => within(no, yes) || isNamedBehind(no, yes, subject ?? 0)),
      ),
    })
  }
  return cues
}

/** Whether a phrase says that a piece is not this input: "below 22 volts" is no supply voltage. */
export const saidNotToBe = (shape: QuestionShape, view: View, id: string, piece: Piece): boolean =>
  cuesOf(shape, view)
    .get(roleKey({ part: 'fields', id }))
    ?.get(piece)?.never === true

/** Pieces that a phrase gives to a choice which has no such value: "25 mm conduit". */
export function notChoices(
  shape: QuestionShape,
  view: View,
  given: ReadonlyMap<string, unknown>,
  used: ReadonlySet<Piece>,
): { field: string; pieces: Piece[] }[] {
  const cues = cuesOf(shape, view)
  return rolesFor(shape).flatMap((role) => {
    if (role.field?.kind !== 'choice' || given.has(role.id)) return []
    const cued = [...(cues.get(roleKey(role)) ?? [])].filter(
      ([piece, cue]) => cue.points >= 3 && !cue.never && !used.has(piece) && piece.kind !== 'label',
    )
    return cued.length > 0 ? [{ field: role.id, pieces: cued.map(([piece]) => piece) }] : []
  })
}
