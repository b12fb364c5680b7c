import type { Piece } from './pieces'
import type { Token } from './tokens'

/** The line as phrases see it: words, quantities, and the marks that divide it. */
export type Item =
  /** `plural` where it was said with an s that the vocabulary's word for it lacks: "drivers". */
  (
    | { kind: 'word'; text: string; token: number; plural?: boolean }
    /** `text` where it is one bare number, which a phrase may name: "one circuit". */
    | { kind: 'piece'; piece: Piece; token: number; text?: string }
    | { kind: 'comma'; token: number }
    | { kind: 'stop'; token: number }
  ) & {
    /** A colon stands before it. */
    colon?: boolean
  }

const STOPS = new Set(['.', '?', '!', ';'])
const COMMAS = new Set([',', '(', ')', '-'])

/** Puts the quantities in the place of their tokens. */
export function itemsOf(tokens: readonly Token[], pieces: readonly Piece[]): Item[] {
  const items = itemsIn(tokens, pieces)
  for (const item of items) if (tokens[item.token - 1]?.text === ':') item.colon = true
  return items
}

function itemsIn(tokens: readonly Token[], pieces: readonly Piece[]): Item[] {
  const items: Item[] = []
  let next = 0
  for (let at = 0; at < tokens.length; at++) {
    const piece = pieces[next]
    if (piece && piece.from === at) {
      const text = piece.bare !== undefined && piece.to === at + 1 ? tokens[at]?.text : undefined
      items.push({ kind: 'piece', piece, token: at, ...(text === undefined ? {} : { text }) })
      at = piece.to - 1
      next += 1
      continue
    }
    const token = tokens[at] as Token
    if (token.kind === 'word') {
      const plural = /s$/.test(token.said) && !token.text.endsWith('s')
      items.push({ kind: 'word', text: token.text, token: at, ...(plural ? { plural } : {}) })
    } else if (STOPS.has(token.text)) items.push({ kind: 'stop', token: at })
    else if (COMMAS.has(token.text)) items.push({ kind: 'comma', token: at })
    else if (token.text === '+') items.push({ kind: 'word', text: 'plus', token: at })
    else if (token.text === '&') items.push({ kind: 'word', text: 'and', token: at })
  }
  return items
}

/** Where a piece stands among the items. */
export const placeOf = ({ items }: { items: readonly Item[] }, piece: Piece): number =>
  items.findIndex((item) => item.kind === 'piece' && item.piece === piece)
