import type { RowBuilder } from '../interpret'
import type { Piece } from '../pieces'
import type { Raw } from '../raw'
import { gaugeNumbers } from '../sizes'
import { pieceAt, type View, wordAt } from '../view'
import { listed } from '../vocabulary'
import { givenBy, nothing, placesOf, reading } from './common'

const DEVICES = listed('devices')
const NOT_DEVICES = listed('notDevices')
const KINDS: Readonly<Record<string, string>> = {
  hot: 'hot',
  neutral: 'neutral',
  ground: 'ground',
  pigtail: 'pigtail',
  traveller: 'hot',
  traveler: 'hot',
  through: 'through',
}
const FITTINGS = listed('supportFittings')

const singular = (word: string): string => (DEVICES.has(word) ? word : word.replace(/(?:(?<=tch)es|s)$/, ''))

type Counted = { count: number; piece?: Piece } | undefined

/** How many of the thing at an item: a number or an article before it, at most two words between. */
function countAt(view: View, at: number): Counted {
  for (let back = 1; back <= 4; back++) {
    const piece = pieceAt(view, at - back)
    if (piece && singular(wordAt(view, at - back + 1)) === 'gang') continue
    if (piece) {
      const bare = piece.readings.length === 0 && piece.kind === 'quantity' ? piece.bare : undefined
      return bare === undefined ? undefined : { count: bare, piece }
    }
    const word = wordAt(view, at - back)
    if (word === 'single' && singular(wordAt(view, at - back + 1)) === 'gang') continue
    if (['a', 'an', 'one', 'the', 'single', 'another', 'that', 'this', 'each'].includes(word))
      return { count: 1 }
    if (word === '' || ['no', 'without', 'with', 'and', 'plus', 'in', 'for', 'of'].includes(word)) break
  }
  return undefined
}

/** "a two gang dimmer". */
function gangsAt(view: View, at: number): Counted {
  const gang = [at - 1, at - 2].find((each) => singular(wordAt(view, each)) === 'gang')
  const piece = gang === undefined ? undefined : pieceAt(view, gang - 1)
  return piece?.bare === undefined ? undefined : { count: piece.bare, piece }
}

type Place = { rows: Record<string, Raw>[]; pieces: Piece[]; words: string }

function devicesIn(view: View, free: ReadonlySet<Piece>): Place & { unclear: boolean } {
  const out = { rows: [] as Record<string, Raw>[], pieces: [] as Piece[], words: '', unclear: false }
  for (let at = 0; at < view.items.length; at++) {
    const word = wordAt(view, at)
    const name = singular(word)
    if (!DEVICES.has(name) || (NOT_DEVICES.has(wordAt(view, at + 1)) && wordAt(view, at + 2) !== 'fill'))
      continue
    if (DEVICES.has(singular(wordAt(view, at + 1)))) continue
    if (['no', 'without'].includes(wordAt(view, at - 1))) continue
    const counted = countAt(view, at)
    if (counted === undefined && word !== name) out.unclear = true
    const gangs = gangsAt(view, at)
    const extra = detailsAfter(view, at, free)
    if (extra.row.gauge && ['both', 'all'].includes(wordAt(view, at + 1)))
      for (const row of out.rows) row.gauge ??= extra.row.gauge
    if (gangs) extra.row.gangs = String(gangs.count)
    // "one wide dimmer"
    if (wordAt(view, at - 1) === 'wide') extra.row.wide ??= true
    const count = counted?.count ?? 1
    for (let time = 0; time < Math.min(count, 10); time++) out.rows.push({ ...extra.row })
    for (const number of [counted, gangs]) if (number?.piece) out.pieces.push(number.piece)
    out.pieces.push(...extra.pieces)
    out.words = out.words || word
  }
  return out
}

/** "over two inches wide", "on 12 gauge", after a device. */
function detailsAfter(
  view: View,
  at: number,
  free: ReadonlySet<Piece>,
): { row: Record<string, Raw>; pieces: Piece[] } {
  const row: Record<string, Raw> = {}
  const pieces: Piece[] = []
  for (let next = at + 1; next <= at + 7; next++) {
    const item = view.items[next]
    // "two switches, both on 14 gauge"
    const goesOn = item?.kind === 'comma' && ['both', 'all', 'each'].includes(wordAt(view, next + 1))
    if (item === undefined || item.kind === 'stop' || (item.kind === 'comma' && !goesOn)) break
    const piece = pieceAt(view, next)
    const wider = wordAt(view, next - 1) === 'than' && wordAt(view, next - 2).startsWith('wide')
    if (piece && reading(piece, 'length') && (wider || ['wide', 'across'].includes(wordAt(view, next + 1)))) {
      row.wide =
        (reading(piece, 'length')?.value ?? 0) >= 0.0508 &&
        ['over', 'than', 'above'].includes(wordAt(view, next - 1))
          ? true
          : (reading(piece, 'length')?.value ?? 0) > 0.0508
      pieces.push(piece)
    } else if (
      piece &&
      free.has(piece) &&
      reading(piece, 'size') &&
      ['on', 'with', 'of', 'for'].includes(wordAt(view, next - 1)) &&
      !piece.counted
    ) {
      row.gauge = reading(piece, 'size')?.typed ?? ''
      pieces.push(piece)
    } else if (piece?.bare !== undefined && gaugeNumbers.has(piece.bare) && wordAt(view, next - 1) === 'on') {
      row.gauge = `${piece.bare} AWG`
      pieces.push(piece)
    } else if (piece) break
    if (['and', 'plus'].includes(wordAt(view, next))) break
  }
  return { row, pieces }
}

/** "four 14 gauge hots", "one 12 gauge run uncut straight through with a long loop". */
function conductorsIn(
  view: View,
  free: ReadonlySet<Piece>,
): { conductors: Place; looped: Place; blocks: Place } {
  const make = (): Place => ({ rows: [], pieces: [], words: '' })
  const out = { conductors: make(), looped: make(), blocks: make() }
  for (const { at, piece } of placesOf(view, free)) {
    const size = reading(piece, 'size')
    if (!size || piece.members) continue
    const after: string[] = []
    for (let next = at + 1; next <= at + 10; next++) {
      const word = wordAt(view, next)
      if (word === '' || (['and', 'plus'].includes(word) && after.length < 4)) break
      after.push(word)
    }
    const text = after.join(' ')
    const count = String(piece.times)
    const terminal = [1, 2, 3, 4, 5].some(
      (back) => wordAt(view, at - back) === 'block' && wordAt(view, at - back - 1) === 'terminal',
    )
    if (/^terminal block/.test(text) || terminal) {
      for (let time = 0; time < piece.times; time++) out.blocks.rows.push({ gauge: size.typed })
      out.blocks.pieces.push(piece)
    } else if (
      /\b(?:uncut|unbroken|straight through|passing through|runs? through|running through|looped|not cut)\b/.test(
        text,
      )
    ) {
      out.looped.rows.push({
        gauge: size.typed,
        count,
        ...(/\blong loop|loop of|twelve inch/.test(text) ? { long: true } : {}),
      })
      out.looped.pieces.push(piece)
    } else {
      const isolated = after[0] === 'isolated' && singular(after[1] ?? '') === 'ground'
      const kind = isolated ? 'isolated-ground' : KINDS[singular(after[0] ?? '')]
      const plain = ['wire', 'wires', 'conductor', 'conductors'].includes(after[0] ?? '')
      if (kind === undefined && !(plain && piece.counted)) continue
      out.conductors.rows.push({ gauge: size.typed, count, ...(kind ? { kind } : {}) })
      out.conductors.pieces.push(piece)
    }
  }
  gaugeless(view, free, out.conductors)
  return out
}

/** "six 14 gauge hots, six neutrals, 3 grounds": those without a size have that of the ones before. */
function gaugeless(view: View, free: ReadonlySet<Piece>, conductors: Place): void {
  const [first] = conductors.rows
  if (first === undefined) return
  for (const { at, piece } of placesOf(view, free)) {
    const kind = KINDS[singular(wordAt(view, at + 1))]
    const count = piece.readings.length === 0 && piece.kind === 'quantity' ? piece.bare : undefined
    if (kind === undefined || count === undefined || !Number.isInteger(count)) continue
    conductors.rows.push({ gauge: first.gauge ?? '', count: String(count), kind })
    conductors.pieces.push(piece)
  }
}

/** Everything in a box: cables or conductors, devices, fittings, blocks and isolated grounds. */
export const boxRows: RowBuilder = (_shape, line, view, _setting, free) => {
  const built = nothing()
  const open = new Set(free)
  const put = (field: string, place: Place, raw: Raw = place.rows) => {
    if (place.rows.length > 0) built.given.set(field, givenBy(line, raw, place.pieces, place.words))
  }
  const { conductors, looped, blocks } = conductorsIn(view, open)
  put('conductors', conductors)
  put('looped', looped)
  put(
    'terminalBlocks',
    blocks,
    blocks.rows.map((row) => row.gauge ?? ''),
  )
  for (const piece of [...conductors.pieces, ...looped.pieces, ...blocks.pieces]) open.delete(piece)
  const devices = devicesIn(view, open)
  if (devices.unclear) built.unclear.push({ field: 'devices', pieces: devices.pieces })
  else put('devices', devices)
  const cables = placesOf(view, open).flatMap(({ piece }) =>
    (piece.members ?? [piece]).filter((each) => each.kind === 'cable').map((each) => ({ each, piece })),
  )
  if (cables.length > 0) {
    const raw = cables.map(({ each }) => `${each.times} x ${each.code}`)
    built.given.set('cables', givenBy(line, raw, [...new Set(cables.map(({ piece }) => piece))]))
  }
  const fittings = view.items.flatMap((item) =>
    item.kind === 'word' && FITTINGS.has(singular(item.text)) ? [singular(item.text)] : [],
  )
  if (fittings.length > 0)
    built.given.set('supportFittings', { raw: fittings, said: fittings.join(', '), pieces: [] })
  const isolated = view.items.findIndex(
    (_, at) => wordAt(view, at) === 'isolated' && singular(wordAt(view, at + 1)) === 'ground',
  )
  const counted = isolated < 0 ? undefined : countAt(view, isolated)
  if (isolated >= 0 && !conductors.rows.some((row) => row.kind === 'isolated-ground')) {
    built.given.set('isolatedGrounds', {
      raw: counted?.count ?? 1,
      said: 'isolated ground',
      pieces: counted?.piece ? [counted.piece] : [],
    })
  }
  return built
}
