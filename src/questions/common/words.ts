import * as z from 'zod/mini'
import './schema-words'

/** A prompts file as the build delivers it: what it says, and on which line each key stands. */
export type PromptsFile = { file: string; content: unknown; lines: Record<string, number> }

export const fieldWords = z.strictObject({
  label: z.string(),
  hint: z.optional(z.string()),
  /** What to type, in feet and inches; must be readable by the field. */
  example: z.optional(z.string()),
  exampleMetric: z.optional(z.string()),
  /** What to ask when it is missing, and what one tap accepts. */
  ask: z.optional(z.string()),
  suggest: z.optional(z.string()),
  /** Why this value is assumed, and where that is written. */
  why: z.optional(z.string()),
  source: z.optional(z.string()),
  /** The same under IEC, where it differs: another source, or none. */
  iec: z.optional(z.strictObject({ why: z.optional(z.string()), source: z.optional(z.string()) })),
  choices: z.optional(z.record(z.string(), z.string())),
  columns: z.optional(z.record(z.string(), z.string())),
  columnExamples: z.optional(z.record(z.string(), z.string())),
})

export const cautionWords = z.strictObject({
  level: z.enum(['stop', 'care', 'note']),
  text: z.string(),
  source: z.optional(z.string()),
  /** Where that is written under IEC, if that differs: another source, or none. */
  iec: z.optional(z.strictObject({ source: z.optional(z.string()) })),
})

const questionWords = z.strictObject({
  title: z.string(),
  intro: z.string(),
  fields: z.record(z.string(), fieldWords),
  figures: z.record(z.string(), z.string()),
  limits: z._default(z.record(z.string(), z.string()), {}),
  sentences: z._default(z.record(z.string(), z.string()), {}),
  cautions: z._default(z.record(z.string(), cautionWords), {}),
  working: z._default(z.record(z.string(), z.string()), {}),
  faults: z._default(z.record(z.string(), z.string()), {}),
  columns: z._default(z.record(z.string(), z.string()), {}),
  /** How people ask it: read by src/understanding, which checks it. */
  asking: z.optional(z.unknown()),
})

export type FieldWords = z.infer<typeof fieldWords>
export type CautionWords = z.infer<typeof cautionWords>
export type QuestionWords = z.infer<typeof questionWords>

/** Which placeholders each sentence may hold. */
export type SentenceNeeds = Record<string, readonly string[]>

/** What a piece of code needs of a prompts file; every key must be there, and nothing else may be. */
export type WordNeeds<S extends SentenceNeeds> = {
  fields: readonly string[]
  figures: readonly string[]
  limits: readonly string[]
  sentences: S
  cautions: readonly string[]
  working: readonly string[]
  columns: readonly string[]
  faults: readonly string[]
}

const placeholder = /\{([a-zA-Z]+)\}/g

const lineOf = (prompts: PromptsFile, path: string): number => {
  let at = path
  while (at && prompts.lines[at] === undefined) at = at.slice(0, Math.max(0, at.lastIndexOf('.')))
  return prompts.lines[at] ?? 1
}

/** Stops the build or the start, naming the file and the line. */
export const faultyPrompts = (prompts: PromptsFile, path: string, message: string): Error =>
  new Error(`${prompts.file}:${lineOf(prompts, path)}: ${message}`)

/** Reads a prompts file by `schema`; throws naming file and line. */
export function readPrompts<T>(prompts: PromptsFile, schema: z.ZodMiniType<T>): T {
  const parsed = schema.safeParse(prompts.content)
  if (parsed.success) return parsed.data
  const issue = parsed.error.issues[0]
  const path = issue?.path.join('.') ?? ''
  throw faultyPrompts(prompts, path, `${path || 'the file'}: ${issue?.message ?? 'cannot be read'}`)
}

const checkKeys = (prompts: PromptsFile, section: string, has: object, needs: readonly string[]): void => {
  for (const key of needs) {
    if (!Object.hasOwn(has, key)) throw faultyPrompts(prompts, section, `${section}.${key} is missing`)
  }
  for (const key of Object.keys(has)) {
    if (!needs.includes(key))
      throw faultyPrompts(prompts, `${section}.${key}`, `${section}.${key} is used nowhere`)
  }
}

/** Throws, naming file and line, when a sentence is missing, unused, or holds a placeholder nobody fills. */
export function checkSentences(
  prompts: PromptsFile,
  sentences: Record<string, string>,
  needs: SentenceNeeds,
): void {
  checkKeys(prompts, 'sentences', sentences, Object.keys(needs))
  for (const [key, text] of Object.entries(sentences)) {
    for (const [, name] of text.matchAll(placeholder)) {
      if (!needs[key]?.includes(name ?? '')) {
        throw faultyPrompts(prompts, `sentences.${key}`, `sentences.${key}: unknown placeholder {${name}}`)
      }
    }
  }
}

/** A sentence taken apart once, so that filling its placeholders is joining. */
export function sentenceOf(sentence: string): (values: Readonly<Record<string, string>>) => string {
  const [start = '', ...rest] = sentence.split(placeholder)
  return (values) => {
    let text = start
    for (let i = 0; i < rest.length; i += 2) {
      const name = rest[i] ?? ''
      text += (values[name] ?? `{${name}}`) + (rest[i + 1] ?? '')
    }
    return text
  }
}

/** A sentence with its placeholders filled. */
export const fill = (sentence: string, values: Readonly<Record<string, string>>): string =>
  sentenceOf(sentence)(values)

/** All sentences of a file, taken apart: fills the one with this key. */
export function sayer(
  sentences: Readonly<Record<string, string>>,
): (key: string, values: Readonly<Record<string, string>>) => string {
  const apart = new Map(Object.entries(sentences).map(([key, text]) => [key, sentenceOf(text)]))
  return (key, values) => apart.get(key)?.(values) ?? ''
}

/** Fills a sentence by its key: what a sentence without placeholders is filled with may be left out. */
export type Say<S extends SentenceNeeds> = <K extends keyof S & string>(
  key: K,
  ...values: S[K] extends readonly []
    ? [values?: Record<never, string>]
    : [values: Record<S[K][number], string>]
) => string

/**
 * The sentences of a prompts file, checked and taken apart; throws naming file and line.
 *
 * @param needs `CHECKING && …`: what was checked when it was built need not be carried to be checked again
 */
export function checkedSayer<const S extends SentenceNeeds>(
  prompts: PromptsFile,
  sentences: Record<string, string>,
  needs: S | false,
): Say<S> {
  if (CHECKING && needs) checkSentences(prompts, sentences, needs)
  const say = sayer(sentences)
  return (key, ...[values]) => say(key, values ?? {})
}

/** The words of one question, and its sentences with their placeholders typed. */
export type Words<S extends SentenceNeeds> = QuestionWords & {
  say<K extends keyof S & string>(key: K, values: Record<S[K][number], string>): string
}

/** Reads and checks the words of one question; throws naming file and line. `needs` as for `checkedSayer`. */
export function questionWordsOf<const S extends SentenceNeeds>(
  prompts: PromptsFile,
  needs: WordNeeds<S> | false,
): Words<S> {
  const words = readPrompts(prompts, questionWords)
  if (CHECKING && needs) checkWords(prompts, words, needs)
  return { ...words, say: sayer(words.sentences) }
}

function checkWords(prompts: PromptsFile, words: QuestionWords, needs: WordNeeds<SentenceNeeds>): void {
  for (const section of [
    'fields',
    'figures',
    'limits',
    'cautions',
    'working',
    'columns',
    'faults',
  ] as const) {
    checkKeys(prompts, section, words[section], needs[section])
  }
  checkSentences(prompts, words.sentences, needs.sentences)
}
