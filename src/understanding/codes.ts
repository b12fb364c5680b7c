import { readBox } from '../tables/box-codes'
import { allowanceIn3 } from '../tables/boxes'
import { readCable } from '../tables/cable-codes'
import { lumber } from '../tables/lumber'
import { addedPart, numeralAt } from './numbers'
import { emptyPiece, type Piece } from './pieces'
import type { Token } from './tokens'
import { unitAt } from './units'
import { numberWords } from './vocabulary'

type Tokens = readonly Token[]

const text = (tokens: Tokens, at: number): string => tokens[at]?.text ?? ''

/** "two" and "twos" as the second half of "fourteen two". */
const wires = (tokens: Tokens, at: number): number | undefined => {
  const token = tokens[at]
  if (token?.kind === 'numeral') return /^[2-5]$/.test(token.text) ? Number(token.text) : undefined
  const number = numberWords.small.get(token?.text ?? '') ?? numberWords.plurals.get(token?.text ?? '')
  return number !== undefined && number >= 2 && number <= 5 ? number : undefined
}

const isWireGauge = (gauge: number | undefined): gauge is number =>
  gauge !== undefined && gauge >= 6 && gauge <= 18 && allowanceIn3(gauge) !== undefined

/** `14/2`, `14-3`, `12/2/2`. */
function digitCable(tokens: Tokens, from: number): { code: string; to: number } | undefined {
  const first = tokens[from]
  if (first?.kind !== 'numeral' || !isWireGauge(Number(first.text))) return undefined
  let code = first.text
  let at = from + 1
  while (['/', '-'].includes(text(tokens, at)) && tokens[at]?.glued && tokens[at + 1]?.glued) {
    const count = tokens[at + 1]?.kind === 'numeral' ? wires(tokens, at + 1) : undefined
    if (count === undefined) break
    code += `/${count}`
    at += 2
  }
  return at === from + 1 ? undefined : { code, to: at }
}

/** "fourteen two", "twelve threes". */
function wordCable(tokens: Tokens, from: number): { code: string; to: number } | undefined {
  const gauge = tokens[from]?.kind === 'word' ? numberWords.small.get(text(tokens, from)) : undefined
  const slash = ['slash', 'dash'].includes(text(tokens, from + 1)) ? 1 : 0
  const count = tokens[from + 1 + slash]?.kind === 'word' ? wires(tokens, from + 1 + slash) : undefined
  if (!isWireGauge(gauge) || count === undefined) return undefined
  const to = from + 2 + slash
  const unit = unitAt(tokens, to)
  if ((unit && unit.said !== 'a') || ['hundred', 'thousand', 'point'].includes(text(tokens, to)))
    return undefined
  return { code: `${gauge}/${count}`, to }
}

/** "no ground", "with no ground", "without ground", "with isolated ground", after a cable. */
function groundsAt(tokens: Tokens, at: number): { words: string; to: number } {
  const skip = ['cable', 'cables', 'nm', 'mc', 'wire', 'nmb', 'with', 'and', '-'].includes(text(tokens, at))
    ? 1
    : 0
  const first = text(tokens, at + (text(tokens, at) === 'with' || text(tokens, at) === 'and' ? 0 : skip))
  const start = at + (first === text(tokens, at) ? 0 : skip)
  if (['no', 'without'].includes(first)) {
    const article = ['a', 'the', 'any'].includes(text(tokens, start + 1)) ? 1 : 0
    if (text(tokens, start + 1 + article).startsWith('ground'))
      return { words: ' no ground', to: start + 2 + article }
  }
  if (first === 'with' && text(tokens, start + 1) === 'no' && text(tokens, start + 2).startsWith('ground'))
    return { words: ' no ground', to: start + 3 }
  if (first === 'with' || first === 'plus') {
    const article = ['a', 'the'].includes(text(tokens, start + 1)) ? 1 : 0
    if (text(tokens, start + 1 + article) === 'ground') return { words: '', to: start + 2 + article }
  }
  return { words: '', to: at }
}

/** A cable by its size: `14/2`, "fourteen two", with whether it has a ground. */
export function cableAt(tokens: Tokens, from: number): Piece | undefined {
  const found = digitCable(tokens, from) ?? wordCable(tokens, from)
  if (found === undefined) return undefined
  const unit = unitAt(tokens, found.to)
  if (unit && unit.unit !== 'AWG' && unit.said !== 'in' && unit.said !== 'a') return undefined
  const grounds = groundsAt(tokens, found.to)
  const code = `${found.code}${grounds.words}`
  if (!readCable(code).ok) return undefined
  return { ...emptyPiece('cable', from, grounds.to), code, plain: true }
}

const members = new Set(lumber.members.map((row) => row.member))

/** `2x10`, "two by ten", where no unit and no further size goes on. */
export function lumberAt(tokens: Tokens, from: number): Piece | undefined {
  const thick = text(tokens, from)
  if (thick !== '2' && thick !== 'two') return undefined
  if (!['x', 'by'].includes(text(tokens, from + 1)) || text(tokens, from - 1) === 'x') return undefined
  const wide = numeralAt(tokens, from + 2)
  const plural = numberWords.plurals.get(text(tokens, from + 2))
  const code = `2x${wide?.value ?? plural}`
  const to = wide?.to ?? from + 3
  if (!members.has(code) || unitAt(tokens, to)) return undefined
  if (['/', 'x', 'by', '-'].includes(text(tokens, to)) && tokens[to + 1]?.kind !== 'word') return undefined
  return { ...emptyPiece('lumber', from, to), code, plain: true }
}

const SHAPES: Readonly<Record<string, string>> = {
  octagon: 'octagon',
  octagonal: 'octagon',
  oct: 'octagon',
  round: 'octagon',
  square: 'square',
  sq: 'square',
  'square-box': 'square',
  device: 'device',
  handy: 'device',
  masonry: 'masonry',
  fs: 'FS',
  fd: 'FD',
}
const BETWEEN = new Set([
  'x',
  'by',
  '"',
  'in',
  'inch',
  'inches',
  'box',
  'metal',
  'steel',
  'deep',
  'depth',
  '-',
  'pull',
  'junction',
  'j',
])

const RELATIVE = new Set(['that', 'which', 'is', 'and', 'its', 'it'])

type Said = {
  shape?: string
  round?: boolean
  gangs?: number
  sizes: number[]
  box: boolean
  to: number
  crosses: number
}

/** Reads on from a token as long as it goes on describing a box. */
function describedBox(tokens: Tokens, from: number): Said {
  const said: Said = { sizes: [], box: false, to: from, crosses: 0 }
  for (let at = from; at < Math.min(tokens.length, from + 18); ) {
    const word = text(tokens, at)
    const number = numeralAt(tokens, at) ?? inchAndPart(tokens, at)
    const shape = SHAPES[word]
    if (number && ['gang', 'gangs'].includes(text(tokens, number.to))) {
      if (said.gangs !== undefined) break
      said.gangs = number.value
      at = number.to + 1
    } else if (['single', 'double', 'triple'].includes(word) && text(tokens, at + 1) === 'gang') {
      said.gangs = numberWords.counts.get(word) ?? 1
      at += 2
    } else if (shape && tokens[at]?.kind === 'word') {
      if (said.shape) break
      said.shape = shape
      said.round = word === 'round'
      if (word.endsWith('box')) said.box = true
      at += 1
    } else if (
      number &&
      !number.negative &&
      said.sizes.length < 3 &&
      mayBeSize(tokens, at, number.to, said)
    ) {
      said.sizes.push(number.value)
      at = number.to
    } else if (word === 'box' && text(tokens, at + 1) === 'fill') break
    else if (at > from && BETWEEN.has(word) && word !== 'in') {
      if (word.startsWith('box')) said.box = true
      if (word === 'x' || word === 'by') said.crosses += 1
      at += 1
      if (word === 'x' || word === 'by') continue
    } else if (at > from && word === 'in' && tokens[at - 1]?.kind === 'numeral') {
      at += 1
    } else if (
      (word === ',' || RELATIVE.has(word)) &&
      (deepFollows(tokens, at + 1) ||
        (said.shape === 'masonry' && gangFollows(tokens, at + 1)) ||
        (said.shape && said.sizes.length === 0 && crossFollows(tokens, at + 1)))
    )
      at += 1
    else break
    if (text(tokens, at - 1) !== '-') said.to = at
  }
  return said
}

/** A number goes on a box only where a size can stand: first, after a cross or a shape, or before "deep". */
function mayBeSize(tokens: Tokens, at: number, to: number, said: Said): boolean {
  const unit = unitAt(tokens, to)
  if (unit && unit.unit !== 'in' && !['square', 'squares', 'sq'].includes(unit.said)) return false
  if (text(tokens, to) === '/' || digitCable(tokens, at)) return false
  if (said.sizes.length === 0) return true
  const last = text(tokens, at - 1)
  return (
    ['x', 'by', '-', 'box', '"'].includes(last) ||
    SHAPES[last] !== undefined ||
    deepFollows(tokens, at) ||
    said.shape === 'masonry'
  )
}

const deepFollows = (tokens: Tokens, from: number): boolean => {
  const at = RELATIVE.has(text(tokens, from)) ? deepFrom(tokens, from) : from
  const number = numeralAt(tokens, at) ?? inchAndPart(tokens, at)
  if (number === undefined) return false
  const unit = ['in', 'inch', 'inches', '"'].includes(text(tokens, number.to)) ? 1 : 0
  return text(tokens, number.to + unit) === 'deep'
}

/** "that is", "which is", "and" before how deep a box is. */
const deepFrom = (tokens: Tokens, from: number): number => {
  let at = from
  while (RELATIVE.has(text(tokens, at))) at += 1
  return at
}

/** "an inch and a half", without a number before it. */
const inchAndPart = (
  tokens: Tokens,
  from: number,
): { value: number; to: number; negative: false } | undefined => {
  const article = ['a', 'an'].includes(text(tokens, from)) ? 1 : 0
  if (text(tokens, from + article) !== 'inch') return undefined
  const part = addedPart(tokens, from + article + 1)
  return part && { value: 1 + part.value, to: part.to, negative: false }
}

const crossFollows = (tokens: Tokens, at: number): boolean => {
  const number = numeralAt(tokens, at)
  const unit = ['in', 'inch', 'inches', '"'].includes(text(tokens, number?.to ?? at)) ? 1 : 0
  return number !== undefined && ['x', 'by'].includes(text(tokens, number.to + unit))
}

const gangFollows = (tokens: Tokens, at: number): boolean => {
  const number = numeralAt(tokens, at)
  return number !== undefined && ['gang', 'gangs'].includes(text(tokens, number.to))
}

/** A box by its shape and sizes; one that the table does not have keeps its words and no code. */
export function boxAt(tokens: Tokens, from: number): Piece | undefined {
  const first = tokens[from]
  const starts =
    SHAPES[first?.text ?? ''] !== undefined ||
    numeralAt(tokens, from) !== undefined ||
    text(tokens, from + 1) === 'gang'
  if (!starts || first?.text === 'a') return undefined
  const said = describedBox(tokens, from)
  const trimmed = { ...said, sizes: mixed(said.sizes, said.shape) }
  const cast = said.shape === 'FS' || said.shape === 'FD'
  const enough = (said.shape && (said.sizes.length > 0 || cast)) || said.sizes.length === 3
  if (!enough || (said.round && !said.box && said.crosses === 0)) return undefined
  const words = [
    trimmed.gangs === undefined ? '' : `${trimmed.gangs} gang`,
    trimmed.shape ?? '',
    trimmed.sizes.join(' x '),
  ].join(' ')
  const reading = readBox(words.trim())
  const code = reading.ok ? (reading.code ?? undefined) : undefined
  if (code === undefined && !said.box && trimmed.sizes.length < 2) return undefined
  return { ...emptyPiece('box', from, said.to), plain: true, ...(code === undefined ? {} : { code }) }
}

/** "four eleven sixteenths" is one size. */
function mixed(sizes: readonly number[], shape: string | undefined): number[] {
  const [first, second, ...rest] = sizes
  const joined = first === 4 && second === 0.6875 && shape !== 'device'
  return joined ? [4.6875, ...rest] : [...sizes]
}
