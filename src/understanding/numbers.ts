import type { Token } from './tokens'
import { numberWords } from './vocabulary'

/** A number as it was said: digits, words or a mixture; `from` and `to` are places in the list of tokens. */
export type Numeral = {
  value: number
  from: number
  to: number
  /** Written in digits. */
  digits: boolean
  /** A part of one, or with a part: 3/4, 12 1/2. */
  broken: boolean
  negative: boolean
  /** "one fifty" may be 150, or one of 50. */
  split?: { count: number; value: number } | undefined
}

type Part = { value: number; to: number }
type Tokens = readonly Token[]

const textAt = (tokens: Tokens, at: number): string => tokens[at]?.text ?? ''
const isWord = (tokens: Tokens, at: number): boolean => tokens[at]?.kind === 'word'
const isNumeral = (tokens: Tokens, at: number): boolean => tokens[at]?.kind === 'numeral'

const small = (tokens: Tokens, at: number): number | undefined =>
  isWord(tokens, at) ? numberWords.small.get(textAt(tokens, at)) : undefined
const tens = (tokens: Tokens, at: number): number | undefined =>
  isWord(tokens, at) ? numberWords.tens.get(textAt(tokens, at)) : undefined

/** The bottoms of the fractions that a tape measure and a drill case show. */
const BELOW = new Set([2, 3, 4, 8, 16, 32, 64])

/** `3/4` in digits. */
function digitFraction(tokens: Tokens, at: number): Part | undefined {
  const [above, bar, below] = [tokens[at], tokens[at + 1], tokens[at + 2]]
  if (above?.kind !== 'numeral' || bar?.text !== '/' || below?.kind !== 'numeral') return undefined
  if (!bar.glued || !below.glued) return undefined
  const [over, under] = [Number(above.text), Number(below.text)]
  return BELOW.has(under) && Number.isInteger(over) && over > 0 && over < under
    ? { value: over / under, to: at + 3 }
    : undefined
}

/** "three quarters", "a half", "half", "seven sixteenths". */
function wordFraction(tokens: Tokens, at: number): Part | undefined {
  const one = numberWords.parts.get(textAt(tokens, at))
  if (one !== undefined && isWord(tokens, at)) return { value: one, to: at + 1 }
  const above = ['a', 'an'].includes(textAt(tokens, at)) ? 1 : small(tokens, at)
  const part = isWord(tokens, at + 1) ? numberWords.parts.get(textAt(tokens, at + 1)) : undefined
  return above === undefined || part === undefined || above * part >= 1 || above === 0
    ? undefined
    : { value: above * part, to: at + 2 }
}

/** "and a half" after a whole number, and `1/2` after digits. */
export function addedPart(tokens: Tokens, at: number): Part | undefined {
  if (textAt(tokens, at) !== 'and') return undefined
  const part = wordFraction(tokens, at + 1) ?? digitFraction(tokens, at + 1)
  const named = part && numberWords.parts.get(textAt(tokens, at + 1))
  // "and half the length" is no part of the number before it.
  return part && named === undefined ? part : undefined
}

function decimals(tokens: Tokens, at: number): Part | undefined {
  if (textAt(tokens, at) !== 'point') return undefined
  // "a point 25 cm across" is a place.
  if (['a', 'the', 'each', 'every', 'this', 'that', 'feed', 'cut'].includes(textAt(tokens, at - 1)))
    return undefined
  let digits = ''
  let to = at + 1
  for (;;) {
    const word = small(tokens, to) ?? tens(tokens, to)
    const said = isNumeral(tokens, to) ? textAt(tokens, to) : word === undefined ? undefined : String(word)
    if (said === undefined || /\./.test(said) || digits.length > 5) break
    const ones = word !== undefined && word >= 20 ? small(tokens, to + 1) : undefined
    const joined = ones !== undefined && ones > 0 && ones < 10
    digits += joined ? String(Number(said) + ones) : said
    to += joined ? 2 : 1
    if (isNumeral(tokens, to - 1)) break
  }
  return digits === '' ? undefined : { value: Number(`0.${digits}`), to }
}

/** One to ninety-nine in words. */
function belowHundred(tokens: Tokens, at: number): Part | undefined {
  const ten = tens(tokens, at)
  if (ten !== undefined) {
    const one = small(tokens, at + 1)
    return one !== undefined && one > 0 && one < 10
      ? { value: ten + one, to: at + 2 }
      : { value: ten, to: at + 1 }
  }
  const value = small(tokens, at)
  return value === undefined ? undefined : { value, to: at + 1 }
}

/** "[a] hundred [and five]" from the word hundred on. */
function hundreds(tokens: Tokens, at: number, count: number): Part | undefined {
  if (textAt(tokens, at) !== 'hundred') return undefined
  const and = textAt(tokens, at + 1) === 'and' ? 1 : 0
  const rest = belowHundred(tokens, at + 1 + and)
  return rest === undefined
    ? { value: count * 100, to: at + 1 }
    : { value: count * 100 + rest.value, to: rest.to }
}

/** "thousand" and "million" after what was counted so far. */
function scaled(tokens: Tokens, part: Part): Part {
  const scale = numberWords.scales.get(textAt(tokens, part.to))
  if (scale === undefined || !isWord(tokens, part.to)) return part
  const and = textAt(tokens, part.to + 1) === 'and' ? 1 : 0
  const start = part.to + 1 + and
  const first = belowHundred(tokens, start)
  const rest = first && (hundreds(tokens, first.to, first.value) ?? (scale === 1000 ? first : undefined))
  return rest
    ? { value: part.value * scale + rest.value, to: rest.to }
    : { value: part.value * scale, to: part.to + 1 }
}

/** "three fourteen twos" counts cables. */
const isCable = (tokens: Tokens, at: number): boolean => {
  const gauge = small(tokens, at)
  const wires = small(tokens, at + 1) ?? numberWords.plurals.get(textAt(tokens, at + 1))
  return (
    gauge !== undefined && gauge % 2 === 0 && gauge >= 6 && wires !== undefined && wires >= 2 && wires <= 5
  )
}

/** "one fifty", "two thirty", "one oh five": hundreds without the word. */
function shortHundreds(tokens: Tokens, first: Part): (Part & { split: Numeral['split'] }) | undefined {
  if (!Number.isInteger(first.value) || first.value < 1 || first.value > 9) return undefined
  if (['oh', 'o'].includes(textAt(tokens, first.to))) {
    const one = small(tokens, first.to + 1)
    return one !== undefined && one > 0 && one < 10
      ? { value: first.value * 100 + one, to: first.to + 2, split: undefined }
      : undefined
  }
  const rest = belowHundred(tokens, first.to)
  if (rest === undefined || rest.value < 10 || isCable(tokens, first.to)) return undefined
  if (textAt(tokens, rest.to) === 'hundred') return undefined
  return {
    value: first.value * 100 + rest.value,
    to: rest.to,
    split: { count: first.value, value: rest.value },
  }
}

function wordNumber(tokens: Tokens, at: number): (Part & { split?: Numeral['split'] }) | undefined {
  const article = ['a', 'an'].includes(textAt(tokens, at))
  if (article || textAt(tokens, at) === 'hundred') {
    const start = article ? at + 1 : at
    const hundred = hundreds(tokens, start, 1)
    if (hundred) return scaled(tokens, hundred)
    return article && numberWords.scales.has(textAt(tokens, start))
      ? scaled(tokens, { value: 1, to: start })
      : undefined
  }
  // "Oh, ..." is no nought.
  if (textAt(tokens, at) === 'oh') return undefined
  const first = belowHundred(tokens, at)
  if (first === undefined) return undefined
  const hundred = hundreds(tokens, first.to, first.value)
  if (hundred) {
    const round = hundred.value === first.value * 100 && first.value > 1 && first.value < 10
    return { ...scaled(tokens, hundred), ...(round ? { split: { count: first.value, value: 100 } } : {}) }
  }
  return shortHundreds(tokens, first) ?? scaled(tokens, first)
}

/** Digits, with a fraction behind them, or scaled: `12`, `12-1/2`, `1.4 thousand`, `15 hundred`. */
function digitNumber(tokens: Tokens, at: number): (Part & { broken: boolean }) | undefined {
  const fraction = digitFraction(tokens, at)
  if (fraction) return { ...fraction, broken: true }
  if (!isNumeral(tokens, at)) return undefined
  const said = textAt(tokens, at)
  const dash = textAt(tokens, at + 1) === '-' && tokens[at + 1]?.glued ? 1 : 0
  const part = /^\d+$/.test(said) ? digitFraction(tokens, at + 1 + dash) : undefined
  if (part && (dash === 0 || tokens[at + 2]?.glued))
    return { value: Number(said) + part.value, to: part.to, broken: true }
  if (textAt(tokens, at + 1) === 'hundred') return { value: Number(said) * 100, to: at + 2, broken: false }
  const thousands = textAt(tokens, at + 1) === 'k' && tokens[at + 1]?.glued
  if (thousands) return { value: Number(said) * 1000, to: at + 2, broken: false }
  return { ...scaled(tokens, { value: Number(said), to: at + 1 }), broken: false }
}

function unsigned(tokens: Tokens, at: number): Omit<Numeral, 'negative' | 'from'> | undefined {
  const digits = digitNumber(tokens, at)
  if (digits) {
    const more = digits.broken ? undefined : addedPart(tokens, digits.to)
    return more
      ? { value: digits.value + more.value, to: more.to, digits: true, broken: true }
      : { ...digits, digits: true }
  }
  const fraction = wordFraction(tokens, at)
  if (fraction) return { ...fraction, digits: false, broken: true }
  const bare = decimals(tokens, at)
  if (bare) return { ...bare, digits: false, broken: false }
  const words = wordNumber(tokens, at)
  if (words === undefined) return undefined
  const decimal = decimals(tokens, words.to)
  if (decimal) return { value: words.value + decimal.value, to: decimal.to, digits: false, broken: false }
  const more = addedPart(tokens, words.to)
  if (more) return { value: words.value + more.value, to: more.to, digits: false, broken: true }
  return { ...words, digits: false, broken: false }
}

function signAt(tokens: Tokens, at: number): number {
  if (numberWords.minus.has(textAt(tokens, at)) && isWord(tokens, at)) return 1
  const dash = tokens[at]
  if (dash?.text !== '-' || !tokens[at + 1]?.glued) return 0
  return dash.glued && at > 0 ? 0 : 1
}

/**
 * The number that begins at a token, in digits or in words: `1,200`, `12-1/2`, "fourteen hundred", "one fifty",
 * "four and a half", "three eighths", "one point two", "minus twenty".
 */
export function numeralAt(tokens: Tokens, at: number): Numeral | undefined {
  const sign = signAt(tokens, at)
  const number = unsigned(tokens, at + sign)
  if (number === undefined || !Number.isFinite(number.value)) return undefined
  return { ...number, value: sign ? -number.value : number.value, negative: sign > 0, from: at }
}
