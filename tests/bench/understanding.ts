import { readFileSync } from 'node:fs'
import { understand } from '../../src/understanding/understand'
import type { Measured } from './measured'

const lineCount = 100_000

/** A small generator of its own (Numerical Recipes' linear congruence), so that every run reads the same strings. */
const randomFrom = (seed: number) => {
  let state = seed
  return (below: number): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state % below
  }
}

const ALPHABET = `abcdefghijklmnopqrstuvwxyz 0123456789 .,'"/-#%½×μ漢\n`

const examples = (): string[] =>
  readFileSync('tests/understanding/utterances-examples.jsonl', 'utf8')
    .trim()
    .split('\n')
    .map((line) => (JSON.parse(line) as { text: string }).text)

/** Half of the strings are noise, half are example lines with letters changed, left out and put in. */
function* strings(count: number): Generator<string> {
  const random = randomFrom(7)
  const lines = examples()
  const letter = () => ALPHABET[random(ALPHABET.length)] ?? ' '
  for (let index = 0; index < count; index++) {
    if (index % 2 === 0) {
      yield Array.from({ length: random(200) }, letter).join('')
      continue
    }
    const letters = [...(lines[random(lines.length)] ?? '')]
    for (let change = random(6); change >= 0; change--)
      letters.splice(random(letters.length + 1), random(2), letter())
    yield letters.join('')
  }
}

/** Reads 100,000 random and mutated strings: how long the slow ones take, in ms, and how many made it throw. */
export async function benchUnderstanding(): Promise<Measured[]> {
  const times: number[] = []
  let thrown = 0
  for (const text of strings(lineCount)) {
    const start = performance.now()
    try {
      understand({ text })
    } catch {
      thrown += 1
    }
    times.push(performance.now() - start)
  }
  times.sort((a, b) => a - b)
  const at = (share: number): number => times[Math.floor(times.length * share)] ?? Number.NaN
  console.info(`  median ${at(0.5).toFixed(2)} ms, longest ${at(1 - 1e-9).toFixed(1)} ms`)
  return [
    { name: `${lineCount} strings, 99th percentile in ms`, ratio: at(0.99), target: 5, is: 'at most' },
    { name: 'strings that made it throw', ratio: thrown, target: 0, is: 'at most' },
  ]
}
