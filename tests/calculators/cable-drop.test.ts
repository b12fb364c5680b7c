import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  type CableLoad,
  cableDrop,
  chooseGauge,
  type GaugeQuestion,
  type GaugeRow,
  reachAtGaugeM,
  thinnestThatFits,
} from '../../src/calculators/cable-drop'

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })

const questions: fc.Arbitrary<GaugeQuestion> = fc.record(
  {
    rules: fc.constantFrom('nec' as const, 'iec' as const),
    strands: fc.constantFrom('stranded' as const, 'solid' as const, 'flexible' as const),
    conductorTempC: number(-20, 90),
    distanceM: number(0.01, 200),
    voltageV: number(3, 60),
    load: fc.oneof(
      number(0.01, 60).map((currentA): CableLoad => ({ kind: 'constant-current', currentA })),
      number(0.1, 2000).map((powerW): CableLoad => ({ kind: 'constant-power', powerW })),
    ),
    powerFactor: number(0.3, 1),
    allowedDropPercent: number(0.5, 20),
    continuous: fc.boolean(),
    supplyLimitA: number(0.1, 80),
    classTwoSupply: fc.boolean(),
  },
  {
    requiredKeys: [
      'rules',
      'strands',
      'conductorTempC',
      'distanceM',
      'voltageV',
      'load',
      'allowedDropPercent',
      'continuous',
    ],
  },
)

const runs = { numRuns: 1000 }

const base: GaugeQuestion = {
  rules: 'nec',
  strands: 'stranded',
  conductorTempC: 75,
  distanceM: 3,
  voltageV: 24,
  load: { kind: 'constant-current', currentA: 2.5 },
  allowedDropPercent: 3,
  continuous: true,
}
const chosenSize = (question: GaugeQuestion) => {
  const { rows, chosen } = chooseGauge(question)
  return chosen === undefined ? undefined : rows[chosen]?.size.value
}

describe('any cable', () => {
  it('never drops more for being thicker, nor less for being longer', () => {
    fc.assert(
      fc.property(questions, number(1, 3), (question, times) => {
        const { rows } = chooseGauge(question)
        for (let i = 1; i < rows.length; i++) {
          expect(rows[i]?.dropPercent).toBeLessThanOrEqual(rows[i - 1]?.dropPercent ?? 0)
        }
        const longer = chooseGauge({ ...question, distanceM: question.distanceM * times })
        expect(longer.chosen ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(
          chooseGauge(question).chosen ?? Number.POSITIVE_INFINITY,
        )
      }),
      runs,
    )
  })

  it('the choice is the thinnest that fits, and nothing thinner does', () => {
    fc.assert(
      fc.property(questions, (question) => {
        const { rows, chosen, withFuse } = chooseGauge(question)
        rows.forEach((row, i) => {
          expect(row.fits).toBe(row.reasons.length === 0)
          if (chosen !== undefined && i < chosen) expect(row.fits).toBe(false)
        })
        expect(thinnestThatFits(question)?.size).toEqual(rows[chosen ?? -1]?.size)
        if (withFuse !== undefined) expect(rows[withFuse]?.reasons).toEqual(['supply-limit'])
      }),
      runs,
    )
  })

  it('source power is load power and loss', () => {
    fc.assert(
      fc.property(questions, (question) => {
        for (const { drop } of chooseGauge(question).rows) {
          if ('impossible' in drop) continue
          const givenW = question.voltageV * drop.currentA
          expect(Math.abs(givenW - drop.farEndV * drop.currentA - drop.lossW)).toBeLessThanOrEqual(
            1e-9 * givenW,
          )
        }
      }),
      runs,
    )
  })

  it('at its reach a size drops just what is allowed, or carries just what it may', () => {
    fc.assert(
      fc.property(questions, (question) => {
        for (const row of chooseGauge(question).rows) {
          const reachM = reachAtGaugeM(question, row)
          if (reachM === 0) continue
          const { voltageV: sourceV, load, powerFactor = 1 } = question
          const drop = cableDrop({ ohmPerM: row.ohmPerM, distanceM: reachM, sourceV, load, powerFactor })
          if ('impossible' in drop) throw new Error(drop.impossible)
          const ofAllowed = (100 * drop.dropV) / sourceV / question.allowedDropPercent
          const ofCapacity = drop.currentA / row.loadCapacityA
          expect(Math.abs(Math.max(ofAllowed, ofCapacity) - 1)).toBeLessThan(1e-9)
        }
      }),
      runs,
    )
  })
})

describe('what else decides a size', () => {
  it('a short way is decided by capacity: 80 % for a continuous load', () => {
    const load: CableLoad = { kind: 'constant-current', currentA: 6 }
    const near = { ...base, distanceM: 0.1, load }
    expect(chosenSize(near)).toBe(16)
    expect(chosenSize({ ...near, continuous: false })).toBe(18)
  })

  it('a supply that can push more than a size carries wants a fuse or a thicker size', () => {
    const asked = { ...base, distanceM: 1, supplyLimitA: 14 }
    const { rows, withFuse } = chooseGauge(asked)
    expect(chosenSize(asked)).toBe(14)
    expect(rows[withFuse ?? -1]).toMatchObject({ size: { value: 20 }, fuseA: 5 })
  })

  it('a Class 2 supply wants neither', () => {
    // 100 VA at 24 V is 4.17 A.
    expect(chosenSize({ ...base, distanceM: 1, supplyLimitA: 4 })).toBe(20)
    expect(chosenSize({ ...base, distanceM: 1, supplyLimitA: 8, classTwoSupply: true })).toBe(20)
    expect(chosenSize({ ...base, distanceM: 1, supplyLimitA: 8, classTwoSupply: false })).toBe(16)
  })

  it('the thin mm² sizes are for flexible cable only', () => {
    const asked: GaugeQuestion = { ...base, rules: 'iec', distanceM: 0.5, strands: 'flexible' }
    expect(chosenSize(asked)).toBe(0.5)
    expect(chosenSize({ ...asked, strands: 'solid' })).toBe(1.5)
  })

  it('a constant power ends at the capacity where that comes before the drop', () => {
    // By hand: 188 W takes the 8 A of 16 AWG (80 % of 10 A) at 23.5 V; 0.5 V at 8 A is 0.0625 ohm, and table 8 has
    // 4.99 ohm per 1000 ft, so 0.0625 / (2 × 4.99) × 1000 ft = 6.2625 ft = 1.9088 m. 193 W is over 8 A at once.
    const asked: GaugeQuestion = {
      ...base,
      distanceM: 1,
      load: { kind: 'constant-power', powerW: 188 },
      allowedDropPercent: 20,
    }
    const reachOf16 = (question: GaugeQuestion) => {
      const row = chooseGauge(question).rows.find(({ size }) => size.value === 16)
      return reachAtGaugeM(question, row as GaugeRow)
    }
    expect(chosenSize(asked)).toBe(16)
    expect(reachOf16(asked)).toBeCloseTo(1.9088, 4)
    expect(reachOf16({ ...asked, load: { kind: 'constant-power', powerW: 193 } })).toBe(0)
  })

  it('says when the load alone is above Class 2', () => {
    const above = (currentA: number) =>
      chooseGauge({ ...base, load: { kind: 'constant-current', currentA } }).aboveClassTwo
    expect(above(4.16)).toBe(false)
    expect(above(4.18)).toBe(true)
  })

  it('nothing fits', () => {
    const asked: GaugeQuestion = { ...base, distanceM: 200, load: { kind: 'constant-power', powerW: 2000 } }
    const { rows, chosen } = chooseGauge(asked)
    expect(chosen).toBeUndefined()
    expect(thinnestThatFits(asked)).toBeUndefined()
    expect(rows[0]).toMatchObject({
      drop: { impossible: 'power-beyond-cable' },
      dropPercent: Number.POSITIVE_INFINITY,
    })
    expect(reachAtGaugeM(asked, rows[0] as GaugeRow)).toBe(0)
  })

  it('no way at all drops nothing', () => {
    expect(chooseGauge({ ...base, distanceM: 0 }).rows[0]?.drop).toMatchObject({
      dropV: 0,
      farEndV: 24,
      lossW: 0,
    })
  })
})
