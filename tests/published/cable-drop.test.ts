import { bignumber, create, all as everything } from 'mathjs'
import { describe, expect, it } from 'vitest'
import { cableDrop, chooseGauge, type GaugeQuestion } from '../../src/calculators/cable-drop'
import { awgDiameterMm, conductorOhmPerM } from '../../src/calculators/conductor'

const feet = 0.3048
const awg = (value: number) => ({ value, unit: 'AWG' as const })

function dropV(
  gauge: number,
  distanceFt: number,
  currentA: number,
  strands: 'solid' | 'stranded',
  sourceV: number,
) {
  const ohmPerM = conductorOhmPerM({ size: awg(gauge), strands, temperatureC: 75 }) ?? 0
  const load = { kind: 'constant-current' as const, currentA }
  const result = cableDrop({ ohmPerM, distanceM: distanceFt * feet, sourceV, load })
  return 'impossible' in result ? Number.NaN : result.dropV
}

const question = (change: Partial<GaugeQuestion>): GaugeQuestion => ({
  rules: 'nec',
  strands: 'stranded',
  conductorTempC: 75,
  distanceM: 40 * feet,
  voltageV: 24,
  load: { kind: 'constant-current', currentA: 2.5 },
  allowedDropPercent: 3,
  continuous: true,
  ...change,
})

const percentFor = (choice: ReturnType<typeof chooseGauge>, gauge: number) =>
  choice.rows.find(({ size }) => size.value === gauge)?.dropPercent

describe('worked examples', () => {
  // The project’s design document, worked by hand from table 8: 2 · 2.5 A · 80 ft-loop ohms.
  it('40 ft, 24 V, 60 W', () => {
    const choice = chooseGauge(question({}))
    expect(dropV(18, 40, 2.5, 'stranded', 24)).toBeCloseTo(1.59, 3)
    expect(percentFor(choice, 18)).toBeCloseTo(6.625, 3)
    expect(percentFor(choice, 16)).toBeCloseTo(4.158, 3)
    expect(percentFor(choice, 14)).toBeCloseTo(2.617, 3)
    expect(dropV(14, 40, 2.5, 'stranded', 24)).toBeCloseTo(0.628, 3)
    expect(choice.rows[choice.chosen ?? -1]?.size).toEqual(awg(14))
  })

  it('25 ft, 12 V, 48 W', () => {
    const choice = chooseGauge(
      question({ distanceM: 25 * feet, voltageV: 12, load: { kind: 'constant-current', currentA: 4 } }),
    )
    expect(percentFor(choice, 12)).toBeCloseTo(3.3, 3)
    expect(percentFor(choice, 10)).toBeCloseTo(2.067, 3)
    expect(dropV(10, 25, 4, 'stranded', 12)).toBeCloseTo(0.248, 3)
    expect(choice.rows[choice.chosen ?? -1]?.size).toEqual(awg(10))
  })

  // Electricians’ handbook form VD = 2·K·I·L/CM with K 12.9 and table 8’s circular mils, each worked by hand
  // (from memory): 12 AWG 6530 cmil, 16 A, 100 ft; 10 AWG 10380, 24 A, 150 ft; 14 AWG 4110, 12 A, 50 ft;
  // 8 AWG 16510, 32 A, 200 ft; 6 AWG 26240, 40 A, 175 ft; 18 AWG 1620, 3 A, 30 ft; 16 AWG 2580, 5 A, 60 ft.
  it.each([
    [12, 16, 100, 6.322],
    [10, 24, 150, 8.948],
    [14, 12, 50, 3.766],
    [8, 32, 200, 10.001],
    [6, 40, 175, 6.883],
    [18, 3, 30, 1.433],
    [16, 5, 60, 3.0],
  ])('AWG %i, %f A, %f ft: %f V by the circular-mil formula', (gauge, currentA, distanceFt, expectedV) => {
    expect(Math.abs(dropV(gauge, distanceFt, currentA, 'stranded', 240) / expectedV - 1)).toBeLessThan(0.005)
  })

  // Table 8 worked directly, VD = 2·L·R·I/1000 (NEC handbooks, from memory): 2 · 100 · 1.98 · 16 / 1000 = 6.336 V.
  it('16 A over 100 ft of 12 AWG stranded by table 8', () => {
    expect(dropV(12, 100, 16, 'stranded', 120)).toBeCloseTo(6.336, 6)
  })

  // IEC 60364-5-52 annex G method, cos φ 1, ρ at working temperature replaced by IEC 60228 at 70 °C: 10 m of
  // 1.5 mm² at 5 A: 2 · 10 · 5 · 0.0121 · 1.1965 = 1.448 V.
  it('5 A over 10 m of 1.5 mm²', () => {
    const size = { value: 1.5, unit: 'mm2' as const }
    const ohmPerM = conductorOhmPerM({ size, strands: 'solid', temperatureC: 70 }) ?? 0
    const load = { kind: 'constant-current' as const, currentA: 5 }
    expect(cableDrop({ ohmPerM, distanceM: 10, sourceV: 24, load })).toMatchObject({
      dropV: expect.closeTo(1.448, 3),
    })
  })
})

describe('the circular-mil formula 2·K·I·L/CM, K 12.9 Ω·cmil/ft', () => {
  // CM is the square of the diameter in mils (ASTM B258).
  it.each([18, 16, 14, 12, 10, 8])('AWG %i within 0.5 %% stranded and 3 %% solid', (gauge) => {
    const circularMils = (awgDiameterMm(gauge) / 0.0254) ** 2
    const byFormulaV = (2 * 12.9 * 3 * 40) / circularMils
    expect(Math.abs(dropV(gauge, 40, 3, 'stranded', 240) / byFormulaV - 1)).toBeLessThan(0.005)
    expect(Math.abs(dropV(gauge, 40, 3, 'solid', 240) / byFormulaV - 1)).toBeLessThan(0.03)
  })
})

describe('constant power against mathjs', () => {
  const math = create({ ...everything }, { number: 'BigNumber', precision: 40 })
  // Larger root of V_load² − V·V_load + P·R = 0, with 40 digits.
  it.each([
    [24, 60, 0.4],
    [12, 48, 0.7],
    [5, 2, 3],
    [48, 500, 1.1],
    [24, 0.1, 0.001],
    [3, 0.5, 4.4],
  ])('%f V, %f W, loop %f ohm', (sourceV, powerW, loopOhm) => {
    const result = cableDrop({
      ohmPerM: loopOhm / 2,
      distanceM: 1,
      sourceV,
      load: { kind: 'constant-power', powerW },
    })
    if ('impossible' in result) throw new Error(result.impossible)
    const roots = math.polynomialRoot(
      math.multiply(bignumber(powerW), bignumber(loopOhm)) as never,
      bignumber(-sourceV) as never,
      bignumber(1) as never,
    )
    const larger = Math.max(...roots.map(Number))
    expect(result.farEndV).toBeCloseTo(larger, 9)
    expect(result.farEndV * result.currentA).toBeCloseTo(powerW, 9)
    expect(result.dropV).toBeCloseTo(sourceV - larger, 9)
  })

  it('has no root past the greatest power a cable can bring, V²/4R', () => {
    const at = (powerW: number) =>
      cableDrop({ ohmPerM: 0.5, distanceM: 1, sourceV: 24, load: { kind: 'constant-power', powerW } })
    expect(at(143.9)).toHaveProperty('currentA')
    expect(at(144.1)).toEqual({ impossible: 'power-beyond-cable' })
  })
})
