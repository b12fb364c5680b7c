import { describe, expect, it } from 'vitest'
import { cutPlan } from '../../src/calculators/cut-plan'
import { packFewest } from '../../src/calculators/packing'

/** A small reproducible source of whole numbers (Park and Miller, Communications of the ACM 31, 1988). */
function dice(seed: number): (from: number, to: number) => number {
  let state = seed
  return (from, to) => {
    state = (state * 48_271) % 2_147_483_647
    return from + (state % (to - from + 1))
  }
}

/** The fewest bins by looking at every way to part every set of pieces, in whole numbers. */
function fewestByBruteForce(pieces: number[], capacity: number, gap: number): number {
  const sets = 1 << pieces.length
  const fewest = new Array<number>(sets).fill(Number.POSITIVE_INFINITY)
  fewest[0] = 0
  const fits = Array.from({ length: sets }, (_, set) => {
    const inside = pieces.filter((_, index) => set & (1 << index))
    return inside.reduce((sum, piece) => sum + piece, 0) + gap * Math.max(0, inside.length - 1) <= capacity
  })
  for (let set = 1; set < sets; set++)
    for (let bin = set; bin; bin = (bin - 1) & set)
      if (fits[bin]) fewest[set] = Math.min(fewest[set] as number, 1 + (fewest[set ^ bin] as number))
  return fewest[sets - 1] as number
}

describe('fewest bins', () => {
  it('agrees with brute force on 800 small cases, with and without a kerf', () => {
    const roll = dice(20_260_101)
    for (let round = 0; round < 800; round++) {
      const capacity = roll(20, 300)
      const gap = round % 2 ? roll(0, 6) : 0
      const pieces = Array.from({ length: roll(1, 9) }, () =>
        roll(1, round % 4 < 2 ? capacity : (capacity >> 1) + 1),
      )
      const packing = packFewest(pieces, capacity, gap)
      const fewest = fewestByBruteForce(pieces, capacity, gap)
      expect({ pieces, capacity, gap, count: packing.bins.length }).toEqual({
        pieces,
        capacity,
        gap,
        count: fewest,
      })
      expect(packing.proven).toBe(true)
      expect(packing.lowerBound).toBe(fewest)
    }
  })

  it('agrees with brute force in metres, where sums such as 0.1 + 0.2 are not exact', () => {
    const roll = dice(7)
    for (let round = 0; round < 300; round++) {
      const pieces = Array.from({ length: roll(2, 8) }, () => roll(1, 20))
      const packing = packFewest(
        pieces.map((piece) => piece / 10),
        2,
        0.1,
      )
      expect(packing.bins).toHaveLength(fewestByBruteForce(pieces, 20, 1))
    }
  })

  it('agrees with brute force where tenths all but fill the bins, proven or not', () => {
    expect(packFewest([25.1, 36.2, 42.1, 29.4, 23.1, 35], 100).bins).toHaveLength(2)
    const roll = dice(20_261_125)
    for (let round = 0; round < 600; round++) {
      const count = roll(5, 8)
      const most = Math.min(1000, Math.round(6000 / count))
      const pieces = Array.from({ length: count }, () => roll(Math.round(most / 2), most))
      const packing = packFewest(
        pieces.map((piece) => piece / 10),
        100,
      )
      const fewest = fewestByBruteForce(pieces, 1000, 0)
      expect({ pieces, count: packing.bins.length }).toEqual({ pieces, count: fewest })
    }
  })

  it('finds and proves the perfect packing of 30 pieces in threes (triplets after Falkenauer, 1996: known by construction)', () => {
    const roll = dice(99)
    for (let round = 0; round < 50; round++) {
      const pieces: number[] = []
      for (let bin = 0; bin < 10; bin++) {
        const large = roll(380, 490)
        const middle = roll(250, (1000 - large) >> 1)
        pieces.push(large, middle, 1000 - large - middle)
      }
      const packing = packFewest(pieces, 1000)
      expect(packing.bins).toHaveLength(10)
      expect(packing.proven).toBe(true)
    }
  })

  it('beats first-fit decreasing: 6 + 3 + 3 and 5 + 5 + 2 fill two bins of 12 (by hand)', () => {
    // Largest first goes 6 + 5, 5 + 3 + 3, 2: three bins.
    const packing = packFewest([6, 5, 5, 3, 3, 2], 12)
    expect(packing.bins).toHaveLength(2)
    expect(packing.proven).toBe(true)
  })

  it('finds five bins of 1000 for 30 pieces that fill 4 897 of 5 000 (no fewer can hold the sum)', () => {
    const pieces = [
      182, 181, 180, 179, 177, 175, 174, 173, 172, 170, 170, 167, 165, 165, 165, 163, 161, 161, 159, 156, 155,
      155, 154, 153, 152, 150, 149, 149, 145, 140,
    ]
    expect(pieces.reduce((sum, piece) => sum + piece, 0)).toBe(4897)
    const packing = packFewest(pieces, 1000)
    expect(packing.bins).toHaveLength(5)
    expect(packing.proven).toBe(true)
  })

  it('four 67 ft legs on 100 ft spools take four spools', () => {
    expect(packFewest([67, 67, 67, 67], 100).bins).toHaveLength(4)
  })
})

const site = {
  cutLengthM: 0.1,
  reelLengthM: 5,
  channelLengthM: 2,
  kerfM: 0.003,
  endClearanceM: 0,
  joinTape: false,
}

describe('the cutting of tape and channel, by hand', () => {
  it('floors tape to a cut and leaves the rest dark', () => {
    const plan = cutPlan({ ...site, openingsM: [1.27, 0.85, 0.04] })
    expect(plan.openings.map(({ tapeM }) => Number(tapeM.toFixed(9)))).toEqual([1.2, 0.8, 0])
    expect(plan.openings.map(({ darkGapM }) => Number(darkGapM.toFixed(9)))).toEqual([0.07, 0.05, 0.04])
    expect(plan.openings[2]?.fit).toBe('shorter-than-cut')
    expect(plan.openings[2]?.channelPiecesM).toEqual([])
    expect(plan.reels.stocks).toHaveLength(1)
    expect(plan.reels.wasteM).toBeCloseTo(3, 9)
  })

  it('counts a 16.4 ft reel as 50 cuts of 100 mm', () => {
    const plan = cutPlan({ ...site, openingsM: [5], reelLengthM: 16.4 * 0.3048 })
    expect(plan.reels.stocks).toHaveLength(1)
    expect(plan.openings[0]?.fit).toBe('one-piece')
    expect(plan.reels.wasteM).toBe(0)
  })

  it('takes two 1 m pieces from a 2 m length without a kerf, and one with', () => {
    expect(cutPlan({ ...site, openingsM: [1, 1], kerfM: 0 }).channels.stocks).toHaveLength(1)
    expect(cutPlan({ ...site, openingsM: [1, 1] }).channels.stocks).toHaveLength(2)
  })

  it('counts one kerf for two pieces that come out exactly: 0.997 + 0.003 + 1.000 = 2.000', () => {
    const plan = cutPlan({ ...site, openingsM: [1, 0.997] })
    expect(plan.channels.stocks).toHaveLength(1)
    expect(plan.channels.stocks[0]?.restM).toBeCloseTo(0, 9)
    expect(plan.channels.wasteM).toBeCloseTo(0.003, 9)
  })

  it('lets the saw eat a rest thinner than itself: 0.996 + 0.003 + 1.000 leaves 1 mm', () => {
    const plan = cutPlan({ ...site, openingsM: [1, 0.996] })
    expect(plan.channels.stocks).toHaveLength(1)
    expect(plan.channels.stocks[0]?.restM).toBe(0)
  })

  it('takes whole lengths first and packs the remainders: 3.5 m and 2.4 m from 2 m lengths', () => {
    // whole, whole; 1.5 m and 0.4 m with one kerf fit the third
    const plan = cutPlan({ ...site, openingsM: [3.5, 2.4] })
    expect(plan.channels.stocks).toHaveLength(3)
    expect(plan.openings[0]?.channelPiecesM).toEqual([2, 1.5])
  })

  it('sends a tape longer than a reel back as separate runs, or joins it at a mark when it may', () => {
    const separate = cutPlan({ ...site, openingsM: [6, 3.2] })
    expect(separate.openings[0]).toMatchObject({ fit: 'longer-than-reel', tapePiecesM: [5, 1] })
    const joined = cutPlan({ ...site, openingsM: [6, 3.2], joinTape: true })
    expect(joined.openings[0]).toMatchObject({ fit: 'joined', tapePiecesM: [5, 1] })
    expect(joined.reels.stocks).toHaveLength(2)
  })

  it('keeps the clearance at both ends of an opening', () => {
    const plan = cutPlan({ ...site, openingsM: [1], endClearanceM: 0.01 })
    expect(plan.tapeM).toBeCloseTo(0.9, 9)
    expect(plan.openings[0]?.darkGapM).toBeCloseTo(0.1, 9)
    expect(plan.openings[0]?.channelPiecesM).toEqual([1])
  })

  it('needs no more reels than any other split with as few joints (brute force over all splits, 150 cases)', () => {
    const roll = dice(4)
    for (let round = 0; round < 150; round++) {
      const reel = roll(4, 8)
      const openings = Array.from({ length: roll(1, 4) }, () => roll(1, 2 * reel))
      const plan = cutPlan({
        ...site,
        openingsM: openings.map((units) => units / 10),
        reelLengthM: reel / 10,
        joinTape: true,
      })
      expect(plan.reels.stocks).toHaveLength(fewestOverSplits(openings, reel, []))
    }
  })
})

function fewestOverSplits(openings: number[], reel: number, pieces: number[]): number {
  const [first, ...others] = openings
  if (first === undefined) return fewestByBruteForce(pieces, reel, 0)
  if (first <= reel) return fewestOverSplits(others, reel, [...pieces, first])
  let fewest = Number.POSITIVE_INFINITY
  for (let part = first - reel; part <= reel; part++)
    fewest = Math.min(fewest, fewestOverSplits(others, reel, [...pieces, part, first - part]))
  return fewest
}
