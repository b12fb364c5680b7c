/** The range of one unknown. */
export type Bounds = { low: number; high: number }

export type LeastSquaresFit = {
  /** The unknowns where the sum is least. */
  at: number[]
  /** Sum of the squared residuals there. */
  sum: number
  /** Standard deviation of each unknown when the residuals' own is 1; `Infinity` where they do not tell. */
  deviations: number[]
}

const MOST_STEPS = 40
const DIFFERENCE = 1e-5
const SETTLED = 1e-9

/**
 * Least squares with bounds by the method of Levenberg and Marquardt (SIAM Journal 11, 1963, 431–441): slopes by
 * differences, steps cut off at the bounds, an unknown that presses against its bound left out of the step.
 *
 * @param residuals the differences to square, for given unknowns; smooth but for kinks
 * @param start where to begin, within the bounds; unknowns of about size 1
 * @returns the nearest minimum found, which need not be the least of several
 */
export function leastSquares(
  residuals: (unknowns: number[]) => number[],
  start: readonly number[],
  bounds: readonly Bounds[],
): LeastSquaresFit {
  let at = [...start]
  let now = residuals(at)
  let damping = 1e-3
  for (let step = 0; step < MOST_STEPS; step++) {
    const better = improve(residuals, bounds, at, now, damping)
    if (!better) break
    const gain = 1 - sumOfSquares(better.now) / sumOfSquares(now)
    ;({ at, now } = better)
    damping = Math.max(1e-9, better.damping / 10)
    if (gain < SETTLED) break
  }
  const slopes = at.map((_, unknown) => slope(residuals, bounds, at, now, unknown))
  return { at, sum: sumOfSquares(now), deviations: deviations(slopes) }
}

/** From the diagonal of (JᵀJ)⁻¹. */
function deviations(slopes: number[][]): number[] {
  return slopes.map((_, unknown) => {
    const unit = slopes.map((_, other) => (other === unknown ? 1 : 0))
    const variance = solveSymmetric(normalMatrix(slopes, 0), unit)[unknown] as number
    return variance > 0 && variance < 1e10 ? Math.sqrt(variance) : Number.POSITIVE_INFINITY
  })
}

/** JᵀJ, its diagonal raised by the damping and by a trace that keeps it from being singular. */
function normalMatrix(slopes: number[][], damping: number): number[][] {
  return slopes.map((one, i) =>
    slopes.map((other, j) => (i === j ? dot(one, other) * (1 + damping) + 1e-12 : dot(one, other))),
  )
}

/** One step that lowers the sum, damped as far as it takes; undefined where none does. */
function improve(
  residuals: (unknowns: number[]) => number[],
  bounds: readonly Bounds[],
  at: number[],
  now: number[],
  startDamping: number,
) {
  const slopes = at.map((_, unknown) => slope(residuals, bounds, at, now, unknown))
  const gradient = slopes.map((column) => dot(column, now))
  const free = at.flatMap((_, unknown) => (pressed(at, gradient, bounds, unknown) ? [] : [unknown]))
  for (let damping = startDamping; damping < 1e8; damping *= 10) {
    const step = direction(slopes, gradient, free, damping)
    const to = at.map((value, unknown) => clamp(value + (step[unknown] as number), bounds[unknown] as Bounds))
    const then = residuals(to)
    if (sumOfSquares(then) < sumOfSquares(now)) return { at: to, now: then, damping }
  }
  return undefined
}

function slope(
  residuals: (unknowns: number[]) => number[],
  bounds: readonly Bounds[],
  at: number[],
  now: number[],
  unknown: number,
): number[] {
  const value = at[unknown] as number
  const shift = value + DIFFERENCE <= (bounds[unknown] as Bounds).high ? DIFFERENCE : -DIFFERENCE
  const then = residuals(at.with(unknown, value + shift))
  return then.map((residual, row) => (residual - (now[row] as number)) / shift)
}

function pressed(at: number[], gradient: number[], bounds: readonly Bounds[], unknown: number): boolean {
  const { low, high } = bounds[unknown] as Bounds
  const downhill = -(gradient[unknown] as number)
  return downhill < 0 ? (at[unknown] as number) <= low : (at[unknown] as number) >= high
}

/** Solves (JᵀJ + damping·diagonal)·d = −Jᵀr for the free unknowns; the others stand still. */
function direction(slopes: number[][], gradient: number[], free: number[], damping: number): number[] {
  const solved = solveSymmetric(
    normalMatrix(
      free.map((i) => slopes[i] as number[]),
      damping,
    ),
    free.map((i) => -(gradient[i] as number)),
  )
  const all = gradient.map(() => 0)
  free.forEach((unknown, index) => {
    all[unknown] = solved[index] as number
  })
  return all
}

/** Gauss elimination without exchange of rows, which a positive definite matrix does not need. */
function solveSymmetric(rows: number[][], right: number[]): number[] {
  for (let pivot = 0; pivot < right.length; pivot++)
    for (let row = pivot + 1; row < right.length; row++) {
      const factor = at(rows, row, pivot) / at(rows, pivot, pivot)
      for (let column = pivot; column < right.length; column++)
        (rows[row] as number[])[column] = at(rows, row, column) - factor * at(rows, pivot, column)
      right[row] = (right[row] as number) - factor * (right[pivot] as number)
    }
  const solved = right.map(() => 0)
  for (let row = right.length - 1; row >= 0; row--) {
    const known = solved.reduce((sum, value, column) => sum + value * at(rows, row, column), 0)
    solved[row] = ((right[row] as number) - known) / at(rows, row, row)
  }
  return solved
}

function at(rows: number[][], row: number, column: number): number {
  return (rows[row] as number[])[column] as number
}

/** The value, or the bound it lies beyond. */
export function clamp(value: number, { low, high }: Bounds): number {
  return Math.min(high, Math.max(low, value))
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, index) => sum + value * (b[index] as number), 0)
}

function sumOfSquares(values: readonly number[]): number {
  return dot(values, values)
}
