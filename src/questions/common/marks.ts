import type { Caution, Verdict } from './answer'

/** Each verdict by a shape, so that colour only repeats it. */
export const verdictMarks: Readonly<Record<Verdict, string>> = {
  holds: '✓',
  tight: '▲',
  fails: '✕',
  info: 'i',
}

/** Each caution by how much it matters. */
export const levelMarks: Readonly<Record<Caution['level'], string>> = { stop: '■', care: '△', note: '–' }
