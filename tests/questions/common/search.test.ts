import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nearestChange } from '../../../src/questions/common/search'

describe('the nearest change', () => {
  it('is found to within 0.5 %, wherever it lies', () => {
    const place = fc.double({ min: 0.001, max: 0.999, noNaN: true })
    fc.assert(
      fc.property(place, fc.boolean(), fc.double({ min: 0.1, max: 100, noNaN: true }), (share, up, start) => {
        const end = up ? start * 50 : start / 50
        const edge = start + (end - start) * share
        const found = nearestChange(start, end, false, (value) => (up ? value > edge : value < edge))
        if (!found) throw new Error('No change was found')
        expect(Math.abs(found.inside - edge) / edge).toBeLessThan(0.005)
        expect(Math.abs(found.outside - edge) / edge).toBeLessThan(0.005)
        expect(up ? found.inside <= edge : found.inside >= edge).toBe(true)
      }),
      { numRuns: 1000 },
    )
  })

  it('is the first of several', () => {
    // Changed between 12 and 15 and again from 80: growing steps from 10 must not jump over the first stretch.
    const found = nearestChange(10, 100, false, (value) => (value > 12 && value < 15) || value > 80)
    expect(found?.inside).toBeCloseTo(12, 1)
  })

  it('moves counts one by one', () => {
    expect(nearestChange(3, 30, true, (value) => value >= 17)).toEqual({ inside: 16, outside: 17 })
    expect(nearestChange(3, 30, true, (value) => value >= 4)).toEqual({ inside: 3, outside: 4 })
  })

  it('says when nothing changes, and when there is nowhere to go', () => {
    expect(nearestChange(3, 30, false, () => false)).toBeNull()
    expect(nearestChange(3, 3, false, () => true)).toBeNull()
  })
})
