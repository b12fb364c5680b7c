/** One measured ratio and the one aimed at. */
export type Measured = { name: string; ratio: number; target: number; is: 'at most' | 'at least' }

/** The middle one of several figures. */
export const median = (figures: readonly number[]): number =>
  [...figures].sort((a, b) => a - b)[Math.floor(figures.length / 2)] ?? Number.NaN
