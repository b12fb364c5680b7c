import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  countCutUnits,
  countUnits,
  lightOf,
  solveTape,
  type TapeDesign,
  type TapeFeed,
  type TapeSupply,
} from '../../src/calculators/tape-network'

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })

/** Any tape of the valid ranges, fed anywhere. */
const layouts = fc
  .record({
    units: fc.integer({ min: 1, max: 300 }),
    cutLengthM: number(0.005, 0.5),
    ratedV: number(3, 60),
    ratedWPerM: number(0.5, 40),
    railOhmPerM: number(0.005, 2),
    knee: number(0.5, 0.85),
    style: fc.constantFrom('resistor' as const, 'regulated' as const),
    feeds: fc.array(fc.record({ part: number(0, 1), ohm: fc.oneof(fc.constant(0), number(0.0001, 10)) }), {
      minLength: 1,
      maxLength: 20,
    }),
    source: number(0.5, 1.15),
    trunkOhm: fc.oneof(fc.constant(0), number(0.0001, 10)),
  })
  .map(({ units, source, feeds, trunkOhm, ...tape }) => {
    const lengthM = units * tape.cutLengthM
    return {
      design: { ...tape, lengthM },
      feeds: feeds.map(({ part, ohm }) => ({ atM: part * lengthM, ohm })),
      supply: { sourceV: source * tape.ratedV, trunkOhm },
    }
  })

const runs = { numRuns: 1000 }

/**
 * Close to the knee a unit's current is the small difference of two voltages, so no arithmetic with 53 bits knows
 * the tape's current better than its slope times a few last digits of the voltage.
 */
function roundingA({ ratedV, ratedWPerM, lengthM, knee, style }: TapeDesign, sourceV: number): number {
  const fullV = (style === 'resistor' ? 1 : 0.9) * ratedV
  const slopeS = (ratedWPerM * lengthM) / ratedV / (fullV - knee * ratedV)
  return slopeS * 4 * Number.EPSILON * sourceV
}

describe('counting cut units', () => {
  it('rounds a piece still to cut down', () => {
    expect(countUnits(5, 0.1)).toBe(50)
    expect(countUnits(4.9999, 0.1)).toBe(49)
    expect(countUnits(0.04, 0.05)).toBe(0)
    // 0.3/0.1 is 2.9999999999999996 in binary.
    expect(countUnits(0.3, 0.1)).toBe(3)
  })

  it('takes tape that is cut near a mark as cut at the mark', () => {
    // 16.4 ft is 4.99872 m.
    expect(countCutUnits(16.4 * 0.3048, 0.1)).toBe(50)
    expect(countCutUnits(4.995, 0.1)).toBe(50)
    expect(countCutUnits(4.994, 0.1)).toBe(49)
    expect(countCutUnits(5.004, 0.1)).toBe(50)
    expect(countCutUnits(5.06, 0.1)).toBe(50)
  })

  it('takes at most half a pitch for that', () => {
    expect(countCutUnits(0.0974, 0.005)).toBe(19)
    expect(countCutUnits(0.0976, 0.005)).toBe(20)
  })
})

describe('any valid tape', () => {
  it('is solved: currents balance to 1 nA and powers to 1e-9', () => {
    fc.assert(
      fc.property(layouts, ({ design, feeds, supply }) => {
        const solution = solveTape(design, feeds, supply)
        expect(solution.residualA).toBeLessThan(1e-9)
        const givenW = supply.sourceV * solution.sourceA
        const takenW = solution.tapeW + solution.railLossW + solution.feedLossW + solution.trunkLossW
        const roundingW = supply.sourceV * roundingA(design, supply.sourceV)
        expect(Math.abs(givenW - takenW)).toBeLessThanOrEqual(1e-9 * givenW + roundingW)
        expect(Math.max(...solution.unitV)).toBeLessThanOrEqual(supply.sourceV)
        expect(Math.min(...solution.unitV)).toBeGreaterThan(0)
        expect(Math.min(...solution.feedA)).toBeGreaterThanOrEqual(-1e-9)
      }),
      runs,
    )
  })

  const dimmest = (design: TapeDesign, feeds: TapeFeed[], supply: TapeSupply) =>
    lightOf(solveTape(design, feeds, supply)).dimmestPercent

  it('is never brighter for being longer', () => {
    fc.assert(
      fc.property(layouts, fc.integer({ min: 1, max: 50 }), ({ design, feeds, supply }, more) => {
        const longer = { ...design, lengthM: design.lengthM + more * design.cutLengthM }
        expect(dimmest(longer, feeds, supply)).toBeLessThanOrEqual(dimmest(design, feeds, supply) + 1e-9)
      }),
      runs,
    )
  })

  // More conductance to a source that holds its voltage lifts every unit (the equations form an M-matrix). Behind a
  // trunk that need not be so: what a better feed lets its units take, the trunk loses for the others.
  it('is never dimmer for thicker cables, nor for one feed more, where no trunk is shared', () => {
    fc.assert(
      fc.property(
        layouts,
        number(0.1, 1),
        number(0, 1),
        number(0, 10),
        ({ design, feeds, supply }, part, at, ohm) => {
          const alone = { ...supply, trunkOhm: 0 }
          const before = dimmest(design, feeds, alone) - 1e-9
          const thicker = feeds.map((feed) => ({ ...feed, ohm: feed.ohm * part }))
          expect(dimmest(design, thicker, alone)).toBeGreaterThanOrEqual(before)
          const more = [...feeds, { atM: at * design.lengthM, ohm }]
          expect(dimmest(design, more, alone)).toBeGreaterThanOrEqual(before)
        },
      ),
      runs,
    )
  })

  it('is never dimmer for a thicker trunk, nor, fed at one end, for stiffer rails', () => {
    fc.assert(
      fc.property(layouts, number(0.1, 1), ({ design, feeds, supply }, part) => {
        const thicker = { ...supply, trunkOhm: supply.trunkOhm * part }
        expect(dimmest(design, feeds, thicker)).toBeGreaterThanOrEqual(dimmest(design, feeds, supply) - 1e-9)
        const oneEnd = [{ atM: 0, ohm: feeds[0]?.ohm ?? 0 }]
        const stiffer = { ...design, railOhmPerM: design.railOhmPerM * part }
        expect(dimmest(stiffer, oneEnd, supply)).toBeGreaterThanOrEqual(
          dimmest(design, oneEnd, supply) - 1e-9,
        )
      }),
      runs,
    )
  })

  it('is the same read from its other end', () => {
    fc.assert(
      fc.property(layouts, ({ design, feeds, supply }) => {
        // Feeds in the middle of a unit stay in that unit when the tape is turned round.
        const unitMiddle = (atM: number) =>
          (Math.min(Math.round(design.lengthM / design.cutLengthM) - 1, Math.floor(atM / design.cutLengthM)) +
            0.5) *
          design.cutLengthM
        const centred = feeds.map(({ atM, ohm }) => ({ atM: unitMiddle(atM), ohm }))
        const turned = centred.map(({ atM, ohm }) => ({ atM: design.lengthM - atM, ohm }))
        const forth = solveTape(design, centred, supply).unitV
        const back = solveTape(design, turned, supply).unitV.reverse()
        const differences = forth.map((volts, k) => Math.abs(volts - (back[k] as number)))
        expect(Math.max(...differences)).toBeLessThan(1e-9)
      }),
      runs,
    )
  })
})

describe('what a tape may be asked', () => {
  const design: TapeDesign = {
    lengthM: 2,
    cutLengthM: 0.1,
    ratedV: 24,
    ratedWPerM: 10,
    railOhmPerM: 0.12,
    knee: 0.7,
    style: 'resistor',
  }
  const supply = { sourceV: 24, trunkOhm: 0.2 }

  it('5,000 units far too long for their rails', () => {
    const long = { ...design, lengthM: 100, cutLengthM: 0.02, style: 'regulated' as const }
    const solution = solveTape(long, [{ atM: 0, ohm: 0.1 }], supply)
    expect(solution.unitV).toHaveLength(5000)
    expect(solution.residualA).toBeLessThan(1e-9)
  })

  it('a source below the knee lights nothing', () => {
    const solution = solveTape(design, [{ atM: 0, ohm: 0.1 }], { ...supply, sourceV: 12 })
    expect(solution.sourceA).toBe(0)
    expect(lightOf(solution)).toEqual({
      lowestV: 12,
      dimmestPercent: 0,
      brightestPercent: 0,
      evennessPercent: 0,
    })
  })

  it('no feed, and no tape', () => {
    expect(solveTape(design, [], supply)).toMatchObject({ sourceA: 0, tapeW: 0, residualA: 0 })
    expect(solveTape({ ...design, lengthM: 0.01 }, [{ atM: 0, ohm: 0 }], supply)).toMatchObject({
      sourceA: 0,
    })
  })

  it('feeds without cable at one unit share its current; one with a cable beside them carries none', () => {
    const feeds = [0, 0, 1].map((ohm) => ({ atM: 1, ohm }))
    const { feedA, sourceA } = solveTape(design, feeds, supply)
    expect(feedA[0]).toBe(feedA[1])
    expect(feedA[2]).toBe(0)
    expect((feedA[0] as number) * 2).toBeCloseTo(sourceA, 12)
  })

  it('one tape does not leave its traces in the next', () => {
    const feeds = [{ atM: 0, ohm: 0.1 }]
    const first = solveTape(design, feeds, supply)
    const copy = Array.from(first.unitV)
    solveTape({ ...design, lengthM: 80, style: 'regulated' }, [{ atM: 3, ohm: 0 }], {
      sourceV: 20,
      trunkOhm: 1,
    })
    expect(Array.from(first.unitV)).toEqual(copy)
    expect(solveTape(design, feeds, supply)).toEqual(first)
  })

  it('a joint of no resistance changes nothing, and one beyond the last units sits at the nearest link', () => {
    const feeds = [{ atM: 0, ohm: 0.1 }]
    const plain = solveTape(design, feeds, supply)
    expect(solveTape(design, feeds, { ...supply, joints: [{ atM: 1, ohm: 0 }] }).unitV).toEqual(plain.unitV)
    const atEnd = (atM: number) => solveTape(design, feeds, { ...supply, joints: [{ atM, ohm: 2 }] }).unitV
    expect(atEnd(2)).toEqual(atEnd(1.9))
  })
})
