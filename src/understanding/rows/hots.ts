import type { RowBuilder } from '../interpret'
import type { Line } from '../line'
import type { Piece } from '../pieces'
import type { Raw } from '../raw'
import { pieceAt, type View, wordAt } from '../view'
import { listed } from '../vocabulary'
import { cuedFor, givenBy, nothing, placesOf, reading } from './common'

const LEGS: Readonly<Record<string, string>> = { a: 'A', b: 'B', c: 'C', l1: 'A', l2: 'B', l3: 'C' }
const LEG_WORDS = listed('legs')
/** One load said of several hots: "4 A each", "both are 3 A". */
const EACH = new Set(['each', 'both', 'apiece', 'all'])
const CIRCUIT_WORDS = listed('circuits')
const NAMES = ['one', 'two', 'three', 'four', 'five', 'six']

/** "8 A on A and 5 A on B", "A leg 10 A, B leg 6 A": letters alone, where there are several. */
function lettersIn(view: View): string[] {
  const letters = view.items.flatMap((_, at) => {
    const letter = LEGS[wordAt(view, at)]
    const leg = LEG_WORDS.has(wordAt(view, at - 1)) ? 1 : 0
    const on =
      wordAt(view, at - 1 - leg) === 'on' &&
      pieceAt(view, at - 2 - leg) !== undefined &&
      !LEG_WORDS.has(wordAt(view, at + 1))
    const beforeLoad = pieceAt(view, at + 1)?.readings.some(
      ({ dimension }) => dimension === 'current' || dimension === 'power',
    )
    return letter &&
      (on ||
        (beforeLoad && !LEG_WORDS.has(wordAt(view, at - 1))) ||
        (LEG_WORDS.has(wordAt(view, at + 1)) && !LEGS[wordAt(view, at + 2)]))
      ? [letter]
      : []
  })
  return new Set(letters).size === letters.length && letters.includes('B') ? letters : []
}

/** "legs A, B and C", "leg A ... leg B": the legs in the order they are said. */
function legsIn(view: View): string[] {
  const lettered = lettersIn(view)
  if (lettered.length > 1) return lettered
  const legs: string[] = []
  view.items.forEach((_, at) => {
    const listed = wordAt(view, at + 1) === 'a' && [2, 3, 4].some((ahead) => wordAt(view, at + ahead) === 'b')
    if (!LEG_WORDS.has(wordAt(view, at)) && !listed) return
    for (let next = at + 1; next < at + 8; next++) {
      const word = wordAt(view, next)
      const article = word === 'a' && next > at + 1 && view.items[next + 1]?.kind === 'word'
      if (article) break
      if (LEGS[word]) legs.push(LEGS[word])
      else if (word !== 'and' && view.items[next]?.kind !== 'comma') break
    }
  })
  return legs
}

/** "circuits 1 and 3", "from breaker 2": their names in order, and the pieces that they are. */
function circuitsIn(view: View): { names: string[]; pieces: Piece[] } {
  const names: string[] = []
  const pieces: Piece[] = []
  view.items.forEach((_, at) => {
    if (!CIRCUIT_WORDS.has(wordAt(view, at))) return
    for (let next = at + 1; next < at + 8; next++) {
      const piece = pieceAt(view, next)
      const word = wordAt(view, next)
      if (piece?.bare !== undefined && piece.readings.length === 0) {
        names.push(String(piece.bare))
        pieces.push(piece)
      } else if (['x', 'y', 'z'].includes(word)) names.push(word.toUpperCase())
      else if (!['and', 'number', 'no', 'on', 'numbers'].includes(word) && view.items[next]?.kind !== 'comma')
        break
      else if (word === 'on') break
    }
  })
  return { names, pieces }
}

const has = (view: View, ...phrases: string[][]): boolean =>
  view.items.some((_, at) =>
    phrases.some((words) =>
      words.every((word, index) => wordAt(view, at + index).replace(/s$/, '') === word),
    ),
  )

const saidOneCircuit = (view: View): boolean =>
  view.matches.some(
    ({ value }) => value.kind === 'means' && value.id === 'supplyKind' && value.value === 'one-circuit',
  )

const sameBreaker = (view: View, line: Line, breakers: ReadonlySet<Piece>): boolean =>
  saidOneCircuit(view) ||
  [...breakers].some(
    (piece) =>
      /^(?:one|a single|single|same)\b/i.test(line.said(piece)) || wordBefore(view, piece) === 'same',
  ) ||
  has(
    view,
    ['same', 'breaker'],
    ['one', 'breaker'],
    ['one', 'circuit'],
    ['same', 'circuit'],
    ['single', 'breaker'],
    ['a', 'single', 'circuit'],
  )
const wordBefore = (view: View, piece: Piece): string => {
  const at = view.items.findIndex((item) => item.kind === 'piece' && item.piece === piece)
  return wordAt(view, at - 1)
}

const ownBreakers = (view: View): boolean =>
  has(
    view,
    ['a', 'breaker', 'each'],
    ['breaker', 'each'],
    ['own', 'breaker'],
    ['separate', 'breaker'],
    ['different', 'breaker'],
    ['two', 'breaker'],
    ['three', 'breaker'],
    ['different', 'circuit'],
    ['separate', 'circuit'],
    ['two', 'circuit'],
    ['three', 'circuit'],
    ['own', 'circuit'],
    ['circuit', 'each'],
    ['two', 'different', 'breaker'],
    ['two', 'separate', 'breaker'],
  )
const sameLeg = (view: View): boolean => has(view, ['same', 'leg'], ['same', 'phase'], ['one', 'leg'])
const oppositeLegs = (view: View): boolean =>
  has(
    view,
    ['opposite', 'leg'],
    ['different', 'leg'],
    ['opposite', 'phase'],
    ['each', 'leg'],
    ['opposite', 'line'],
  )

type Load = { column: 'current' | 'load'; typed: string; piece: Piece }

/** A bare number after a leg's name has the unit of the others: "leg A carries 6 amps and leg B four and a half". */
function loadsIn(
  view: View,
  free: ReadonlySet<Piece>,
  names: readonly Piece[],
  cued: ReadonlySet<Piece>,
): Load[] {
  const out: Load[] = []
  let unit: 'A' | 'W' | undefined
  for (const { at, piece } of placesOf(view, free)) {
    if (names.includes(piece) || cued.has(piece)) continue
    for (const each of piece.members ?? [piece]) {
      const current = reading(each, 'current')
      const load = reading(each, 'power')
      if (current || load) {
        unit = current ? 'A' : 'W'
        for (let time = 0; time < Math.min(each.times, 6); time++) {
          out.push({ column: current ? 'current' : 'load', typed: (current ?? load)?.typed ?? '', piece })
        }
      } else if (each.bare !== undefined && unit && (afterLeg(view, at) || afterOther(view, at))) {
        out.push({ column: unit === 'A' ? 'current' : 'load', typed: `${each.bare} ${unit}`, piece })
      }
    }
  }
  return out
}

/** "one takes 2.8 amps and the OTHER 3.1" */
const afterOther = (view: View, at: number): boolean =>
  wordAt(view, at - 1) === 'other' || (wordAt(view, at - 2) === 'other' && wordAt(view, at - 1) !== '')

const afterLeg = (view: View, at: number): boolean => {
  for (let back = 1; back <= 3 && wordAt(view, at - back) !== ''; back++) {
    if (LEGS[wordAt(view, at - back)] !== undefined && LEG_WORDS.has(wordAt(view, at - back - 1))) return true
  }
  return false
}

/** What a breaker is rated at; "9.5 amps breaker 2 leg B" goes on with the next breaker's name. */
function breakersIn(view: View, question: string): ReadonlySet<Piece> {
  const cued = cuedFor(view, question, ['breaker'], 2.5, 'current')
  return new Set(
    [...cued].filter((piece) => {
      const at = view.items.findIndex((item) => item.kind === 'piece' && item.piece === piece)
      return !(CIRCUIT_WORDS.has(wordAt(view, at + 1)) && pieceAt(view, at + 2)?.bare !== undefined)
    }),
  )
}

/** The switched hots that share a neutral: what each carries, its leg and its breaker. */
export const hotRows: RowBuilder = (shape, line, view, setting, free) => {
  const built = nothing()
  const circuits = circuitsIn(view)
  const cued = breakersIn(view, shape.id)
  const legs = legsIn(view)
  const said = loadsIn(view, new Set(free), circuits.pieces, cued)
  const each = said.length === 1 && view.items.some((_, at) => EACH.has(wordAt(view, at)))
  const alike = Math.max(
    legs.length,
    circuits.names.length,
    each && has(view, ['three-phase'], ['wye']) ? 3 : each ? 2 : 0,
  )
  const loads = each && alike > 1 ? Array.from({ length: alike }, () => said[0] as Load) : said
  if (loads.length === 0) return built
  const pieces = [...loads.map((each) => each.piece), ...circuits.pieces]
  const count = loads.length
  const three = has(view, ['three-phase'], ['wye'])
  const threeLegs = three && legs.length === 0 && count === 3 ? ['A', 'B', 'C'] : undefined
  const legOf = (index: number): string | undefined => {
    if (threeLegs) return threeLegs[index]
    if (legs.length === count) return legs[index]
    if (sameLeg(view) || (legs.length === 1 && has(view, ['both'], ['all']))) return legs[0] ?? 'A'
    if (oppositeLegs(view) && count === 2) return ['A', 'B'][index]
    return undefined
  }
  const circuitOf = (index: number): string | undefined => {
    if (circuits.names.length === count) return circuits.names[index]
    if (ownBreakers(view)) return NAMES[index]
    if (circuits.names.length === 1) return circuits.names[0]
    if (sameBreaker(view, line, cued)) return 'one'
    return new Set(loads.map((_, each) => legOf(each))).size === count && legOf(index)
      ? NAMES[index]
      : undefined
  }
  const [one] = loads
  if (count === 1 && one && setting.has.has('hots')) {
    const [leg, circuit] = [legs[0], circuits.names[0] ?? (sameBreaker(view, line, cued) ? 'one' : undefined)]
    const row = { [one.column]: one.typed, ...(circuit ? { circuit } : {}), ...(leg ? { leg } : {}) }
    built.given.set('hots', givenBy(line, [row], [...new Set(pieces)]))
    return built
  }
  const unsettled = legs.length > 0 && legs.length !== count && legOf(0) === undefined
  const odd = circuits.names.length > 1 && circuits.names.length !== count
  if (count < 2 || count > 6 || unsettled || odd || circuitOf(0) === undefined) {
    built.unclear.push({ field: 'hots', pieces: [...new Set(pieces)] })
    return built
  }
  const rows = loads.map(({ column, typed }, index): Record<string, Raw> => {
    const leg = legOf(index)
    return { [column]: typed, circuit: circuitOf(index) ?? '', ...(leg ? { leg } : {}) }
  })
  built.given.set('hots', givenBy(line, rows, [...new Set(pieces)]))
  return built
}
