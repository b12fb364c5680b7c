import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addedResistanceAs } from '../../src/calculators/added-resistance'
import { meterCheck, readingDeviation, voltagesAlong } from '../../src/calculators/meter-check'
import { solveTape } from '../../src/calculators/tape-network'

const accuracy = { meterPercent: 0.5, meterVolts: 0.02, clampPercent: 2, clampAmps: 0.1 }
const tape = {
  lengthM: 5,
  cutLengthM: 0.1,
  ratedV: 24,
  ratedWPerM: 14.4,
  railOhmPerM: 0.1328,
  knee: 0.7,
  style: 'resistor' as const,
}
const site = { tape, feedOhm: 0, accuracy }

describe('a meter check', () => {
  it.each([
    ['no-output', { driverOpen: 0 }],
    ['reversed', { tapeStart: -24 }],
    ['open-circuit', { driverLoaded: 24, tapeStart: 0 }],
    ['source-low', { driverOpen: 24, driverLoaded: 19 }],
    ['feed-resistance', { driverLoaded: 24, tapeStart: 21, tapeEnd: 20.5, current: 1.7 }],
    ['as-designed', { driverOpen: 24 }],
  ] as const)('finds %s', (id, readings) => {
    const check = meterCheck({ ...site, readings })
    expect(check.findings[0].id).toBe(id)
    expect(check.unexplained).toBe(false)
  })

  it('asks for the current where one low end voltage has many explanations', () => {
    const check = meterCheck({ ...site, readings: { tapeEnd: 20.8 } })
    expect(check.findings[0].toldApart).toBe(false)
    expect(check.wouldTell.map(({ reading }) => reading)).toContain('current')
    expect(check.wouldTell.map(({ reading }) => reading)).not.toContain('tapeEnd')
  })

  it('says how little it knows of the place of a break without the current, and how much with it', () => {
    const without = meterCheck({ ...site, readings: { tapeStart: 24, tapeEnd: 0 } }).findings[0]
    expect(without.id).toBe('open-circuit')
    expect(without.at).toMatchObject({ low: expect.closeTo(0.1, 6), high: expect.closeTo(4.9, 6) })
    expect(without.at?.value).toBeCloseTo(2.5, 6)
    // 2 m of 14.4 W/m at 24 V is 1.2 A.
    const withCurrent = meterCheck({ ...site, readings: { tapeStart: 24, tapeEnd: 0, current: 1.2 } })
      .findings[0]
    expect(withCurrent.at?.low).toBeGreaterThan(1.4)
    expect(withCurrent.at?.high).toBeLessThan(2.8)
  })

  it('tells a driver pulled down by its load from one that is low by itself', () => {
    const pulled = meterCheck({ ...site, readings: { driverOpen: 24, driverLoaded: 19 } }).findings[0]
    expect(pulled).toMatchObject({ id: 'source-low', sags: true })
    expect(pulled.size?.value).toBeCloseTo(19, 1)
    const low = meterCheck({ ...site, readings: { driverOpen: 19, driverLoaded: 19 } }).findings[0]
    expect(low).toMatchObject({ id: 'source-low', sags: false })
  })

  it('says so when nothing explains the readings', () => {
    expect(meterCheck({ ...site, readings: { tapeStart: 12, tapeEnd: 24 } }).unexplained).toBe(true)
  })

  it('never fails, whatever is read on whatever tape', () => {
    const volts = fc.option(fc.double({ min: -36, max: 36, noNaN: true }), { nil: undefined })
    const readings = fc.record({
      driverOpen: volts,
      driverLoaded: volts,
      tapeStart: volts,
      tapeEnd: volts,
      current: volts,
    })
    fc.assert(
      fc.property(
        readings,
        fc.constantFrom(0.1, 0.2, 1.3),
        fc.constantFrom(0.7, 0.85),
        fc.constantFrom('resistor', 'regulated'),
        (read, lengthM, knee, style) => {
          const taken = Object.fromEntries(Object.entries(read).filter(([, value]) => value !== undefined))
          const { findings } = meterCheck({
            ...site,
            tape: { ...tape, lengthM, knee, style },
            readings: taken,
          })
          for (const { misfit, score, size } of findings) {
            expect(Number.isFinite(misfit) && score >= misfit).toBe(true)
            if (size) expect(size.low <= size.value && size.value <= size.high).toBe(true)
          }
        },
      ),
      { numRuns: 150 },
    )
  })
})

describe('a long tape in lumps', () => {
  const random = fc.record({
    units: fc.integer({ min: 101, max: 5000 }),
    ratedV: fc.constantFrom(5, 12, 24, 48),
    dropParts: fc.double({ min: 0.01, max: 3, noNaN: true }),
    knee: fc.double({ min: 0.5, max: 0.85, noNaN: true }),
    style: fc.constantFrom('resistor' as const, 'regulated' as const),
    feedOhm: fc.constantFrom(0, 0.2, 2),
  })

  // Against every cut unit solved by itself, which the circuit simulator judges; a meter is off by five times as much.
  it('reads as the tape itself does, to a thousandth of its voltage and of its current', () => {
    fc.assert(
      fc.property(random, ({ units, ratedV, dropParts, knee, style, feedOhm }) => {
        const cutLengthM = 0.02
        const ratedWPerM = 10
        const lengthM = units * cutLengthM
        const railOhmPerM = (dropParts * ratedV ** 2) / (ratedWPerM * lengthM ** 2)
        const design = { lengthM, cutLengthM, ratedV, ratedWPerM, railOhmPerM, knee, style }
        const { expected } = meterCheck({ tape: design, feedOhm, readings: { driverOpen: 0 }, accuracy })
        const supply = { sourceV: ratedV, trunkOhm: 0 }
        const exact = solveTape(design, [{ atM: 0, ohm: feedOhm }], supply)
        expect(Math.abs(expected.tapeStart - (exact.unitV[0] ?? 0))).toBeLessThan(1e-3 * ratedV)
        expect(Math.abs(expected.tapeEnd - (exact.unitV.at(-1) ?? 0))).toBeLessThan(1e-3 * ratedV)
        expect(Math.abs(expected.current / exact.sourceA - 1)).toBeLessThan(1e-3)
      }),
      { numRuns: 150 },
    )
  })

  it('finds a joint and a break in it, as far apart as its lumps', () => {
    const long = { ...tape, lengthM: 20, cutLengthM: 0.005, ratedWPerM: 3.6, railOhmPerM: 0.0332 }
    const design = { ...long, joints: [{ atM: 8, ohm: 3 }] }
    const supply = { sourceV: 24, trunkOhm: 0, joints: design.joints }
    const { unitV, sourceA } = solveTape(long, [{ atM: 0, ohm: 0 }], supply)
    const fine = { meterPercent: 0.01, meterVolts: 0.001, clampPercent: 0.1, clampAmps: 0.001 }
    const readings = {
      driverOpen: 24,
      driverLoaded: 24,
      tapeStart: unitV[0] as number,
      tapeEnd: unitV.at(-1) as number,
      current: sourceA,
    }
    const joint = meterCheck({ tape: long, feedOhm: 0, readings, accuracy: fine }).findings.find(
      ({ id }) => id === 'poor-joint',
    )
    const lostV = (unitV[1599] as number) - (unitV[1600] as number)
    expect(joint?.misfit).toBeLessThan(1)
    expect(joint?.lostV?.low).toBeLessThanOrEqual(lostV)
    expect(joint?.lostV?.high).toBeGreaterThanOrEqual(lostV)
    expect(joint?.at?.low).toBeLessThanOrEqual(8)
    expect(joint?.at?.high).toBeGreaterThanOrEqual(8)
  })

  it('has the voltage fall along the tape from its start to its end', () => {
    const check = meterCheck({ ...site, readings: { tapeStart: 24, tapeEnd: 0, current: 1.2 } })
    const along = voltagesAlong(check.findings[0].circuit)
    expect(along[0]).toEqual({ atM: 0, voltageV: check.findings[0].predicted.tapeStart })
    expect(along.at(-1)).toEqual({ atM: 5, voltageV: 0 })
    for (let i = 1; i < along.length; i++) {
      expect(along[i]?.voltageV).toBeLessThanOrEqual((along[i - 1]?.voltageV as number) + 1e-9)
    }
  })
})

it('adds both parts of a meter’s accuracy: 0.5 % of 24 V and 0.02 V; 2 % of 3 A and 0.1 A', () => {
  expect(readingDeviation('tapeEnd', -24, accuracy)).toBeCloseTo(0.14, 12)
  expect(readingDeviation('current', 3, accuracy)).toBeCloseTo(0.16, 12)
})

describe('added resistance in other words', () => {
  const cable = {
    size: { value: 14, unit: 'AWG' },
    strands: 'stranded',
    temperatureC: 75,
    rules: 'nec',
  } as const

  it('is so many feet more of the same cable: 2 × 3.14 ohm per 1000 ft (NEC chapter 9 table 8)', () => {
    expect(addedResistanceAs(0.314, { ...cable, distanceM: 0 })?.extraLengthM).toBeCloseTo(50 * 0.3048, 9)
  })

  it('is the whole cable in 18 AWG: 2 × 40 ft × (7.95 − 3.14) ohm per 1000 ft more', () => {
    const added = (2 * 40 * (7.95 - 3.14)) / 1000
    expect(addedResistanceAs(added, { ...cable, distanceM: 40 * 0.3048 })?.likeSize).toEqual({
      value: 18,
      unit: 'AWG',
    })
  })

  // From 14 AWG (3.14) the nearest thinner size is 16 AWG (4.99 ohm/1000 ft); 0.02 ohm is far short of half that step.
  it('is no thinner size where it is far from all of them', () => {
    const added = addedResistanceAs(0.02, { ...cable, distanceM: 40 * 0.3048 })
    expect(added?.likeSize).toBeUndefined()
    expect(addedResistanceAs(20, { ...cable, distanceM: 40 * 0.3048 })?.likeSize).toBeUndefined()
  })

  it('is nothing for a size that is not in the tables', () => {
    expect(addedResistanceAs(1, { ...cable, size: { value: 3, unit: 'mm2' }, distanceM: 1 })).toBeUndefined()
  })
})
