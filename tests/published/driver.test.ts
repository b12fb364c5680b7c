import { describe, expect, it } from 'vitest'
import {
  type DriverQuestion,
  type DriverSize,
  outputLeftPercent,
  sizeDriver,
} from '../../src/calculators/driver'
import { classTwo, classTwoLimitA, classTwoNameplateW } from '../../src/tables/class-two'
import { driverSizes } from '../../src/tables/driver-sizes'

const feet = 0.3048

const sized = (change: Partial<DriverQuestion>): DriverSize => {
  const size = sizeDriver({
    voltageV: 24,
    load: { kind: 'runs', runsM: [32 * feet], ratedWPerM: 4.4 / feet, cutLengthM: 0.1 },
    loadLimitPercent: 80,
    ambientC: 25,
    efficiencyPercent: 88,
    powerFactor: 0.9,
    supplyV: 120,
    classTwoNameplateW: 96,
    ...change,
  })
  if ('tooHotAboveC' in size) throw new Error('too hot')
  return size
}

const watts = (loadW: number) => ({ load: { kind: 'watts' as const, loadW } })
const runs = (runsM: number[]) => ({
  load: { kind: 'runs' as const, runsM, ratedWPerM: 14.4, cutLengthM: 0.1 },
})

// Values of the design document, worked there independently.
it('32 ft of 4.4 W/ft at 24 V', () => {
  const size = sized({})
  expect(size.loadW).toBeCloseTo(140.8, 9)
  expect(size.neededW).toBeCloseTo(176, 9)
  expect(size.ratingW).toBe(180)
  expect(size.loadPercentOfRating).toBeCloseTo(78.2, 1)
  expect(size.inputW).toBeCloseTo(160, 9)
  expect(size.inputA).toBeCloseTo(1.48, 2)
  expect(size.heatW).toBeCloseTo(19.2, 9)
  expect(size.outputA).toBeCloseTo(140.8 / 24, 9)
  expect(size.classTwo.outputs).toBe(2)
  expect(size.classTwo.usableW).toBeCloseTo(76.8, 9)
  expect(size.classTwo.lengthPerOutputM).toBeCloseTo(5.3, 9)
})

// NEC 2023 chapter 9 table 11(B): 5 A to 20 V, 100 VA to 60 V (from memory).
describe('Class 2', () => {
  it.each([
    [12, 5],
    [20, 5],
    [24, 4.1667],
    [28, 3.5714],
    [48, 2.0833],
  ])('%f V: %f A', (volts, amperes) => {
    expect(classTwoLimitA(volts)).toBeCloseTo(amperes, 4)
  })

  it('is not meant above 60 V', () => {
    expect(classTwoLimitA(60.1)).toBeUndefined()
  })

  it('no nameplate that is sold gives more than the table allows', () => {
    for (let volts = 3; volts <= 60; volts += 0.5) {
      expect(classTwoNameplateW(volts)).toBeLessThanOrEqual((classTwoLimitA(volts) as number) * volts + 1e-9)
    }
    // 5 A times the voltage below 12 V.
    expect(classTwoNameplateW(5)).toBe(25)
    expect(classTwoNameplateW(12)).toBe(60)
    expect(classTwoNameplateW(24)).toBe(96)
  })

  it('wet contact: 30 V, 12.4 V peak if pulsed; 24.8 V pulsed dry', () => {
    expect(classTwo.wetContact).toMatchObject({ continuousV: 30, pulsedPeakV: 12.4 })
    expect(classTwo.dryPulsedPeakV).toBe(24.8)
  })
})

describe('rating', () => {
  it('is the next size up, and a size that is just enough will do', () => {
    expect(sized(watts(96 * 0.8)).ratingW).toBe(96)
    expect(sized(watts(96 * 0.8 + 0.01)).ratingW).toBe(100)
    expect(sized(watts(1)).ratingW).toBe(driverSizes.ratingsW[0])
  })

  it('above the largest size it takes several drivers', () => {
    expect(sized(watts(480))).toMatchObject({ ratingW: 600, drivers: 1 })
    expect(sized(watts(481))).toMatchObject({ ratingW: undefined, drivers: 2 })
    expect(sized(watts(2000))).toMatchObject({ ratingW: undefined, drivers: 5 })
  })
})

describe('derating, a straight line between the two points of the label', () => {
  const line = { fullOutputToC: 40, derateAtC: 60, derateToPercent: 50 }

  it.each([
    [-40, 100],
    [40, 100],
    [50, 75],
    [60, 50],
  ])('%f °C: %f %%', (ambientC, percent) => {
    expect(outputLeftPercent(line, ambientC)).toBeCloseTo(percent, 9)
  })

  it('asks for a larger driver, and says how hard that works', () => {
    const size = sized({ ...watts(100), derating: line, ambientC: 50 })
    expect(size.neededW).toBeCloseTo(100 / 0.8 / 0.75, 9)
    expect(size.ratingW).toBe(180)
    expect(size.loadPercentOfDerated).toBeCloseTo((100 * 100) / (180 * 0.75), 9)
    expect(size.classTwo.usableW).toBeCloseTo(96 * 0.8 * 0.75, 9)
  })

  it('is never carried past the line’s end', () => {
    const question: DriverQuestion = {
      voltageV: 24,
      ...watts(10),
      loadLimitPercent: 80,
      ambientC: 60.5,
      derating: line,
      efficiencyPercent: 88,
      powerFactor: 0.9,
      supplyV: 120,
      classTwoNameplateW: 96,
    }
    expect(sizeDriver(question)).toEqual({ tooHotAboveC: 60 })
  })
})

describe('runs on Class 2 outputs of 53 units (76.8 W at 1.44 W a unit)', () => {
  // Worked by hand.
  it.each([
    ['two that share one', [2.6, 2.7], 1],
    ['two that do not', [2.7, 2.7], 2],
    ['three of 3 m stay whole', [3, 3, 3], 3],
    ['pairs that fill outputs exactly', [3, 3, 2.3, 2.3], 2],
    ['one that must be divided leaves room for another', [6, 4.5], 2],
    ['one that must be divided twice', [12], 3],
    ['none at all', [0.05], 0],
  ])('%s', (_, runsM, outputs) => {
    const { classTwo: share } = sized(runs(runsM))
    expect(share.outputs).toBe(outputs)
    expect(share.proven).toBe(true)
    for (const output of share.pieces ?? []) {
      expect(output.reduce((sum, { units }) => sum + units, 0)).toBeLessThanOrEqual(53)
    }
  })

  it('a bare load is only divided', () => {
    expect(sized(watts(76.8)).classTwo.outputs).toBe(1)
    expect(sized(watts(77)).classTwo.outputs).toBe(2)
  })

  it('one unit that is too much for an output', () => {
    const load = { kind: 'runs' as const, runsM: [5], ratedWPerM: 40, cutLengthM: 0.5 }
    expect(sized({ load, classTwoNameplateW: 15 }).classTwo).toMatchObject({
      outputs: undefined,
      unitsPerOutput: 0,
    })
  })
})
