import type { Change, Follow } from './follow'
import type { Line } from './line'
import type { Raw } from './raw'

/** "one more", "another 14/2", "a third one the same": a list that grows or shrinks by what it has. */
export function changedCount(raw: Raw, by: number): Raw | undefined {
  if (!Array.isArray(raw)) return undefined
  const list = [...raw] as Raw[]
  const last = list[list.length - 1]
  if (last === undefined) return undefined
  if (typeof last === 'object' && !Array.isArray(last) && 'count' in last) {
    if (list.length > 1) return undefined
    const count = Number((last as { count: Raw }).count) + by
    return count > 0 ? [{ ...(last as object), count: String(count) } as Raw] : undefined
  }
  if (by > 0) return [...list, ...Array.from({ length: Math.min(by, 30) }, () => last)]
  return list.length + by > 0 ? list.slice(0, list.length + by) : undefined
}

/** Lists of which "one more" may be said, by question. */
export const GROWING = ['drivers', 'cables', 'added', 'legs', 'openings']

const COUNTED_CABLE = /^(\d+) x (.+)$/

/** `2 x 14/2` and another `1 x 14/2` are `3 x 14/2`. */
export function joinedCables(before: readonly Raw[], more: readonly Raw[]): Raw[] {
  const out = [...before]
  for (const cable of more) {
    const [, count = '1', code = String(cable)] = COUNTED_CABLE.exec(String(cable)) ?? []
    const at = out.findIndex((each) => (COUNTED_CABLE.exec(String(each))?.[2] ?? String(each)) === code)
    const had = at < 0 ? 0 : Number(COUNTED_CABLE.exec(String(out[at]))?.[1] ?? 1)
    if (at < 0) out.push(cable)
    else out[at] = `${had + Number(count)} x ${code}`
  }
  return out
}

const SWAPS = /\b(?:swap|change|replace|trade|exchange|switch)\b.*\b(?:for|with|to|by)\b/i

/** "swap one 14/2 for a 14/3": the first goes, the second comes. */
export function swappedCables(id: string, raw: Raw, before: Raw | undefined, line: Line): Raw[] | undefined {
  if (
    id !== 'cables' ||
    !Array.isArray(raw) ||
    !Array.isArray(before) ||
    raw.length !== 2 ||
    !SWAPS.test(line.text)
  )
    return undefined
  const [out, into] = raw as Raw[]
  const [, gone = '1', code] = COUNTED_CABLE.exec(String(out)) ?? []
  const at = before.findIndex((each) => COUNTED_CABLE.exec(String(each))?.[2] === code)
  const left = at < 0 ? -1 : Number(COUNTED_CABLE.exec(String(before[at]))?.[1] ?? 1) - Number(gone)
  if (left < 0 || into === undefined) return undefined
  const rest = before.flatMap((each: Raw, index) =>
    index !== at ? [each] : left > 0 ? [`${left} x ${code}`] : [],
  )
  return joinedCables(rest, [into])
}

type CountedRow = { readonly count: Raw; readonly [column: string]: Raw }

const oneCountedRow = (raw: Raw | undefined): raw is readonly [CountedRow] => {
  const [first, ...more] = Array.isArray(raw) ? (raw as Raw[]) : []
  return more.length === 0 && typeof first === 'object' && !Array.isArray(first) && 'count' in first
}

const countSaid = (line: Line): boolean =>
  (line.views[0]?.pieces ?? []).some((piece) => piece.counted || piece.bare !== undefined)

/** "what if they're 100 watt drivers", "make them 12 mm": as many as before. */
export function asManyAsBefore(raw: Raw, before: Raw | undefined, line: Line): Raw {
  if (oneCountedRow(before) && oneCountedRow(raw) && !countSaid(line))
    return [{ ...(raw[0] as object), count: before[0].count as Raw }]
  const alike =
    Array.isArray(before) &&
    before.length > 1 &&
    before.every((each) => JSON.stringify(each) === JSON.stringify(before[0]))
  if (!alike || !Array.isArray(raw) || raw.length !== 1) return raw
  const several = line.tokens.some(
    (token) =>
      /^(?:they|them|those|these|each|both|all|drivers)$/.test(token.said) || token.said.startsWith('they'),
  )
  return several ? before.map(() => raw[0] as Raw) : raw
}

/** "make it three of them": a list of alike things with another number of them. */
export function recounted(carried: ReadonlyMap<string, Raw>, { piece }: Follow, change: Change): void {
  const count = piece?.bare
  const lists = GROWING.filter((id) => carried.has(id) && !change.set.has(id))
  const [id] = lists
  const raw = id === undefined ? undefined : carried.get(id)
  if (
    !piece ||
    count === undefined ||
    !Number.isInteger(count) ||
    count < 1 ||
    count > 30 ||
    lists.length !== 1 ||
    !id
  )
    return
  if (!Array.isArray(raw) || raw.some((each) => JSON.stringify(each) !== JSON.stringify(raw[0]))) return
  const [first] = raw as Raw[]
  const rows = typeof first === 'object' && !Array.isArray(first) && 'count' in first
  if (typeof first === 'string' && COUNTED_CABLE.test(first)) return
  change.set.set(
    id,
    rows
      ? [{ ...(first as object), count: String(count) } as Raw]
      : Array.from({ length: count }, () => first as Raw),
  )
  change.said.set(id, '')
  change.used.add(piece)
}
