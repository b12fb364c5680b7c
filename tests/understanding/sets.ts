import { readFileSync } from 'node:fs'
import type { Utterance } from './score'

/** Sets of lines that were written by people who did not know the code, and tuned on since; work19 is what failed by hand. */
export const workingSets = [
  ...['work', 'work2', 'work3', 'work4', 'held2', 'work5', 'work6', 'held3', 'held4'],
  ...['work7', 'work8', 'work9', 'work10', 'work11', 'work13', 'work14', 'work15'],
  ...['work16', 'work17', 'work18', 'held5a', 'work19'],
]

/** Lists of every kind, claims on every figure: harder than what people mostly say. */
export const hardSets = ['work12']

/** The lines of a set, by its name. */
export const linesOf = (set: string): Utterance[] =>
  readFileSync(new URL(`utterances-${set}.jsonl`, import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Utterance)
