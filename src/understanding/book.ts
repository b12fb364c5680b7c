import type { PromptsFile } from '../questions/common/words'
import { askings, faultyPhrase, generalPrompts, type RoleWords, sharedFields } from './asking'
import { type Node, PhraseBook, readPhrase } from './phrases'
import { Spelling } from './spelling'
import { vocabulary } from './vocabulary'
import { canonicalWords, generalWords } from './words'

/** What a phrase says when it is found. */
export type Meaning =
  | { kind: 'ask'; question: string; points: number }
  /** Words that one of the question's signs needs, or that speak against it. */
  | { kind: 'sign'; question: string; sign: number; unless: boolean }
  /** Its `@` is this input or claimed figure; `question` is undefined where it holds for every question. */
  | {
      kind: 'role'
      question: string | undefined
      part: 'fields' | 'figures'
      id: string
      points: number
      asked: boolean
      /** It is what is left of a hundred. */
      rest?: boolean
    }
  /** This input has this value. */
  | { kind: 'means'; question: string | undefined; id: string; value: string; words: number }
  /** It speaks of this input, without saying what it is. */
  | { kind: 'about'; question: string | undefined; id: string }
  | { kind: 'claim'; how: 'said' | 'fine' | 'notFine' | 'asked' }
  | { kind: 'aside' }
  | { kind: 'follow'; how: 'drop' | 'add' | 'take' | 'anew' | 'same' | 'more' | 'fewer' | 'count' }
  | { kind: 'scale'; by: number }
  | { kind: 'rules'; rules: string }
  | { kind: 'system'; system: string }
  | { kind: 'out-of-reach'; why: string; unless: boolean }
  | { kind: 'choose'; entry: number }

const trade = new Set<string>(generalWords)
const readBefore = new Map<string, string[]>()
const canonical = (words: string): string[] => {
  const before = readBefore.get(words)
  if (before) return before
  const read = canonicalWords(words)
  for (const word of [...read, ...words.split(/[\s-]+/)]) trade.add(word)
  readBefore.set(words, read)
  return read
}

const groups = new Map<string, Node>()
for (const [name, sayings] of Object.entries(vocabulary.groups)) {
  const words = new Set<string>()
  const longer: Node[][] = []
  for (const saying of sayings) {
    const read = canonical(saying)
    if (read.length === 1) words.add(read[0] ?? '')
    else longer.push(read.map((text) => ({ kind: 'word', text })))
  }
  groups.set(name, { kind: 'group', words, longer })
}

const book = new PhraseBook<Meaning>()

const read = (phrase: string): Node[] => readPhrase(phrase, groups, canonical)

/** Does what a phrase may be unfit for; its fault names file and line. */
function about<T>(prompts: PromptsFile, path: string, work: () => T): T {
  try {
    return work()
  } catch (fault) {
    throw faultyPhrase(prompts, path, fault)
  }
}

const add = (prompts: PromptsFile, path: string, phrase: string, meaning: Meaning): void =>
  about(prompts, path, () => book.add(read(phrase), meaning))

const SAID = 4
const REST = 5
const MAYBE = 2
const NEVER = -6

/** What stands before and behind a name in a phrase, read once for all names, and how much the phrase says. */
const around = (before: string, after: string, points: number) => ({
  before: before ? read(before) : [],
  after: after ? read(after) : [],
  points,
})

/** The phrases that follow from what an input is called. */
const fromName = [
  around('@', '', 3.2),
  around('@ [<adj>] [<adj>]', '', 2.8),
  around('@ [{any}] [{any}] [<adj>]', '', 2.6),
  around('@ {any} {any} {any} [<adj>]', '', 2.4),
  around('@ [out] of [<the>] [<adj>] [{any}] [{any}] [<adj>]', '', 3),
  around('', '[<link>] [<link>] [<link>] @', 2.6),
  around('', '[<link>] [<link>] {any} [and|at|with|on] [<link>] @', 1.8),
]

const COMES_TO =
  '(is|are|was|be|comes to|works out at|of|only|at) [only|just|about|at|under|over|no more than]'

/** A figure is often said with what it is of: "the largest hole a 2x12 will stand is @". */
const fromFigure = [around('', `... ${COMES_TO} @`, 3.4), around('', `... {any} ... ${COMES_TO} @`, 3.4)]

function addRole(
  prompts: PromptsFile,
  path: string,
  question: string | undefined,
  part: 'fields' | 'figures',
  id: string,
  words: RoleWords,
): void {
  const meaning = (points: number, asked = false): Meaning => ({
    kind: 'role',
    question,
    part,
    id,
    points,
    asked,
  })
  const role = (phrase: string, points: number, asked = false) =>
    add(prompts, path, phrase, meaning(points, asked))
  for (const phrases of part === 'figures' ? [fromName, fromFigure] : [fromName]) {
    for (const name of words.names) {
      about(prompts, path, () => {
        const nodes = read(name)
        for (const { before, after, points } of phrases)
          book.add([...before, ...nodes, ...after], meaning(points))
      })
    }
  }
  for (const phrase of words.said) role(phrase, SAID)
  for (const phrase of words.rest)
    add(prompts, path, phrase, { kind: 'role', question, part, id, points: REST, asked: false, rest: true })
  for (const phrase of words.maybe) role(phrase, MAYBE)
  for (const phrase of words.never) role(phrase, NEVER)
  for (const phrase of words.asked) role(phrase, SAID, true)
  for (const phrase of words.maybeAsked) role(phrase, MAYBE, true)
  for (const phrase of words.about) add(prompts, path, phrase, { kind: 'about', question, id })
  for (const [value, sayings] of Object.entries(words.means)) {
    for (const phrase of sayings) {
      add(prompts, path, phrase, { kind: 'means', question, id, value, words: phrase.length })
    }
  }
}

function addQuestions(): void {
  for (const [question, { asking, prompts }] of Object.entries(askings)) {
    for (const [points, sayings] of Object.entries(asking.ask)) {
      for (const phrase of sayings)
        add(prompts, `asking.ask.${points}`, phrase, { kind: 'ask', question, points: Number(points) })
    }
    asking.signs.forEach(({ said, unless }, sign) => {
      const path = `asking.signs.${sign}`
      for (const phrase of said) add(prompts, path, phrase, { kind: 'sign', question, sign, unless: false })
      for (const phrase of unless) add(prompts, path, phrase, { kind: 'sign', question, sign, unless: true })
    })
    for (const part of ['fields', 'figures'] as const) {
      for (const [id, words] of Object.entries(asking[part])) {
        addRole(prompts, `asking.${part}.${id}`, question, part, id, words)
      }
    }
  }
  for (const [id, words] of Object.entries(sharedFields)) {
    addRole(generalPrompts, `fields.${id}`, undefined, 'fields', id, words)
  }
}

const general = (path: string, sayings: readonly string[], meaning: Meaning): void => {
  for (const phrase of sayings) add(generalPrompts, path, phrase, meaning)
}

function addVocabulary(): void {
  for (const how of ['said', 'fine', 'notFine', 'asked'] as const) {
    general(`claims.${how}`, vocabulary.claims[how], { kind: 'claim', how })
  }
  general('aside', vocabulary.aside, { kind: 'aside' })
  for (const how of ['drop', 'add', 'take', 'anew', 'same', 'more', 'fewer', 'count'] as const) {
    general(`follow.${how}`, vocabulary.follow[how], { kind: 'follow', how })
  }
  for (const [by, sayings] of Object.entries(vocabulary.follow.scale)) {
    general(`follow.scale.${by}`, sayings, { kind: 'scale', by: Number(by) })
  }
  for (const [rules, sayings] of Object.entries(vocabulary.rules))
    general(`rules.${rules}`, sayings, { kind: 'rules', rules })
  for (const [system, sayings] of Object.entries(vocabulary.systems))
    general(`systems.${system}`, sayings, { kind: 'system', system })
  for (const [why, { said, unless = [] }] of Object.entries(vocabulary.outOfReach)) {
    general(`outOfReach.${why}.said`, said, { kind: 'out-of-reach', why, unless: false })
    general(`outOfReach.${why}.unless`, unless, { kind: 'out-of-reach', why, unless: true })
  }
  vocabulary.choose.forEach(({ said }, entry) => {
    general('choose', said, { kind: 'choose', entry })
  })
}

let spelling: Spelling | undefined

/**
 * Every phrase of every question and of the general vocabulary, and what corrects misspelt words to those that the
 * phrases use. They are read when the first line is: who only opens a page does not wait for them.
 */
export function phraseBook(): {
  book: PhraseBook<Meaning>
  spelling: Spelling
  /** Every word that some phrase uses. */
  tradeWords: ReadonlySet<string>
} {
  if (!spelling) {
    addQuestions()
    addVocabulary()
    spelling = new Spelling(trade)
  }
  return { book, spelling, tradeWords: trade }
}

if (CHECKING) phraseBook()

/** The words of an input of a question: its own, and those that it shares by its name. */
export const roleWords = (question: string, part: 'fields' | 'figures', id: string): readonly RoleWords[] =>
  [askings[question]?.asking[part][id], part === 'fields' ? sharedFields[id] : undefined].filter(
    (words) => words !== undefined,
  )
