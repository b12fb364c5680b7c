import { describe, expect, it } from 'vitest'
import { leastSquares } from '../../src/calculators/least-squares'

const wide = { low: -100, high: 100 }

describe('least squares', () => {
  it('finds the straight line through 1, 2, 4 at 0, 1, 2 by hand: 5/6 + 3/2·x, rest 1/6, with its deviations', () => {
    const fit = leastSquares(([a = 0, b = 0]) => [1, 2, 4].map((y, x) => a + b * x - y), [0, 0], [wide, wide])
    expect(fit.at[0]).toBeCloseTo(5 / 6, 6)
    expect(fit.at[1]).toBeCloseTo(1.5, 6)
    expect(fit.sum).toBeCloseTo(1 / 6, 9)
    // (JᵀJ)⁻¹ = [[5, −3], [−3, 3]]/6
    expect(fit.deviations[0]).toBeCloseTo(Math.sqrt(5 / 6), 4)
    expect(fit.deviations[1]).toBeCloseTo(Math.sqrt(0.5), 4)
  })

  it('walks the bent valley of Rosenbrock (Computer Journal 3, 1960) to (1, 1)', () => {
    const fit = leastSquares(([x = 0, y = 0]) => [10 * (y - x * x), 1 - x], [-1.2, 1], [wide, wide])
    expect(fit.at[0]).toBeCloseTo(1, 4)
    expect(fit.at[1]).toBeCloseTo(1, 4)
  })

  it('stops at a bound, and goes on with the other unknowns', () => {
    const fit = leastSquares(([x = 0, y = 0]) => [x - 5, y - 2 + x], [0, 0], [{ low: -1, high: 1 }, wide])
    expect(fit.at[0]).toBe(1)
    expect(fit.at[1]).toBeCloseTo(1, 6)
  })

  it('says that what the residuals do not feel is not known', () => {
    expect(leastSquares(([x = 0]) => [x - 1], [0, 0], [wide, wide]).deviations[1]).toBe(
      Number.POSITIVE_INFINITY,
    )
  })
})
