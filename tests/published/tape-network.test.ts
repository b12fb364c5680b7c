import { describe, expect, it } from 'vitest'
import {
  lightOf,
  solveTape,
  type TapeDesign,
  type TapeFeed,
  type TapeSupply,
} from '../../src/calculators/tape-network'
import { randomLayouts } from '../calculators/random-layouts'
import { solveWithCircuitSimulator } from './circuit-simulator'

const design = (change: Partial<TapeDesign>): TapeDesign => ({
  lengthM: 5,
  cutLengthM: 0.1,
  ratedV: 24,
  ratedWPerM: 14.4,
  railOhmPerM: 0.12315,
  knee: 0.7,
  style: 'resistor',
  ...change,
})

function largestDifference(volts: ArrayLike<number>, expected: ArrayLike<number>): number {
  return Array.from(volts).reduce(
    (worst, value, k) => Math.max(worst, Math.abs(value / (expected[k] as number) - 1)),
    0,
  )
}

describe('against the circuit simulator (ngspice)', () => {
  it('60 random layouts, every node within 0.1 %', async () => {
    let worst = 0
    for (const { design: tape, feeds, supply } of randomLayouts(60)) {
      const expected = await solveWithCircuitSimulator(tape, feeds, supply)
      const { unitV } = solveTape(tape, feeds, supply)
      expect(unitV.length).toBe(expected.length)
      const difference = largestDifference(unitV, expected)
      expect(difference, JSON.stringify({ tape, feeds, supply })).toBeLessThan(0.001)
      worst = Math.max(worst, difference)
    }
    console.info(`largest difference from the circuit simulator: ${(100 * worst).toExponential(2)} %`)
  })

  it('a poor joint and a break', async () => {
    const feeds = [
      { atM: 0, ohm: 0.2 },
      { atM: 4, ohm: 0.3 },
    ]
    const joints = [
      { atM: 1, ohm: 0.8 },
      { atM: 2.5, ohm: Number.POSITIVE_INFINITY },
    ]
    const supply = { sourceV: 24, trunkOhm: 0.1, joints }
    const expected = await solveWithCircuitSimulator(design({}), feeds, supply)
    expect(largestDifference(solveTape(design({}), feeds, supply).unitV, expected)).toBeLessThan(0.001)
  })

  it('nothing is left behind a break', async () => {
    const feeds = [{ atM: 0, ohm: 0.2 }]
    const supply = { sourceV: 24, trunkOhm: 0.1, joints: [{ atM: 2.5, ohm: Number.POSITIVE_INFINITY }] }
    const expected = await solveWithCircuitSimulator(design({}), feeds, supply)
    const { unitV } = solveTape(design({}), feeds, supply)
    expect(largestDifference(unitV.slice(0, 25), expected.slice(0, 25))).toBeLessThan(0.001)
    expect(Math.max(...expected.slice(25))).toBeLessThan(1e-6)
    expect(Math.max(...unitV.slice(25))).toBe(0)
  })
})

// The equation of a fin or a leaky cable with an insulated end (heat-transfer and transmission-line textbooks).
function cableEquationV(tape: TapeDesign, xM: number, lengthM: number): number {
  const kneeV = tape.knee * tape.ratedV
  const ampsPerM = tape.ratedWPerM / tape.ratedV
  const lambdaM = Math.sqrt((tape.ratedV - kneeV) / (tape.railOhmPerM * ampsPerM))
  return kneeV + (tape.ratedV - kneeV) * (Math.cosh((lengthM - xM) / lambdaM) / Math.cosh(lengthM / lambdaM))
}

function farEndError(cutLengthM: number, endM: (tape: TapeDesign) => number): number {
  const tape = design({ cutLengthM })
  const { unitV } = solveTape(tape, [{ atM: 0, ohm: 0 }], { sourceV: 24, trunkOhm: 0 })
  const lengthM = endM(tape)
  return Math.abs((unitV.at(-1) as number) - cableEquationV(tape, lengthM, lengthM))
}

describe('against the cable equation', () => {
  const pitches = [0.2, 0.1, 0.05, 0.025, 0.0125]

  it('the error halves with the pitch', () => {
    const errors = pitches.map((pitch) => farEndError(pitch, ({ lengthM }) => lengthM))
    for (let i = 1; i < errors.length; i++) {
      expect((errors[i - 1] as number) / (errors[i] as number)).toBeGreaterThan(1.9)
      expect((errors[i - 1] as number) / (errors[i] as number)).toBeLessThan(2.1)
    }
  })

  it('is closest to a length less half a pitch', () => {
    for (const pitch of pitches) {
      const whole = farEndError(pitch, ({ lengthM }) => lengthM)
      const lessHalf = farEndError(pitch, ({ lengthM, cutLengthM }) => lengthM - cutLengthM / 2)
      expect(lessHalf).toBeLessThan(whole / 10)
    }
  })

  it('holds all along the tape', () => {
    const tape = design({ cutLengthM: 0.01 })
    const { unitV } = solveTape(tape, [{ atM: 0, ohm: 0 }], { sourceV: 24, trunkOhm: 0 })
    unitV.forEach((volts, k) => {
      expect(Math.abs(volts - cableEquationV(tape, k * 0.01, 4.995))).toBeLessThan(1e-4)
    })
  })
})

// Energy is conserved (Tellegen's theorem).
it('the source gives what units, rails and cables take, to 1e-9', () => {
  for (const { design: tape, feeds, supply } of randomLayouts(300)) {
    const solution = solveTape(tape, feeds, supply)
    const givenW = supply.sourceV * solution.sourceA
    const takenW = solution.tapeW + solution.railLossW + solution.feedLossW + solution.trunkLossW
    expect(Math.abs(givenW - takenW)).toBeLessThanOrEqual(1e-9 * givenW)
    expect(solution.residualA).toBeLessThan(1e-9)
  }
})

// Values of the design document, worked there independently.
describe('check values', () => {
  const bare: TapeFeed[] = [{ atM: 0, ohm: 0 }]
  const supply = (sourceV: number): TapeSupply => ({ sourceV, trunkOhm: 0 })

  it('24 V, 5 m', () => {
    const solution = solveTape(design({}), bare, supply(24))
    expect(solution.unitV.at(-1)).toBeCloseTo(23.181, 3)
    expect(lightOf(solution).dimmestPercent).toBeCloseTo(88.62, 2)
    expect(solution.sourceA).toBeCloseTo(2.7738, 4)
  })

  it('12 V, 5 m', () => {
    const solution = solveTape(design({ ratedV: 12, cutLengthM: 0.05 }), bare, supply(12))
    expect(solution.unitV.at(-1)).toBeCloseTo(10.719, 3)
    expect(lightOf(solution).dimmestPercent).toBeCloseTo(64.41, 2)
    expect(solution.sourceA).toBeCloseTo(4.5605, 4)
  })

  it('24 V, 10 m fed at both ends', () => {
    const solution = solveTape(design({ lengthM: 10 }), [...bare, { atM: 10, ohm: 0 }], supply(24))
    expect(lightOf(solution).lowestV).toBeCloseTo(23.181, 3)
    expect(lightOf(solution).dimmestPercent).toBeCloseTo(88.6, 1)
    expect(solution.sourceA).toBeCloseTo(5.548, 3)
  })
})
