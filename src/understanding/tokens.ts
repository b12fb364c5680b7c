/** A piece of the line: a word, digits, or a mark; `start` and `end` are places in the line. */
export type Token = {
  kind: 'word' | 'numeral' | 'ordinal' | 'mark'
  /** The word in lower case, as the vocabulary spells it; the digits; the mark. */
  text: string
  start: number
  end: number
  /** What was said, in lower case. */
  said: string
  /** No space stands before it. */
  glued: boolean
  /** Written with a capital first letter. */
  capital: boolean
}

const NUMERAL = /\d{1,3}(?:,\d{3})+(?:\.\d+)?(?![\d,])|\d+(?:\.\d+)?|\.\d+/y
const ORDINAL = /\d{1,3}(?:st|nd|rd|th)(?![a-z])/iy
const WORD = /[a-zµ]+(?:'[a-z]+)*(?:[23](?!\d|[./]\d|\/|[a-z]))?/iy
const LETTERS = /[\p{L}\p{M}]+/uy
/** Words that a digit may end: mm2, in3. */
const WITH_POWER = /^(?:mm|cm|m|in|ft|sqmm|oz)[23]$/i

const at = (pattern: RegExp, line: string, place: number): string | undefined => {
  pattern.lastIndex = place
  return pattern.exec(line)?.[0]
}

function wordAt(line: string, place: number): string | undefined {
  const said = at(WORD, line, place)
  if (said === undefined) return at(LETTERS, line, place)
  return /[23]$/.test(said) && !WITH_POWER.test(said) ? said.slice(0, -1) : said
}

/** "2,4" with one or two digits after it is a decimal comma where no list of numbers goes on. */
const DECIMAL_COMMA =
  /(\d+),(\d{1,2})(?=\s?(?:%|°|(?:mm2?|cm|m|metres?|meters?|v|volts?|w|watts?|a|amps?|kw|lx|lux|hz|ohms?|per ?cent|w\/m|lm\/m)(?![a-z0-9])))/gi

/** Cuts a line into words, numbers and marks. */
export function tokensOf(plain: string): Token[] {
  const line = plain.replace(DECIMAL_COMMA, '$1.$2')
  const tokens: Token[] = []
  let place = 0
  let spaced = true
  while (place < line.length) {
    const sign = line[place] ?? ''
    if (sign === ' ' || sign === '\n') {
      if (sign === '\n') tokens.push(mark('.', place, spaced))
      spaced = true
      place += 1
      continue
    }
    const token = tokenAt(line, place, !spaced)
    tokens.push(token)
    place = token.end
    spaced = false
  }
  return tokens.filter(
    (token, index) =>
      !isAbbreviated(token, tokens[index - 1], tokens[index - 2], tokens[index + 1]) &&
      !isHyphen(token, tokens[index - 1], tokens[index + 1]) &&
      !(token.text === 'ish' && index > 0),
  )
}

const mark = (text: string, start: number, spaced: boolean): Token => ({
  kind: 'mark',
  text,
  said: text,
  start,
  end: start + 1,
  glued: !spaced,
  capital: false,
})

function tokenAt(line: string, place: number, glued: boolean): Token {
  const ordinal = at(ORDINAL, line, place)
  const numeral = ordinal === undefined ? at(NUMERAL, line, place) : undefined
  const word = ordinal === undefined && numeral === undefined ? wordAt(line, place) : undefined
  const said = ordinal ?? numeral ?? word
  if (said === undefined) return mark(line[place] ?? '', place, !glued)
  return {
    kind: ordinal !== undefined ? 'ordinal' : numeral !== undefined ? 'numeral' : 'word',
    text: numeral !== undefined ? said.replaceAll(',', '') : said.toLowerCase().replaceAll("'", ''),
    said: said.toLowerCase(),
    start: place,
    end: place + said.length,
    glued,
    capital: /^[A-Z]/.test(said),
  }
}

const ABBREVIATED: ReadonlySet<string> = new Set([
  'in',
  'ft',
  'yd',
  'sq',
  'approx',
  'no',
  'max',
  'min',
  'amp',
  'hr',
  'hrs',
])

/** The full stop of "14 in. across" ends no sentence. */
const isAbbreviated = (
  { text }: Token,
  before: Token | undefined,
  number: Token | undefined,
  after: Token | undefined,
): boolean =>
  text === '.' &&
  before !== undefined &&
  ABBREVIATED.has(before.text) &&
  (number?.kind === 'numeral' || number?.text === '"' || number?.text === '.') &&
  after !== undefined &&
  !after.capital &&
  after.kind !== 'numeral'

/** A hyphen that only joins a word to its neighbour ("both-ends", "16-foot") says nothing of its own. */
function isHyphen(token: Token, before: Token | undefined, after: Token | undefined): boolean {
  if (token.text !== '-' || token.kind !== 'mark' || !before || !after) return false
  if (!token.glued || !after.glued) return false
  return before.kind === 'word' || after.kind === 'word'
}
