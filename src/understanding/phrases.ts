import type { Item } from './items'
import { gaugeNumbers } from './sizes'

/** A part of a phrase; see the head of prompts/en/understanding.yaml for how phrases are written. */
export type Node =
  | { kind: 'word'; text: string }
  | { kind: 'group'; words: ReadonlySet<string>; longer: readonly Node[][] }
  | { kind: 'either'; ways: readonly Node[][]; optional: boolean }
  | { kind: 'gap' }
  | { kind: 'subject' }
  | { kind: 'quantity'; dimension: string }

/** A found phrase: its items from `from` up to `to`, and which item its `@` stands for. */
export type Match<T> = { value: T; from: number; to: number; subject: number | undefined }

/** How many words `...` spans. */
const LONGEST_GAP = 4

type Reader = { text: string; at: number }
type Canonical = (words: string) => string[]

const LITERAL = /[^\s()[\]|<>{}@]+/y

/** Reads a phrase as prompts/ writes it. @throws Error saying what is wrong with it */
export function readPhrase(text: string, groups: ReadonlyMap<string, Node>, canonical: Canonical): Node[] {
  const reader = { text, at: 0 }
  const ways = readWays(reader, groups, canonical)
  if (reader.at < text.length) throw new Error(`"${text}" has a ${text[reader.at]} too many`)
  const [nodes = []] = ways
  if (ways.length > 1) return [{ kind: 'either', ways, optional: false }]
  if (nodes.length === 0) throw new Error('a phrase is empty')
  return nodes
}

function readWays(reader: Reader, groups: ReadonlyMap<string, Node>, canonical: Canonical): Node[][] {
  const ways: Node[][] = [[]]
  let literals: string[] = []
  const way = () => ways[ways.length - 1] as Node[]
  const settle = () => {
    if (literals.length > 0)
      way().push(...canonical(literals.join(' ')).map((word): Node => ({ kind: 'word', text: word })))
    literals = []
  }
  while (reader.at < reader.text.length && !/[)\]]/.test(reader.text[reader.at] ?? '')) {
    const sign = reader.text[reader.at] ?? ''
    if (/\s/.test(sign)) reader.at += 1
    else if (reader.text.startsWith('...', reader.at)) {
      settle()
      way().push({ kind: 'gap' })
      reader.at += 3
    } else if (/[([<{@|]/.test(sign)) {
      settle()
      if (sign === '|') {
        ways.push([])
        reader.at += 1
      } else way().push(readNode(reader, groups, canonical))
    } else {
      LITERAL.lastIndex = reader.at
      const word = LITERAL.exec(reader.text)?.[0]
      if (word === undefined) throw new Error(`"${reader.text}" cannot be read at ${reader.at + 1}`)
      literals.push(word.toLowerCase().replaceAll("'", ''))
      reader.at += word.length
    }
  }
  settle()
  return ways
}

function readNode(reader: Reader, groups: ReadonlyMap<string, Node>, canonical: Canonical): Node {
  const sign = reader.text[reader.at] ?? ''
  reader.at += 1
  if (sign === '@') return { kind: 'subject' }
  if (sign === '(' || sign === '[') {
    const ways = readWays(reader, groups, canonical)
    const close = sign === '(' ? ')' : ']'
    if (reader.text[reader.at] !== close) throw new Error(`"${reader.text}" lacks a ${close}`)
    reader.at += 1
    return { kind: 'either', ways, optional: sign === '[' }
  }
  const close = reader.text.indexOf(sign === '<' ? '>' : '}', reader.at)
  const name = reader.text.slice(reader.at, close)
  if (close < 0) throw new Error(`"${reader.text}" lacks a closing bracket`)
  reader.at = close + 1
  if (sign === '{') return { kind: 'quantity', dimension: name }
  const group = groups.get(name)
  if (!group) throw new Error(`"${reader.text}" names the group <${name}>, which there is not`)
  return group
}

const isWord = (item: Item | undefined, text: string): boolean =>
  item?.kind === 'word' &&
  (item.text === text ||
    (text.length > 2 &&
      item.text.startsWith(text) &&
      (item.text === `${text}s` || item.text === `${text}es`)))

const inGroup = (item: Item | undefined, words: ReadonlySet<string>): boolean =>
  item?.kind === 'word' &&
  (words.has(item.text) ||
    (item.text.length > 3 && item.text.endsWith('s') && words.has(item.text.slice(0, -1))))

type Found = (to: number, subject: number | undefined) => void

/** Tries `nodes` from the `step`-th on at an item, and calls `found` for each way that they fit. */
function fit(
  nodes: readonly Node[],
  step: number,
  items: readonly Item[],
  at: number,
  subject: number | undefined,
  found: Found,
): void {
  const node = nodes[step]
  if (node === undefined) return found(at, subject)
  const item = items[at]
  const goOn = (to: number, bound = subject) => fit(nodes, step + 1, items, to, bound, found)
  switch (node.kind) {
    case 'word':
      if (isWord(item, node.text)) goOn(at + 1)
      return
    case 'group':
      if (inGroup(item, node.words)) goOn(at + 1)
      for (const way of node.longer) fit(way, 0, items, at, subject, goOn)
      return
    case 'either':
      for (const way of node.ways) fit(way, 0, items, at, subject, goOn)
      if (node.optional) goOn(at)
      return
    case 'gap':
      for (let to = at; to <= at + LONGEST_GAP; to++) {
        goOn(to)
        if (items[to] === undefined || items[to]?.kind === 'stop') return
      }
      return
    case 'subject':
      if (item?.kind === 'piece') goOn(at + 1, at)
      return
    case 'quantity':
      if (item?.kind === 'piece' && isOf(item, node.dimension)) goOn(at + 1)
  }
}

const isOf = (item: Item & { kind: 'piece' }, dimension: string): boolean =>
  dimension === 'any' ||
  (dimension === 'gauge'
    ? item.piece.readings.some((reading) => reading.dimension === 'size') || gaugeNumbers.has(item.piece.bare ?? 0)
    : dimension === 'number'
    ? item.piece.bare !== undefined
    : dimension === 'box' || dimension === 'cable' || dimension === 'lumber'
    ? item.piece.kind === dimension
    : item.piece.readings.some((reading) => reading.dimension === dimension))

/** Whether a way of saying it can begin with a word, any word of a group, or only with a quantity. */
function beginnings(nodes: readonly Node[], into: Set<string>): void {
  for (const node of nodes) {
    if (node.kind === 'word') into.add(node.text)
    else if (node.kind === 'group') {
      for (const word of node.words) into.add(word)
      for (const way of node.longer) beginnings(way, into)
    } else if (node.kind === 'either') {
      for (const way of node.ways) beginnings(way, into)
      if (node.optional) continue
    } else if (node.kind === 'gap') throw new Error('a phrase cannot begin with ...')
    else into.add(QUANTITY)
    return
  }
}

const QUANTITY = '@'

/** Many phrases, looked for in a line all at once. */
export class PhraseBook<T> {
  private readonly byFirst = new Map<string, { nodes: readonly Node[]; value: T }[]>()

  add(nodes: readonly Node[], value: T): void {
    const first = new Set<string>()
    beginnings(nodes, first)
    for (const word of first) {
      const known = this.byFirst.get(word)
      if (known) known.push({ nodes, value })
      else this.byFirst.set(word, [{ nodes, value }])
    }
  }

  private beginningWith(item: Item): { nodes: readonly Node[]; value: T }[] {
    if (item.kind === 'piece') return this.byFirst.get(QUANTITY) ?? []
    if (item.kind !== 'word') return []
    const exact = this.byFirst.get(item.text) ?? []
    const singular = ['s', 'es'].flatMap((end) =>
      item.text.endsWith(end) ? (this.byFirst.get(item.text.slice(0, -end.length)) ?? []) : [],
    )
    return singular.length > 0 ? [...exact, ...singular.filter((phrase) => !exact.includes(phrase))] : exact
  }

  /** Every phrase found, once for each quantity that its `@` may stand for. */
  matches(items: readonly Item[]): Match<T>[] {
    const found: Match<T>[] = []
    items.forEach((item, from) => {
      for (const { nodes, value } of this.beginningWith(item)) {
        const seen = new Set<number>()
        fit(nodes, 0, items, from, undefined, (to, subject) => {
          const key = subject ?? -1
          if (seen.has(key)) return
          seen.add(key)
          found.push({ value, from, to, subject })
        })
      }
    })
    return found
  }
}
