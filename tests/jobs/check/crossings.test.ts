import { describe, expect, it } from 'vitest'
import type { FactValue } from '../../../src/jobs/log/job'
import { check, rowOf } from './telling'

type Facts = Record<string, FactValue>

const state = (id: string, whole: Facts, parts: Record<string, Facts> = {}) =>
  rowOf(check(whole, parts), id).state
const ids = (whole: Facts, parts: Record<string, Facts> = {}): string[] =>
  check(whole, parts).rows.map(({ id }) => id)
const figure = (row: ReturnType<typeof rowOf>, id: string) =>
  row.figures?.find((each) => each.id === id)?.value

const tape = { voltage: '24 V', tapePower: '4.4 W/ft' }

describe('tape-on-driver', () => {
  const parts = { Hall: { tapeLength: '12 ft' }, Stairs: { tapeLength: '6 ft' } }

  // By hand: 18 ft · 4.4 = 79.2 W; /0.8 = 99 W.
  it('adds the tape of all parts and names the numbers', () => {
    const row = rowOf(check({ ...tape, driverPower: '96 W' }, parts), 'tape-on-driver')
    expect(row).toMatchObject({ kind: 'crossing', state: 'fails', question: 'driver-size' })
    expect(row.sentence).toContain('Hall 52.8 W and Stairs 26.4 W')
    expect(row.sentence).toMatch(/79\.2 W.*99 W.*96 W/)
    expect([figure(row, 'load'), figure(row, 'needed'), figure(row, 'driverPower')]).toEqual([
      expect.closeTo(79.2, 6),
      expect.closeTo(99, 6),
      96,
    ])
    // 99 of 120 is 82.5 %.
    expect(state('tape-on-driver', { ...tape, driverPower: '120 W' }, parts)).toBe('holds')
  })

  it('waits for the driver, and for its tape', () => {
    const noDriver = rowOf(check(tape, parts), 'tape-on-driver')
    expect(noDriver).toMatchObject({ state: 'not-asked', missing: [{ field: 'driverPower' }] })
    const noTape = rowOf(check({ driverPower: '96 W' }), 'tape-on-driver')
    expect(noTape).toMatchObject({ state: 'not-asked', missing: [{ field: 'tapeLength' }] })
    const several = rowOf(check({ ...tape, driverPower: ['96 W', '60 W'] }, parts), 'tape-on-driver')
    expect(several.state).toBe('not-asked')
    expect(several.sentence).toContain('96 W and 60 W')
  })
})

describe('load-of-tape', () => {
  // 12 ft · 4.4 W/ft = 52.8 W: 53 W is within a hundredth of it.
  it.each([
    ['53 W', 'holds'],
    ['52.4 W', 'holds'],
    ['60 W', 'tight'],
    ['50 W', 'fails'],
  ])('%s told of 52.8 W of tape: %s', (load, expected) => {
    const row = rowOf(check({ ...tape, tapeLength: '12 ft', load }), 'load-of-tape')
    expect(row.state).toBe(expected)
    expect(figure(row, 'tapeWatts')).toBeCloseTo(52.8, 6)
    expect(row.sentence).toContain('52.8 W')
  })

  it('is a row of the place where both are told', () => {
    const parts = { Hall: { tapeLength: '12 ft', load: '40 W' }, Stairs: { load: '30 W' } }
    expect(state('load-of-tape@Hall', tape, parts)).toBe('fails')
    expect(ids(tape, parts).some((id) => id.startsWith('load-of-tape') && id !== 'load-of-tape@Hall')).toBe(
      false,
    )
  })
})

describe('driver-heat', () => {
  const hot = { ...tape, tapeLength: '18 ft', fullOutputTo: '45 °C', derateAt: '60 °C', derateTo: '70 %' }

  // By hand: at 50 °C a third of the way from 100 % to 70 %: 90 %; 79.2/0.8/0.9 = 110 W.
  it.each([
    ['96 W', '50 °C', 'fails'],
    ['120 W', '50 °C', 'tight'],
    ['150 W', '50 °C', 'holds'],
    ['150 W', '61 °C', 'fails'],
    ['120 W', '40 °C', 'holds'],
  ])('%s in air of %s: %s', (driverPower, ambient, expected) => {
    expect(state('driver-heat', { ...hot, driverPower, ambient })).toBe(expected)
  })

  it('names the air, the line and the watts', () => {
    const row = rowOf(check({ ...hot, driverPower: '96 W', ambient: '50 °C' }), 'driver-heat')
    expect(row.sentence).toMatch(/50 °C.*45 °C.*79\.2 W.*110 W.*96 W/)
  })

  it('says what to look up where only one side is known', () => {
    const noLine = rowOf(check({ ...tape, driverPower: '96 W', ambient: '50 °C' }), 'driver-heat')
    expect(noLine.state).toBe('not-asked')
    expect(noLine.missing?.map(({ field }) => field)).toEqual(['fullOutputTo', 'derateAt', 'derateTo'])
    const noAir = rowOf(check({ ...hot, driverPower: '96 W' }), 'driver-heat')
    expect(noAir.missing?.map(({ field }) => field)).toEqual(['ambient'])
    expect(ids(tape).includes('driver-heat')).toBe(false)
  })

  it('looks at each driver where it sits', () => {
    const parts = { Attic: { tapeLength: '5 ft', driverPower: '30 W', ambient: '55 °C' } }
    const board = check({ ...hot, driverPower: '120 W', ambient: '25 °C' }, parts)
    expect(rowOf(board, 'driver-heat').state).toBe('holds')
    // 22/0.8/0.8 = 34.4 W of 30 W.
    expect(rowOf(board, 'driver-heat@Attic').state).toBe('fails')
  })
})

describe('wet-place', () => {
  // A thing for wet places may sit in damp ones, and one for damp places in dry ones; never the other way round.
  it.each([
    ['dry', 'dry', 'holds'],
    ['dry', 'damp', 'holds'],
    ['damp', 'wet', 'holds'],
    ['damp', 'damp', 'holds'],
    ['wet', 'wet', 'holds'],
    ['damp', 'dry', 'fails'],
    ['wet', 'damp', 'fails'],
    ['wet', 'dry', 'fails'],
  ])('tape in a %s place, listed for %s: %s', (surroundings, tapeListing, expected) => {
    expect(state('wet-place', { surroundings, tapeListing })).toBe(expected)
  })

  it('never takes an unknown listing to hold where it is damp or wet', () => {
    for (const surroundings of ['damp', 'wet']) {
      const row = rowOf(check({ surroundings }), 'wet-place')
      expect(row.state).toBe('not-asked')
      expect(row.missing?.map(({ field }) => field)).toEqual(['tapeListing'])
    }
    expect(state('wet-place', { surroundings: 'dry' })).toBe('holds')
    expect(state('wet-place', { tapeListing: 'wet' })).toBe('holds')
    expect(state('wet-place', { tapeListing: 'damp' })).toBe('not-asked')
  })

  it('is as bad as the worse of tape and driver', () => {
    const dry = { surroundings: 'dry', tapeListing: 'dry' }
    expect(state('wet-place', { ...dry, driverSurroundings: 'wet', driverListing: 'dry' })).toBe('fails')
    expect(state('wet-place', { ...dry, driverSurroundings: 'wet' })).toBe('not-asked')
    expect(state('wet-place', { ...dry, driverSurroundings: 'wet', driverListing: 'wet' })).toBe('holds')
  })

  it('has a row for each part that tells something of its own', () => {
    const board = check(
      { ...tape, surroundings: 'dry' },
      {
        Hall: { tapeLength: '5 ft' },
        Shower: { tapeLength: '4 ft', surroundings: 'wet', tapeListing: 'damp' },
      },
    )
    expect(rowOf(board, 'wet-place@Shower').state).toBe('fails')
    expect(board.rows.some(({ id }) => id === 'wet-place@Hall')).toBe(false)
  })
})

describe('driver-on-dimmer', () => {
  const kinds = { dimmerKind: 'forward-phase', driverDimming: 'either-phase' }
  const job = { ...tape, driverPower: '96 W', tapeLength: '6 ft', ...kinds }

  // 96/0.88 = 109.1 W: over 100 W; 91 % of 120 W; 73 % of 150 W.
  it.each([
    ['100 W', 'fails'],
    ['120 W', 'tight'],
    ['150 W', 'holds'],
  ])('of %s: %s', (dimmerRating, expected) => {
    expect(state('driver-on-dimmer', { ...job, dimmerRating })).toBe(expected)
  })

  it('fails where they dim by different means, whatever the load', () => {
    const row = rowOf(check({ ...job, dimmerRating: '600 W', driverDimming: '0-10V' }), 'driver-on-dimmer')
    expect(row.state).toBe('fails')
    expect(row.sentence).toContain('They do not work together')
  })

  it('cannot tell where nobody said by what they dim', () => {
    const { driverDimming: _, ...unknown } = job
    const row = rowOf(check({ ...unknown, dimmerRating: '600 W' }), 'driver-on-dimmer')
    expect(row).toMatchObject({ state: 'not-asked', missing: [{ field: 'driverDimming' }] })
    expect(row.sentence).toMatch(/109\.1 W.*600 W/)
    expect(state('driver-on-dimmer', { ...unknown, dimmerRating: '100 W' })).toBe('fails')
    expect(
      state('driver-on-dimmer', {
        ...tape,
        driverPower: '96 W',
        dimmerKind: 'switch',
        dimmerRating: '600 W',
      }),
    ).toBe('holds')
  })

  // (96 + 150)/0.88 is not asked for: who told the drivers told what they draw, 246 W of 200 W.
  it('does not forget a driver that was only told in a list', () => {
    const row = rowOf(
      check({ ...job, dimmerRating: '200 W', drivers: ['96 W', '150 W'] }),
      'driver-on-dimmer',
    )
    expect(row.state).toBe('fails')
    expect(figure(row, 'load')).toBeCloseTo(246, 9)
    expect(state('driver-on-dimmer', { ...job, dimmerRating: '150 W', drivers: ['20 W'] })).toBe('holds')
  })

  // The tape takes 6 ft · 4.4 = 26.4 W, 30 W from the line: the 96 W on the label do not help a dimmer that needs 40 W.
  it('holds the least load against what the tape draws', () => {
    const row = rowOf(check({ ...job, dimmerRating: '150 W', dimmerMinimum: '40 W' }), 'driver-on-dimmer')
    expect(row.state).toBe('fails')
    expect(row.sentence).toMatch(/30 W.*40 W/)
    expect(state('driver-on-dimmer', { ...job, dimmerRating: '150 W', dimmerMinimum: '20 W' })).toBe('holds')
  })
})

describe('drivers-on-circuit', () => {
  const job = { ...tape, driverPower: '180 W', tapeLength: '32 ft', breaker: '15 A' }

  // CALCULATIONS.md: 160 W from the line; a 15 A circuit carries 1296 W at 0.9: 1136 W may be on it already.
  it.each([
    ['500 W', 'holds'],
    ['1100 W', 'tight'],
    ['1140 W', 'fails'],
  ])('with %s on it: %s', (existing, expected) => {
    expect(state('drivers-on-circuit', { ...job, existing })).toBe(expected)
  })

  it('cannot tell while nobody knows what else is on it, and asks for that', () => {
    const row = rowOf(check(job), 'drivers-on-circuit')
    expect(row).toMatchObject({ state: 'not-asked', missing: [{ field: 'existing' }] })
    expect(row.sentence).toMatch(/160 W.*177\.8 VA.*1440 VA/)
  })

  it('counts the drivers as they are, whatever was said once', () => {
    expect(state('drivers-on-circuit', { ...job, existing: '1140 W', added: ['5 W'] })).toBe('fails')
    expect(state('circuit-room', { ...job, existing: '1140 W', added: ['5 W'] })).toBe('holds')
    expect(state('drivers-on-circuit', { ...job, existing: '500 W', added: ['900 W'] })).toBe('fails')
  })
})

describe('cable-through-hole', () => {
  // Three alike: 2.1547 · 0.3 in / 2 · 2 = 0.6464 in (known packing); /0.8 = 0.808 in, the 7/8 in bit.
  const three = { bundle: [{ count: '3', diameter: '0.3 in' }], memberUse: 'joist' }

  it('passes where both the hole and the member allow it', () => {
    const row = rowOf(check({ ...three, member: '2x10', holeDiameter: '7/8 in' }), 'cable-through-hole')
    expect(row.state).toBe('holds')
    expect(row.question).toBe('framing-hole')
    expect(figure(row, 'bit')).toBeCloseTo(0.875 * 0.0254, 9)
    // IRC R502.8.1: a third of 9.25 in.
    expect(figure(row, 'largestHole')).toBeCloseTo((9.25 / 3) * 0.0254, 9)
  })

  it('is tight in a hole of less air, and fails in one that is too small', () => {
    expect(state('cable-through-hole', { ...three, member: '2x10', holeDiameter: '3/4 in' })).toBe('tight')
    expect(state('cable-through-hole', { ...three, member: '2x10', holeDiameter: '5/8 in' })).toBe('fails')
  })

  // IRC R502.8.1: a 2x4 joist may have no hole. R602.6: a bearing 2x4 stud 40 % of 3.5 in, 1.4 in; one cable of
  // 1.05 in asks for 1.3125 in, the 1-3/8 in bit: 98 % of it.
  it('fails in a member that may not have it, and is tight where it is nearly too large', () => {
    expect(state('cable-through-hole', { ...three, member: '2x4' })).toBe('fails')
    const stud = { member: '2x4', memberUse: 'stud-bearing', bundle: [{ diameter: '1.05 in' }] }
    expect(state('cable-through-hole', stud)).toBe('tight')
  })

  it('fails with a hole that the member may not have, whatever goes through it', () => {
    expect(state('cable-through-hole', { ...three, member: '2x6', holeDiameter: '2 in' })).toBe('fails')
  })

  it('waits until both sides are told', () => {
    expect(ids({ bundle: ['0.3 in'] }).includes('cable-through-hole')).toBe(false)
    expect(state('cable-through-hole', { bundle: ['0.3 in'], member: '2x6' })).toBe('not-asked')
  })
})

describe('cable-in-box', () => {
  // CALCULATIONS.md, box-fill: 14.0 of 15.5 in³ is tight.
  const box = { box: 'octagon 4 x 1-1/2', boxCables: ['14/3', '14/2'] }

  // NEC 240.4(D): 14 AWG 15 A, 12 AWG 20 A, 10 AWG 30 A.
  it.each([
    ['14/2', '15 A', 'holds'],
    ['14/2', '20 A', 'fails'],
    ['12/2', '20 A', 'holds'],
    ['12/2', '25 A', 'fails'],
    ['10/2', '30 A', 'holds'],
  ])('%s behind %s: %s', (cable, breaker, expected) => {
    expect(state('cable-in-box', { box: 'square 4-11/16 x 2-1/8', boxCables: [cable], breaker })).toBe(
      expected,
    )
  })

  it('is never better than the fill, and names the thinnest conductor', () => {
    expect(state('cable-in-box', { ...box, breaker: '15 A' })).toBe('tight')
    const mixed = rowOf(
      check({ box: 'square 4-11/16 x 2-1/8', boxCables: ['12/2', '14/2'], breaker: '20 A' }),
      'cable-in-box',
    )
    expect(mixed.state).toBe('fails')
    expect(mixed.sentence).toContain('14 AWG, which may have no more than 15 A')
    expect(figure(mixed, 'breakerAtMost')).toBe(15)
  })

  it('fails by the breaker even where the box is not known, and waits for either', () => {
    expect(state('cable-in-box', { boxCables: ['14/2'], breaker: '20 A' })).toBe('fails')
    expect(state('cable-in-box', { boxCables: ['14/2'], breaker: '15 A' })).toBe('not-asked')
    expect(rowOf(check(box), 'cable-in-box')).toMatchObject({
      state: 'not-asked',
      missing: [{ field: 'breaker' }],
    })
  })

  it('leaves out grounds and thin conductors of a limited supply, and IEC has no such rule', () => {
    const conductors = (gauge: string, kind: string) => [
      { gauge: '12 AWG', count: '2' },
      { gauge, count: '1', kind },
    ]
    const deep = { box: 'square 4-11/16 x 2-1/8', breaker: '20 A' }
    expect(state('cable-in-box', { ...deep, conductors: conductors('14 AWG', 'ground') })).toBe('holds')
    expect(state('cable-in-box', { ...deep, conductors: conductors('18 AWG', 'hot') })).toBe('holds')
    expect(state('cable-in-box', { ...deep, conductors: conductors('14 AWG', 'hot') })).toBe('fails')
    expect(ids({ ...box, rules: 'iec', breaker: '16 A' }).includes('cable-in-box')).toBe(false)
  })
})

describe('readings', () => {
  const run = { ...tape, tapeLength: '12 ft', feedDistance: '20 ft', gauge: '16 AWG' }

  /**
   * The cable (fin) equation behind a feed: above its turn-on voltage the tape is a line of series resistance r' and
   * shunt conductance g', so that its input conductance is tanh(L/λ)/(r'·λ), λ = 1/√(r'·g'). Best with L − s/2.
   */
  function byFinEquation() {
    const [ratedV, kneeV, lengthM] = [24, 0.7 * 24, 3.6 - 0.05]
    // 4.4 W/ft; rails of 0.12315 ohm/m at 20 °C, at 40 °C by 0.00393/K.
    const shunt = 4.4 / 0.3048 / ratedV / (ratedV - kneeV)
    const railOhmPerM = 0.12315 * (1 + 0.00393 * 20)
    // 16 AWG stranded, NEC chapter 9 table 8: 4.99 ohm/1000 ft at 75 °C, here at 30 °C; 20 ft out and back.
    const feedOhm = ((2 * 20 * 4.99) / 1000) * (1 + 0.00323 * (30 - 75))
    const lambda = 1 / Math.sqrt(railOhmPerM * shunt)
    const input = Math.tanh(lengthM / lambda) / (railOhmPerM * lambda)
    // The first half unit stands at the feed itself.
    const startV = kneeV + (ratedV - kneeV) / (1 + feedOhm * (input + shunt * 0.05))
    return {
      startV,
      endV: kneeV + (startV - kneeV) / Math.cosh(lengthM / lambda),
      currentA: (ratedV - startV) / feedOhm,
    }
  }

  it('are those of the cable equation', () => {
    const row = rowOf(check(run), 'readings')
    const { startV, endV, currentA } = byFinEquation()
    expect(row).toMatchObject({ state: 'info', question: 'meter-check' })
    expect(figure(row, 'expectedDriver')).toBe(24)
    expect(figure(row, 'expectedStart')).toBeCloseTo(startV, 2)
    expect(figure(row, 'expectedEnd')).toBeCloseTo(endV, 2)
    expect(figure(row, 'expectedCurrent')).toBeCloseTo(currentA, 2)
    expect(row.inputs.driverLoaded).toBeUndefined()
  })

  it('do not depend on what was read, and are what meter-check holds it against', () => {
    const read = check({ ...run, tapeEnd: '21 V' })
    expect(figure(rowOf(read, 'readings'), 'expectedEnd')).toBe(
      figure(rowOf(check(run), 'readings'), 'expectedEnd'),
    )
    const meter = rowOf(read, 'meter-check').answer?.figures.find(({ id }) => id === 'expectedEnd')
    expect(figure(rowOf(read, 'readings'), 'expectedEnd')).toBe(meter?.value)
  })

  it('wait for the cable', () => {
    const { gauge: _, ...noGauge } = run
    expect(rowOf(check(noGauge), 'readings')).toMatchObject({
      state: 'not-asked',
      missing: [{ field: 'gauge' }],
    })
    const two = check(tape, { Hall: { tapeLength: '5 ft' }, Stairs: { tapeLength: '6 ft' } })
    expect(two.rows.filter(({ id }) => id.startsWith('readings')).map(({ where }) => where)).toEqual([null])
  })

  // CALCULATIONS.md, the tape as a network: 24 V, 14.4 W/m, 10 m fed at both ends without cable: lowest 23.181 V,
  // 5.548 A.
  it('of several feeds are the driver and the lowest', () => {
    const feeds = [{ at: '0 m' }, { at: '10 m' }]
    const row = rowOf(
      check({ voltage: '24 V', tapePower: '14.4 W/m', tapeLength: '10 m', feeds }),
      'readings',
    )
    expect(row.question).toBe('along-the-tape')
    expect(figure(row, 'lowestVoltage')).toBeCloseTo(23.181, 3)
    expect(figure(row, 'current')).toBeCloseTo(5.548, 3)
  })
})
