import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { axisText, logarithmic, straight, ticks, wayThrough, widened } from '../../src/pictures/scale'

const ends = fc
  .tuple(fc.double({ min: -1e4, max: 1e4, noNaN: true }), fc.double({ min: 0.01, max: 1e4, noNaN: true }))
  .map(([from, length]) => [from, from + length] as const)

describe('scales', () => {
  it('put the ends at the ends and the middle in the middle', () => {
    const scale = straight([2, 6], [100, 20])
    expect([2, 4, 6, 8].map(scale)).toEqual([100, 60, 20, -20])
  })

  it('put equal ratios at equal distances, and what lies beyond at the end', () => {
    const scale = logarithmic([1, 100], [0, 200])
    expect(scale(10)).toBeCloseTo(100, 9)
    expect([0.5, 1000].map(scale)).toEqual([0, 200])
  })
})

describe('ticks', () => {
  it.each([
    // Worked by hand: a span of 10 with five of them takes steps of 2.
    [[0, 10], 5, [0, 2, 4, 6, 8, 10]],
    [[0, 1], 4, [0, 0.2, 0.4, 0.6, 0.8, 1]],
    [[21.3, 24.2], 6, [21.5, 22, 22.5, 23, 23.5, 24]],
    [[-0.3, 0.3], 6, [-0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3]],
  ] as const)('%j, about %i of them', (span, count, expected) => {
    expect(ticks(span, count)).toEqual(expected)
  })

  it('lie within the span at even distances of 1, 2 or 5 times a power of ten, and are about as many as wanted', () => {
    fc.assert(
      fc.property(ends, fc.integer({ min: 2, max: 10 }), (span, count) => {
        const found = ticks(span, count)
        const slack = (span[1] - span[0]) * 1e-6
        for (const each of found) {
          expect(each).toBeGreaterThanOrEqual(span[0] - slack)
          expect(each).toBeLessThanOrEqual(span[1] + slack)
        }
        const steps = found.slice(1).map((each, at) => each - (found[at] ?? 0))
        for (const step of steps) {
          const digits = Number(step.toPrecision(4)).toExponential().split('e')[0]
          expect(['1', '2', '5']).toContain(digits)
        }
        // A step is at most the root of two, or of two and a half, away from the one wanted.
        expect(found.length).toBeGreaterThanOrEqual(Math.floor(count / 1.6))
        expect(found.length).toBeLessThanOrEqual(Math.ceil(count * 1.6) + 1)
      }),
    )
  })

  it('a widened span holds the span, from tick to tick', () => {
    fc.assert(
      fc.property(ends, (span) => {
        const [from, to] = widened(span, 5)
        const slack = (span[1] - span[0]) * 1e-6
        expect(from).toBeLessThanOrEqual(span[0] + slack)
        expect(to).toBeGreaterThanOrEqual(span[1] - slack)
      }),
    )
    expect(widened([21.34, 24.2], 5)).toEqual([21, 24.5])
  })
})

describe('texts', () => {
  it('have a minus sign, and among others as many decimals as the finest', () => {
    expect(axisText(-0.5)).toBe('−0.5')
    expect([20, 20.5].map((each) => axisText(each, [20, 20.5]))).toEqual(['20.0', '20.5'])
  })

  it('a way without points is empty, one through points goes to each', () => {
    expect(wayThrough([])).toBe('')
    expect(
      wayThrough([
        [1, 2],
        [3.5, 4],
      ]),
    ).toBe('M1,2L3.5,4')
  })
})
