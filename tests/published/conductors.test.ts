import { describe, expect, it } from 'vitest'
import {
  awgDiameterMm,
  capacityA,
  conductorOhmPerM,
  ohmPerMByDiameter,
  sizesFor,
} from '../../src/calculators/conductor'
import { conductors } from '../../src/tables/conductors'

const awg = (value: number) => ({ value, unit: 'AWG' as const })
const mm2 = (value: number) => ({ value, unit: 'mm2' as const })

describe('AWG diameters against ASTM B258, table 1 (mils, from memory)', () => {
  it.each([
    [36, 5.0],
    [30, 10.0],
    [24, 20.1],
    [22, 25.3],
    [20, 32.0],
    [18, 40.3],
    [16, 50.8],
    [14, 64.1],
    [12, 80.8],
    [10, 101.9],
    [8, 128.5],
    [6, 162.0],
    [1, 289.3],
    [-3, 460.0],
  ])('AWG %i is %f mils', (gauge, mils) => {
    expect(Math.abs(awgDiameterMm(gauge) / 0.0254 - mils)).toBeLessThanOrEqual(0.051)
  })
})

describe('AWG resistance at 75 °C against NEC 2023 chapter 9 table 8, ohm per 1000 ft (from memory)', () => {
  it.each([
    [18, 7.77, 7.95],
    [16, 4.89, 4.99],
    [14, 3.07, 3.14],
    [12, 1.93, 1.98],
    [10, 1.21, 1.24],
    [8, 0.764, 0.778],
    [6, 0.491, 0.491],
  ])('AWG %i', (gauge, solid, stranded) => {
    const per1000Ft = (strands: 'solid' | 'stranded') =>
      (conductorOhmPerM({ size: awg(gauge), strands, temperatureC: 75 }) ?? 0) * 304.8
    expect(per1000Ft('solid')).toBeCloseTo(solid, 9)
    expect(per1000Ft('stranded')).toBeCloseTo(stranded, 9)
  })

  // The same table gives ohm/km beside ohm per 1000 ft, rounded by its authors (from memory).
  it.each([
    [18, 25.5, 26.1],
    [16, 16.0, 16.4],
    [14, 10.1, 10.3],
    [12, 6.34, 6.5],
    [10, 3.984, 4.07],
    [8, 2.506, 2.551],
  ])('AWG %i in ohm/km', (gauge, solid, stranded) => {
    for (const [strands, expected] of [['solid', solid] as const, ['stranded', stranded] as const]) {
      const perKm = (conductorOhmPerM({ size: awg(gauge), strands, temperatureC: 75 }) ?? 0) * 1000
      expect(Math.abs(perKm / expected - 1)).toBeLessThan(0.005)
    }
  })

  it('the method used for AWG 20 and 22 gives the table’s own solid and stranded rows within 1 %', () => {
    for (const { gauge, ohmPer1000Ft } of conductors.awg) {
      if (!ohmPer1000Ft || gauge === 6) continue
      for (const strands of ['solid', 'stranded'] as const) {
        const ratio = (ohmPerMByDiameter(gauge, strands, 75) * 304.8) / ohmPer1000Ft[strands]
        expect(Math.abs(ratio - 1), `AWG ${gauge} ${strands}`).toBeLessThan(0.01)
      }
    }
  })

  // Handbook values of solid annealed copper at 20 °C: 22 AWG 16.14, 20 AWG 10.15 ohm per 1000 ft
  // (NBS Handbook 100, Copper Wire Tables, from memory).
  it.each([
    [22, 16.14],
    [20, 10.15],
  ])('AWG %i at 20 °C against the copper wire tables', (gauge, per1000Ft) => {
    const ours = (conductorOhmPerM({ size: awg(gauge), strands: 'solid', temperatureC: 20 }) ?? 0) * 304.8
    expect(Math.abs(ours / per1000Ft - 1)).toBeLessThan(0.002)
  })

  // Note 2 of the table: R2 = R1·(1 + 0.00323·(T2 − 75)).
  it('carries the table to 20 °C by its note', () => {
    const at = (temperatureC: number) =>
      conductorOhmPerM({ size: awg(14), strands: 'stranded', temperatureC }) ?? 0
    expect(at(20) / at(75)).toBeCloseTo(1 - 0.00323 * 55, 12)
  })

  it('6 AWG solid is not in the table and takes the stranded row', () => {
    expect(conductorOhmPerM({ size: awg(6), strands: 'solid', temperatureC: 75 })).toBe(
      conductorOhmPerM({ size: awg(6), strands: 'stranded', temperatureC: 75 }),
    )
  })
})

describe('mm² against IEC 60228:2023 at 20 °C, ohm/km (from memory)', () => {
  it.each([
    [0.5, 36.0, 39.0],
    [0.75, 24.5, 26.0],
    [1, 18.1, 19.5],
    [1.5, 12.1, 13.3],
    [2.5, 7.41, 7.98],
    [4, 4.61, 4.95],
    [6, 3.08, 3.3],
    [10, 1.83, 1.91],
    [16, 1.15, 1.21],
  ])('%f mm²', (area, classOneOrTwo, classFive) => {
    const perKm = (strands: 'solid' | 'stranded' | 'flexible') =>
      (conductorOhmPerM({ size: mm2(area), strands, temperatureC: 20 }) ?? 0) * 1000
    expect(perKm('solid')).toBeCloseTo(classOneOrTwo, 9)
    expect(perKm('stranded')).toBeCloseTo(classOneOrTwo, 9)
    expect(perKm('flexible')).toBeCloseTo(classFive, 9)
    // No real conductor of its nominal area beats pure copper of that area by more than the standard's slack.
    expect(perKm('solid')).toBeGreaterThan((1000 / 58 / area) * 0.95)
  })

  // IEC 60228 annex A: the factor from 70 °C to 20 °C is 0.836.
  it('at 70 °C', () => {
    const at = (temperatureC: number) =>
      conductorOhmPerM({ size: mm2(1.5), strands: 'solid', temperatureC }) ?? 0
    expect(at(20) / at(70)).toBeCloseTo(0.836, 3)
  })
})

describe('capacity', () => {
  // NEC 2023 240.4(D): 18, 16, 14, 12, 10; table 310.16, 60 °C: 8, 6 (from memory); 22 and 20: common practice.
  it.each([
    [22, 3, true],
    [20, 5, true],
    [18, 7, true],
    [16, 10, true],
    [14, 15, false],
    [12, 20, false],
    [10, 30, false],
    [8, 40, false],
    [6, 55, false],
  ])('AWG %i: %f A', (gauge, overcurrentA, limitedSupplyOnly) => {
    expect(capacityA(awg(gauge))).toMatchObject({ overcurrentA, limitedSupplyOnly, flexibleOnly: false })
    // NEC 210.20(A): 80 % for continuous load.
    expect(capacityA(awg(gauge))?.continuousA).toBeCloseTo(0.8 * overcurrentA, 12)
  })

  // IEC 60364-5-52 table B.52.2, method A1; flexible cords of BS 7671 (from memory).
  it.each([
    [0.5, 3, true],
    [0.75, 6, true],
    [1, 10, true],
    [1.5, 14.5, false],
    [2.5, 19.5, false],
    [4, 26, false],
    [6, 34, false],
    [10, 46, false],
    [16, 61, false],
  ])('%f mm²: %f A', (area, amperes, flexibleOnly) => {
    expect(capacityA(mm2(area))).toMatchObject({ overcurrentA: amperes, continuousA: amperes, flexibleOnly })
  })

  it('lists the sizes from thinnest to thickest', () => {
    expect(sizesFor('nec').map(({ value }) => value)).toEqual([22, 20, 18, 16, 14, 12, 10, 8, 6])
    expect(sizesFor('iec').map(({ value }) => value)).toEqual([0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16])
    for (const rules of ['nec', 'iec'] as const) {
      const ohms = sizesFor(rules).map((size) =>
        conductorOhmPerM({ size, strands: 'stranded', temperatureC: 60 }),
      )
      expect(ohms).toEqual([...ohms].sort((a, b) => (b ?? 0) - (a ?? 0)))
    }
  })

  it('knows no other sizes', () => {
    expect(capacityA(awg(17))).toBeUndefined()
    expect(capacityA(mm2(3))).toBeUndefined()
    expect(conductorOhmPerM({ size: awg(4), strands: 'solid', temperatureC: 75 })).toBeUndefined()
    expect(conductorOhmPerM({ size: mm2(25), strands: 'solid', temperatureC: 75 })).toBeUndefined()
  })
})
