import type { Piece } from './pieces'
import type { Unclear } from './reading'
import { type Candidate, flag, type Role, roleKey } from './roles'

/** So far is a better assignment than the greedy one searched for; lines that people say need far less. */
const MOST_STEPS = 2000

type Assignment = { chosen: Candidate[]; total: number }

/** Lists take several pieces, where phrases say so; every other role takes one. */
export const growing = ({ role, why }: Candidate): boolean =>
  role.field?.kind === 'list' && (why === 'phrase' || flag(role.words, 'many'))

export const keyOf = ({ role }: Candidate): string => (role.part === 'figures' ? 'claim' : roleKey(role))

/** The assignment of pieces to roles with the greatest score: each piece once, each role once, one claim. */
export function bestAssignment(candidates: readonly Candidate[]): Assignment {
  const byPiece = new Map<Piece, Candidate[]>()
  for (const candidate of candidates) {
    const known = byPiece.get(candidate.piece) ?? []
    known.push(candidate)
    byPiece.set(candidate.piece, known)
  }
  for (const known of byPiece.values()) known.sort((a, b) => b.score - a.score).splice(4)
  const pieces = [...byPiece.values()].sort((a, b) => (b[0]?.score ?? 0) - (a[0]?.score ?? 0))
  const bound = pieces.map((known) => known[0]?.score ?? 0)
  for (let at = bound.length - 2; at >= 0; at--) bound[at] = (bound[at] ?? 0) + (bound[at + 1] ?? 0)
  let best = greedy(candidates)
  let steps = 0
  const search = (at: number, chosen: Candidate[], used: Set<string>, total: number): void => {
    steps += 1
    if (steps > MOST_STEPS || total + (bound[at] ?? 0) <= best.total + 1e-9) return
    const known = pieces[at]
    if (known === undefined) {
      best = { chosen: [...chosen], total }
      return
    }
    for (const candidate of known) {
      const key = keyOf(candidate)
      const first = !used.has(key)
      if (!first && !growing(candidate)) continue
      used.add(key)
      chosen.push(candidate)
      search(at + 1, chosen, used, total + candidate.score)
      chosen.pop()
      if (first) used.delete(key)
    }
    search(at + 1, chosen, used, total)
  }
  search(0, [], new Set(), 0)
  return best
}

function greedy(candidates: readonly Candidate[]): Assignment {
  const chosen: Candidate[] = []
  const used = new Set<string>()
  const pieces = new Set<Piece>()
  for (const candidate of [...candidates].sort((a, b) => b.score - a.score)) {
    const key = keyOf(candidate)
    if ((used.has(key) && !growing(candidate)) || pieces.has(candidate.piece)) continue
    used.add(key)
    pieces.add(candidate.piece)
    chosen.push(candidate)
  }
  return { chosen, total: chosen.reduce((sum, candidate) => sum + candidate.score, 0) }
}

/** How much better a reading must be than the next for nobody to have to ask. */
const CLEAR = 0.35

/** Roles that two pieces could take with hardly a difference: asking is better than guessing. */
export function doubtful(
  chosen: readonly Candidate[],
  candidates: readonly Candidate[],
): Map<Candidate, Piece[]> {
  const out = new Map<Candidate, Piece[]>()
  const taken = new Map(chosen.map((candidate) => [candidate.piece, candidate]))
  const scoreOf = (piece: Piece, role: Role) =>
    candidates.find((each) => each.piece === piece && roleKey(each.role) === roleKey(role))?.score
  for (const one of chosen) {
    for (const rival of candidates) {
      const otherRole =
        rival.piece === one.piece && rival !== one && !chosen.some((each) => keyOf(each) === keyOf(rival))
      if (
        otherRole &&
        rival.role.part === one.role.part &&
        rival.score >= one.score - 0.1 &&
        rival.why === 'alone'
      )
        note(out, one, [one.piece])
      if (rival.piece === one.piece || roleKey(rival.role) !== roleKey(one.role)) continue
      if (growing(one) && growing(rival)) continue
      const other = taken.get(rival.piece)
      if (other === undefined) {
        if (rival.score >= one.score - CLEAR && !sameRaw(rival.raw, one.raw))
          note(out, one, [one.piece, rival.piece])
        continue
      }
      const swapped = scoreOf(one.piece, other.role)
      if (swapped === undefined || sameRaw(one.raw, other.raw)) continue
      if (rival.score + swapped >= one.score + other.score - CLEAR) note(out, one, [one.piece, rival.piece])
    }
  }
  return out
}

const note = (map: Map<Candidate, Piece[]>, candidate: Candidate, pieces: Piece[]): void => {
  map.set(candidate, [...new Set([...(map.get(candidate) ?? []), ...pieces])])
}

const sameRaw = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other)

/** Where phrases say what a list holds, other quantities of its kind do not join it uncalled. */
export function withoutStrays(candidates: readonly Candidate[]): Candidate[] {
  const told = new Set(candidates.filter((each) => growing(each) && each.why === 'phrase').map(keyOf))
  return candidates.filter(
    (each) => each.why === 'phrase' || each.piece.counted || !growing(each) || !told.has(keyOf(each)),
  )
}

/** Quantities of a list's kind that nothing says more about: they may belong to it or not. */
export function strays(
  candidates: readonly Candidate[],
  chosen: readonly Candidate[],
  used: ReadonlySet<Piece>,
): Unclear[] {
  const lists = chosen.filter(growing)
  const open = candidates.filter(
    (each) => growing(each) && !used.has(each.piece) && lists.some((other) => keyOf(other) === keyOf(each)),
  )
  return [...new Set(open.map(({ role }) => role.id))].map((field) => ({
    field,
    pieces: open.filter(({ role }) => role.id === field).map(({ piece }) => piece),
  }))
}
