import type { RowBuilder } from '../interpret'
import type { Piece } from '../pieces'
import type { Raw } from '../raw'
import { pieceAt, type View, wordAt } from '../view'
import { givenBy, nothing } from './common'

/** What an instrument shows of light. */
const SHOWN: ReadonlySet<string> = new Set(['illuminance', 'voltage', 'current', 'power'])

type Shown = { value: number; raw: Raw }

const readingOf = (piece: Piece): Shown | undefined => {
  if (piece.bare !== undefined) return { value: piece.bare, raw: piece.bare }
  const [reading] = piece.readings
  if (reading?.dimension === 'percent') return { value: reading.value, raw: reading.value }
  return reading && SHOWN.has(reading.dimension) ? { value: reading.value, raw: reading.typed } : undefined
}

/** "40 to 100 %" as one range, or "between 40 and 100" and "40 to 100" as two numbers. */
function endsOfSwing(view: View): { pieces: readonly Piece[]; ends: readonly Piece[] } | undefined {
  const ranges = view.pieces.filter((piece) => piece.kind === 'range' && piece.members?.length === 2)
  const range = ranges.find((piece) => piece.members?.every((member) => readingOf(member)))
  if (range?.members) return { pieces: [range], ends: range.members }
  for (let at = 0; at < view.items.length; at++) {
    const [low, high] = [pieceAt(view, at + 1), pieceAt(view, at + 3)]
    const opened = ['between', 'from'].includes(wordAt(view, at))
    const down = ['down', 'up'].includes(wordAt(view, at + 2)) && wordAt(view, at + 3) === 'to'
    if (opened && down) {
      const last = pieceAt(view, at + 4)
      if (low && last && readingOf(low) && readingOf(last)) return { pieces: [low, last], ends: [low, last] }
    }
    const joined = (opened ? ['and', 'to'] : ['to']).includes(wordAt(view, at + 2))
    if (joined && low && high && readingOf(low) && readingOf(high)) {
      return { pieces: [low, high], ends: [low, high] }
    }
  }
  return undefined
}

/** "from 400 lux down to 280": a number without a unit is in that of the other. */
function inOneUnit([low, high]: [Shown, Shown]): [Shown, Shown] {
  const unit = [low, high].map(({ raw }) => (typeof raw === 'string' ? raw.replace(/^-?[\d.]+ /, '') : ''))
  const [given] = unit.filter((each) => each !== '')
  const put = (shown: Shown): Shown =>
    given !== undefined && typeof shown.raw === 'number' ? { ...shown, raw: `${shown.raw} ${given}` } : shown
  return [put(low), put(high)]
}

/** For a swing of light the two ends of a range are its least and its greatest. */
export const swingRows: RowBuilder = (_shape, line, view) => {
  const built = nothing()
  const swing = endsOfSwing(view)
  const [one, other] = (swing?.ends ?? []).map(readingOf)
  if (!swing || !one || !other) return built
  const [low, high] = inOneUnit(one.value <= other.value ? [one, other] : [other, one])
  built.given.set('max', givenBy(line, high.raw, swing.pieces))
  built.given.set('min', givenBy(line, low.raw, swing.pieces))
  return built
}
