import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { packFewest } from '../../src/calculators/packing'

const pieces = fc.array(fc.double({ min: 0, max: 12, noNaN: true }), { maxLength: 45 })

describe('packing', () => {
  it('places every piece that fits just once, overfills no bin, and never goes below its own bound', () => {
    fc.assert(
      fc.property(
        pieces,
        fc.double({ min: 5, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 0.1, noNaN: true }),
        (list, capacity, gap) => {
          const { bins, lowerBound, proven, unfit } = packFewest(list, capacity, gap)
          expect([...bins.flat(), ...unfit].sort((a, b) => a - b)).toEqual(list.map((_, index) => index))
          for (const bin of bins) {
            const taken = bin.reduce((sum, index) => sum + (list[index] as number), gap * (bin.length - 1))
            expect(taken).toBeLessThanOrEqual(capacity * (1 + 1e-8))
          }
          expect(lowerBound).toBeLessThanOrEqual(bins.length)
          expect(proven).toBe(lowerBound === bins.length)
          for (const index of unfit) expect(list[index]).toBeGreaterThan(capacity)
        },
      ),
      { numRuns: 1000 },
    )
  })

  it('takes no pieces, and sets aside those that are no length or too long', () => {
    expect(packFewest([], 5)).toEqual({ bins: [], lowerBound: 0, proven: true, unfit: [] })
    expect(packFewest([6, -1, Number.NaN, 1], 5)).toMatchObject({ bins: [[3]], unfit: [0, 1, 2] })
  })

  it('fits ten tenths into one, though ten times 0.1 added up is not quite 1', () => {
    expect(packFewest(Array<number>(10).fill(0.1), 1).bins).toHaveLength(1)
    expect(packFewest([0.1, 0.2], 0.3).bins).toHaveLength(1)
  })

  it('says so when the node limit stops it: the bound stays below what it found', () => {
    const halved = [6, 5, 5, 3, 3, 2]
    const stopped = packFewest(halved, 12, 0, { nodeLimit: 0 })
    expect(stopped).toMatchObject({ lowerBound: 2, proven: false })
    expect(stopped.bins).toHaveLength(3)
  })

  it('packs more than 30 pieces first-fit decreasing, proven where the bound meets it', () => {
    const many = packFewest(Array<number>(40).fill(2.5), 5)
    expect(many.bins).toHaveLength(20)
    expect(many.proven).toBe(true)
    const thirtySix = Array.from({ length: 6 }, () => [6, 5, 5, 3, 3, 2]).flat()
    const unproven = packFewest(thirtySix, 12)
    expect(unproven.lowerBound).toBe(12)
    expect(unproven.proven).toBe(unproven.bins.length === 12)
  })
})
