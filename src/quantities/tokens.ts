import { fractionSigns } from './fractions'
import { unitAt } from './spellings'

/** A piece of a typed quantity, with whether a space stands before it. */
export type Token = { spaced: boolean } & (
  | { kind: 'numeral'; said: string }
  | { kind: 'unit'; expression: string }
  | { kind: 'sign'; sign: Sign }
)
export type Sign = '+' | '-' | '*' | '/' | '(' | ')' | 'per' | 'and'

const LIKENESSES: readonly (readonly [RegExp, string])[] = [
  [/[’‘′`´]/g, "'"],
  [/[”“″]|''/g, '"'],
  [/[−‐‑‒–—]/g, '-'],
  [/[×✕⋅·]/g, '*'],
  [/[⁄∕÷]/g, '/'],
  [/[º˚]/g, '°'],
  [/℃/g, '°C'],
  [/℉/g, '°F'],
  [/\u2126/g, 'Ω'],
  [/([a-z])\^(?=[23])/gi, '$1'],
  [/\s+/g, ' '],
]

/** What most people type: nothing in it looks like anything else. */
const PLAIN = /^[\w.,%/#"+()-]+(?: [\w.,%/#"+()-]+)*$/

/** Brings look-alike characters to one form: typographic quotes and dashes, ready-made fractions, spaces. */
function plainCharacters(text: string): string {
  if (PLAIN.test(text)) return text
  const spelled = text.replace(/(\d?)([½¼¾⅛⅜⅝⅞⅓⅔])/g, (_, digit: string, fraction: string) =>
    digit === '' ? `${fractionSigns[fraction]}` : `${digit} ${fractionSigns[fraction]}`,
  )
  return LIKENESSES.reduce((plain, [likeness, form]) => plain.replace(likeness, form), spelled).trim()
}

// Without the hexadecimal form, which would pass for a multiplication by nothing.
const NUMERAL = /(?!0x\d)[\d.,]*\d(?:e[+-]?\d+)?/iy
const SIGN = /(?:per|and|x)(?![a-z])|[-+*/()]/iy

function matchAt(pattern: RegExp, text: string, at: number): string | undefined {
  pattern.lastIndex = at
  return pattern.exec(text)?.[0]
}

function signOf(said: string): Sign {
  const sign = said.toLowerCase()
  return sign === 'x' ? '*' : (sign as Sign)
}

/**
 * Cuts a text into numerals, units and signs.
 *
 * @param text at most a few hundred characters; any at all
 * @returns the pieces, or undefined where some of the text is none of these
 */
export function tokensOf(text: string): Token[] | undefined {
  const plain = plainCharacters(text)
  const tokens: Token[] = []
  let at = 0
  while (at < plain.length) {
    const spaced = plain[at] === ' '
    if (spaced) at += 1
    const numeral = matchAt(NUMERAL, plain, at)
    const unit = numeral === undefined ? unitAt(plain, at) : undefined
    const sign = matchAt(SIGN, plain, at)
    if (numeral !== undefined) {
      tokens.push({ kind: 'numeral', said: numeral, spaced })
      at += numeral.length
    } else if (unit !== undefined) {
      tokens.push({ kind: 'unit', expression: unit.expression, spaced })
      at = unit.end
      const abbreviated = plain[at] === '.' && !/\d/.test(plain[at + 1] ?? '')
      if (abbreviated) at += 1
    } else if (sign !== undefined) {
      tokens.push({ kind: 'sign', sign: signOf(sign), spaced })
      at += sign.length
    } else return undefined
  }
  return tokens
}
