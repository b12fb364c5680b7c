import type { TapeDesign, TapeFeed, TapeSupply } from '../../src/calculators/tape-network'

/** A tape and how it is fed. */
export type Layout = { design: TapeDesign; feeds: TapeFeed[]; supply: TapeSupply }

/** Numbers from 0 to 1, the same ones each time (a linear congruential generator, Numerical Recipes). */
export function seededNumbers(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32
  }
}

/** Random layouts, the same ones each time: both styles, 1–4 feeds, with or without trunk, 3–600 units. */
export function randomLayouts(count: number, seed = 20231): Layout[] {
  const next = seededNumbers(seed)
  const between = (low: number, high: number): number => low + (high - low) * next()
  const spread = (low: number, high: number): number => low * (high / low) ** next()
  return Array.from({ length: count }, (_, i) => {
    const cutLengthM = spread(0.02, 0.17)
    const units = Math.round(spread(3, 600))
    const lengthM = units * cutLengthM
    const ratedV = [5, 12, 24, 36, 48][Math.floor(5 * next())] as number
    const design: TapeDesign = {
      lengthM,
      cutLengthM,
      ratedV,
      ratedWPerM: spread(2, 25),
      railOhmPerM: spread(0.02, 0.5),
      knee: between(0.5, 0.85),
      style: i % 2 === 0 ? 'resistor' : 'regulated',
    }
    const feeds = Array.from({ length: 1 + (i % 4) }, () => ({
      atM: between(0, lengthM),
      ohm: next() < 0.25 ? 0 : spread(0.005, 2),
    }))
    const supply = { sourceV: ratedV * between(0.9, 1.1), trunkOhm: next() < 0.5 ? 0 : spread(0.01, 1) }
    return { design, feeds, supply }
  })
}
