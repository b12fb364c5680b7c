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

/** A found phrase: its items from `from` up to `to`, which item its `@` stands for, and how many items its `...` span. */
export type Match<T> = { value: T; from: number; to: number; subject: number | undefined; loose: number }

/** A comma in a `...` counts for so many words. */
const COMMA = 5

/** How many words `...` spans. */
const LONGEST_GAP = 4

/** A phrase cut into its words and signs, and the one that is read next. */
type Reader = { text: string; parts: readonly string[]; at: number }
type Canonical = (words: string) => string[]

/** A group, a quantity, a gap, a sign, or a word; a bracket that is not closed stands alone. */
const PART = /<[^>]*>|\{[^}]*\}|\.\.\.|[()[\]|<>{}@]|[^\s()[\]|<>{}@]+/g

/** Reads a phrase as prompts/ writes it. @throws Error saying what is wrong with it */
export function readPhrase(text: string, groups: ReadonlyMap<string, Node>, canonical: Canonical): Node[] {
  const reader = { text, parts: text.match(PART) ?? [], at: 0 }
  const ways = readWays(reader, groups, canonical)
  const left = reader.parts[reader.at]
  if (left !== undefined) throw new Error(`"${text}" has a ${left} too many`)
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
  for (let part = reader.parts[reader.at]; part !== undefined; part = reader.parts[reader.at]) {
    if (part === ')' || part === ']') break
    reader.at += 1
    if (part === '|') {
      settle()
      ways.push([])
    } else if (/^[^([<>{}@]/.test(part) && part !== '...') {
      literals.push(part.toLowerCase().replaceAll("'", ''))
    } else {
      settle()
      way().push(readNode(part, reader, groups, canonical))
    }
  }
  settle()
  return ways
}

function readNode(
  part: string,
  reader: Reader,
  groups: ReadonlyMap<string, Node>,
  canonical: Canonical,
): Node {
  if (part === '...') return { kind: 'gap' }
  if (part === '@') return { kind: 'subject' }
  if (part === '(' || part === '[') {
    const ways = readWays(reader, groups, canonical)
    const close = part === '(' ? ')' : ']'
    if (reader.parts[reader.at] !== close) throw new Error(`"${reader.text}" lacks a ${close}`)
    reader.at += 1
    return { kind: 'either', ways, optional: part === '[' }
  }
  const name = part.slice(1, -1)
  if (part === '<' || part === '{') throw new Error(`"${reader.text}" lacks a closing bracket`)
  if (part === '>' || part === '}') throw new Error(`"${reader.text}" has a ${part} too many`)
  if (part.startsWith('{')) return { kind: 'quantity', dimension: name }
  const group = groups.get(name)
  if (!group) throw new Error(`"${reader.text}" names the group <${name}>, which there is not`)
  return group
}

const isWord = (item: Item | undefined, text: string): boolean =>
  (item?.kind === 'piece' && item.text === text) ||
  (item?.kind === 'word' &&
    (item.text === text ||
      (text.length > 2 &&
        item.text.startsWith(text) &&
        (item.text === `${text}s` || item.text === `${text}es`))))

const inGroup = (item: Item | undefined, words: ReadonlySet<string>): boolean =>
  (item?.kind === 'piece' && item.text !== undefined && words.has(item.text)) ||
  (item?.kind === 'word' &&
    (words.has(item.text) ||
      (item.text.length > 3 && item.text.endsWith('s') && words.has(item.text.slice(0, -1)))))

type Found = (to: number, subject: number | undefined, loose: number) => void

/** Tries `nodes` from the `step`-th on at an item, and calls `found` for each way that they fit. */
function findFrom(
  nodes: readonly Node[],
  step: number,
  items: readonly Item[],
  at: number,
  subject: number | undefined,
  loose: number,
  found: Found,
): void {
  const node = nodes[step]
  if (node === undefined) {
    found(at, subject, loose)
    return
  }
  const item = items[at]
  const goOn = (to: number, bound = subject, skipped = loose) =>
    findFrom(nodes, step + 1, items, to, bound, skipped, found)
  switch (node.kind) {
    case 'word':
      if (isWord(item, node.text)) goOn(at + 1)
      return
    case 'group':
      if (inGroup(item, node.words)) goOn(at + 1)
      for (const way of node.longer) findFrom(way, 0, items, at, subject, loose, goOn)
      return
    case 'either':
      for (const way of node.ways) findFrom(way, 0, items, at, subject, loose, goOn)
      if (node.optional) goOn(at)
      return
    case 'gap':
      for (let to = at, commas = 0; to <= at + LONGEST_GAP; to++) {
        goOn(to, subject, loose + to - at + commas * COMMA)
        if (items[to] === undefined || items[to]?.kind === 'stop') return
        if (items[to]?.kind === 'comma') commas += 1
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
    ? item.piece.readings.some((reading) => reading.dimension === 'size') ||
      gaugeNumbers.has(item.piece.bare ?? 0)
    : dimension === 'number'
      ? item.piece.bare !== undefined
      : dimension === 'box' || dimension === 'cable' || dimension === 'lumber'
        ? item.piece.kind === dimension
        : item.piece.readings.some((reading) => reading.dimension === dimension))

/** Gathers what may stand first: words, or a quantity. Returns whether nothing or anything at all may. */
function beginnings(nodes: readonly Node[], into: Set<string>): boolean {
  for (const node of nodes) {
    if (node.kind === 'word') into.add(node.text)
    else if (node.kind === 'group') {
      for (const word of node.words) into.add(word)
      for (const way of node.longer) beginnings(way, into)
    } else if (node.kind === 'either') {
      const open = node.ways.map((way) => beginnings(way, into))
      if (node.optional || open.includes(true)) continue
    } else if (node.kind === 'gap') return true
    else into.add(QUANTITY)
    return false
  }
  return true
}

/** What must stand second, where the first part of a phrase is one item; undefined where anything may. */
function seconds(nodes: readonly Node[]): ReadonlySet<string> | undefined {
  const [first] = nodes
  const single = first && (first.kind === 'word' || first.kind === 'subject' || first.kind === 'quantity')
  if (!single && !(first?.kind === 'group' && first.longer.length === 0)) return undefined
  const words = new Set<string>()
  return beginnings(nodes.slice(1), words) ? undefined : words
}

const QUANTITY = '@'

/** Words of which the line must hold at least one each, where a phrase has such parts. */
function needed(nodes: readonly Node[]): ReadonlySet<string>[] {
  return nodes.flatMap((node) => {
    if (node.kind === 'word') return [new Set([node.text])]
    if (node.kind !== 'either' || node.optional) return []
    const words = new Set<string>()
    const open = node.ways.map((way) => beginnings(way, words)).includes(true)
    return open || words.has(QUANTITY) ? [] : [words]
  })
}

/** A filed phrase. What was last found out about it is kept beside it, so that a line asks only once. */
type Phrase<T> = {
  nodes: readonly Node[]
  /** Known once it was worth trying. */
  needs: readonly ReadonlySet<string>[] | undefined
  value: T
  /** The line for which `possible` was settled, and the item at which it was last tried. */
  line: number
  possible: boolean
  item: number
}

/** The words of an item under which phrases are filed: itself, and without an s at its end. */
function keysOf(item: Item | undefined): readonly string[] {
  if (item?.kind === 'piece') return item.text === undefined ? [QUANTITY] : [QUANTITY, item.text]
  if (item?.kind !== 'word') return []
  const { text } = item
  if (!text.endsWith('s')) return [text]
  return text.endsWith('es') ? [text, text.slice(0, -1), text.slice(0, -2)] : [text, text.slice(0, -1)]
}

const holdsOne = (words: ReadonlySet<string>, present: ReadonlySet<string>): boolean => {
  for (const word of words) if (present.has(word)) return true
  return false
}

/** Phrases by the word they begin with, and there by the one that must follow it. */
class Shelf<T> {
  private readonly free: Phrase<T>[] = []
  private readonly bySecond = new Map<string, Phrase<T>[]>()

  add(phrase: Phrase<T>, second: ReadonlySet<string> | undefined): void {
    if (second === undefined) this.free.push(phrase)
    for (const word of second ?? []) {
      const known = this.bySecond.get(word)
      if (known) known.push(phrase)
      else this.bySecond.set(word, [phrase])
    }
  }

  /** Calls `tried` for each phrase that may begin here and go on with one of `next`. */
  each(next: readonly string[], tried: (phrase: Phrase<T>) => void): void {
    for (const phrase of this.free) tried(phrase)
    for (const key of next) for (const phrase of this.bySecond.get(key) ?? []) tried(phrase)
  }
}

/** Many phrases, looked for in a line all at once. */
export class PhraseBook<T> {
  private readonly shelves = new Map<string, Shelf<T>>()
  private lines = 0
  private tries = 0

  /** @throws Error where the phrase could begin with anything */
  add(nodes: readonly Node[], value: T): void {
    const first = new Set<string>()
    if (beginnings(nodes, first)) throw new Error('a phrase cannot begin with ..., nor be empty')
    const second = seconds(nodes)
    const phrase = { nodes, needs: undefined, value, line: 0, possible: false, item: 0 }
    for (const word of first) {
      const shelf = this.shelves.get(word) ?? new Shelf<T>()
      this.shelves.set(word, shelf)
      shelf.add(phrase, second)
    }
  }

  /** Every phrase found, once for each quantity that its `@` may stand for. */
  matches(items: readonly Item[]): Match<T>[] {
    const found: Match<T>[] = []
    const keys = items.map(keysOf)
    const present = new Set(keys.flat())
    this.lines += 1
    items.forEach((_, from) => {
      this.tries += 1
      for (const key of keys[from] ?? []) {
        this.shelves.get(key)?.each(keys[from + 1] ?? [], (phrase) => {
          if (this.worthTrying(phrase, present)) this.tryAt(phrase, items, from, found)
        })
      }
    })
    return found
  }

  /** Whether the line has every word that the phrase needs, and the phrase was not yet tried at this item. */
  private worthTrying(phrase: Phrase<T>, present: ReadonlySet<string>): boolean {
    if (phrase.line !== this.lines) {
      phrase.line = this.lines
      phrase.needs ??= needed(phrase.nodes)
      phrase.possible = phrase.needs.every((words) => holdsOne(words, present))
    }
    if (!phrase.possible || phrase.item === this.tries) return false
    phrase.item = this.tries
    return true
  }

  private tryAt({ nodes, value }: Phrase<T>, items: readonly Item[], from: number, found: Match<T>[]): void {
    let subjects = 0
    findFrom(nodes, 0, items, from, undefined, 0, (to, subject, loose) => {
      const bit = 1 << (subject === undefined ? 0 : 1 + ((subject - from) % 30))
      if (subjects & bit) return
      subjects |= bit
      found.push({ value, from, to, subject, loose })
    })
  }
}
