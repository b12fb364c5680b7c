import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type CutPlan, cutPlan, type StockPlan } from '../../src/calculators/cut-plan'

const length = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const inputs = fc.record({
  openingsM: fc.array(length(0.01, 15), { minLength: 1, maxLength: 12 }),
  cutLengthM: fc.constantFrom(0.025, 0.05, 0.0625, 0.1, 0.5),
  reelLengthM: length(0.5, 20),
  channelLengthM: length(0.3, 6),
  kerfM: length(0, 0.01),
  endClearanceM: length(0, 0.02),
  joinTape: fc.boolean(),
})

function cutFor(plan: StockPlan, opening: number): number {
  const pieces = plan.stocks.flatMap((stock) => stock.pieces).filter((piece) => piece.opening === opening)
  return pieces.reduce((sum, piece) => sum + piece.lengthM, 0)
}

function sum(values: number[]): number {
  return values.reduce((total, value) => total + value, 0)
}

describe('a cut plan', () => {
  it('cuts just what each opening wants, on the marks, and never longer than the opening', () => {
    fc.assert(
      fc.property(inputs, (given) => {
        const plan: CutPlan = cutPlan(given)
        plan.openings.forEach((opening, index) => {
          expect(cutFor(plan.reels, index)).toBeCloseTo(opening.tapeM, 8)
          expect(sum(opening.tapePiecesM)).toBeCloseTo(opening.tapeM, 8)
          const channelM = opening.fit === 'shorter-than-cut' ? 0 : opening.openingM
          expect(cutFor(plan.channels, index)).toBeCloseTo(channelM, 8)
          expect(opening.tapeM).toBeLessThanOrEqual(opening.openingM + given.cutLengthM * 1e-6)
          const marks = opening.tapeM / given.cutLengthM
          expect(marks).toBeCloseTo(Math.round(marks), 6)
          expect(opening.tapeM + opening.darkGapM).toBeCloseTo(opening.openingM, 5)
        })
      }),
      { numRuns: 1000 },
    )
  })

  it('takes no more from a length than it holds, kerf included, and accounts for all that is bought', () => {
    fc.assert(
      fc.property(inputs, (given) => {
        const { channels, openings } = cutPlan(given)
        for (const { pieces, restM } of channels.stocks) {
          const used = sum(pieces.map(({ lengthM }) => lengthM)) + given.kerfM * (pieces.length - 1)
          expect(used).toBeLessThanOrEqual(given.channelLengthM * (1 + 1e-8))
          expect(restM).toBeGreaterThanOrEqual(0)
        }
        const wanted = sum(openings.flatMap(({ channelPiecesM }) => channelPiecesM))
        expect(channels.wasteM + wanted).toBeCloseTo(channels.stocks.length * given.channelLengthM, 7)
      }),
      { numRuns: 1000 },
    )
  })

  it('never buys fewer for one opening more', () => {
    fc.assert(
      fc.property(inputs, length(0.01, 15), (given, extra) => {
        const before = cutPlan(given)
        const after = cutPlan({ ...given, openingsM: [...given.openingsM, extra] })
        expect(after.reels.stocks.length).toBeGreaterThanOrEqual(before.reels.lowerBound)
        expect(after.channels.stocks.length).toBeGreaterThanOrEqual(before.channels.lowerBound)
      }),
      { numRuns: 1000 },
    )
  })

  it('is the same in feet and inches', () => {
    const given = {
      openingsM: [4 * 0.3048, 33 * 0.0254],
      cutLengthM: 0.1,
      reelLengthM: 16.4 * 0.3048,
      channelLengthM: 2,
      kerfM: 0.003,
      endClearanceM: 0,
      joinTape: false,
    }
    const metric = { ...given, openingsM: [1.2192, 0.8382] }
    expect(cutPlan(given).openings.map(({ tapeM }) => tapeM)).toEqual(
      cutPlan(metric).openings.map(({ tapeM }) => tapeM),
    )
  })
})
