import { readFileSync } from 'node:fs'
import { understand } from '../../src/understanding/understand'

/** A row to print: what was measured, and how it came out. */
export type Row = { what: string; value: string }

const LINES = 100_000

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
  readFileSync(new URL('../understanding/utterances-examples.jsonl', import.meta.url), 'utf8')
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

/** Reads 100,000 random and mutated strings: milliseconds for each, and how many made it throw. */
export function benchUnderstanding(): Row[] {
  const times: number[] = []
  let thrown = 0
  for (const text of strings(LINES)) {
    const start = performance.now()
    try {
      understand({ text })
    } catch {
      thrown += 1
    }
    times.push(performance.now() - start)
  }
  times.sort((a, b) => a - b)
  const at = (share: number) => `${(times[Math.floor(times.length * share)] ?? 0).toFixed(2)} ms`
  return [
    { what: 'strings read', value: String(times.length) },
    { what: 'thrown', value: String(thrown) },
    { what: 'p50', value: at(0.5) },
    { what: 'p99', value: at(0.99) },
    { what: 'longest', value: `${(times[times.length - 1] ?? 0).toFixed(2)} ms` },
  ]
}
