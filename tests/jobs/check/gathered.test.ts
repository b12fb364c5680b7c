import { describe, expect, it } from 'vitest'
import type { BoardRow } from '../../../src/jobs/check/row'
import { check, rowOf } from './telling'

const tape = { voltage: '24 V', tapePower: '4.4 W/ft' }

const figure = (row: BoardRow, id: string): number =>
  Number(row.answer?.figures.find((each) => each.id === id)?.value)

describe('driver-size of all parts', () => {
  // CALCULATIONS.md, driver-size: 32 ft of 4.4 W/ft: 140.8 W, needed 176 W, next size 180 W, input 160 W.
  const parts = { 'Long hall': { tapeLength: '12 ft' }, Stairs: { tapeLength: '20 ft' } }

  it('takes the runs of all that have no driver of their own', () => {
    const row = rowOf(
      check(tape, { ...parts, Porch: { tapeLength: '5 ft', driverPower: '60 W' } }),
      'driver-size',
    )
    expect(figure(row, 'load')).toBeCloseTo(140.8, 6)
    expect(figure(row, 'needed')).toBeCloseTo(176, 6)
    expect(figure(row, 'rating')).toBe(180)
    expect(row.state).toBe('info')
    expect(row.inputs).toMatchObject({
      'tapeLength.0': '12 ft',
      'tapeLength.1': '20 ft',
      tapePower: '4.4 W/ft',
    })
    expect(row.sentence).toContain('Long hall 52.8 W and Stairs 88 W')
  })

  // 176 of 150 is too much; 176 of 180 leaves less than a tenth; 176 of 200 is 88 %.
  it.each([
    ['150 W', 'fails'],
    ['180 W', 'tight'],
    ['200 W', 'holds'],
  ])('judges a driver of %s: %s', (driverPower, state) => {
    expect(rowOf(check({ ...tape, driverPower }, parts), 'driver-size').state).toBe(state)
  })

  // By hand: 10 ft · 4.4 + 10 ft · 3 = 74 W; 74/0.8 = 92.5 W of 96 W.
  it('takes watts where the tape is not the same, and watts that a part tells itself', () => {
    const mixed = {
      'Long hall': { tapeLength: '10 ft' },
      Stairs: { tapeLength: '10 ft', tapePower: '3 W/ft' },
    }
    const row = rowOf(check({ ...tape, driverPower: '96 W' }, mixed), 'driver-size')
    expect(row.inputs.tapePower).toBeUndefined()
    expect(figure(row, 'load')).toBeCloseTo(74, 6)
    expect(row.state).toBe('tight')
    const watts = rowOf(
      check(tape, { 'Long hall': { tapeLength: '10 ft' }, Stairs: { load: '30 W' } }),
      'driver-size',
    )
    expect(figure(watts, 'load')).toBeCloseTo(74, 6)
  })

  it('knows the same tape again in other units', () => {
    const board = check(
      { ...tape },
      {
        'Long hall': { tapeLength: '10 ft' },
        Stairs: { tapeLength: '2 m', tapePower: '14.43569553805774 W/m' },
      },
    )
    expect(rowOf(board, 'driver-size').inputs['tapeLength.1']).toBe('2 m')
  })

  // By hand: 32 ft are 140.8 W; 20 ft of them 88 W, and 12 ft 52.8 W.
  it('takes what was told of the whole job as all of it, counts what no part has yet, and says how to settle it', () => {
    const board = check({ ...tape, tapeLength: '32 ft' }, { Stairs: { tapeLength: '20 ft' } })
    expect(figure(rowOf(board, 'driver-size'), 'load')).toBeCloseTo(140.8, 6)
    expect(rowOf(board, 'driver-size').sentence).toContain('Stairs 88 W and what is at no part yet 52.8 W')
    expect(figure(rowOf(board, 'running-cost'), 'energy')).toBeCloseTo((140.8 / 880) * 4 * 365 + 3.65, 1)
    for (const id of ['driver-size', 'running-cost'])
      expect(rowOf(board, id).sentence).toContain(
        '(140.8 W) is taken as all of its tape, so what no part has of it',
      )
    expect(board.rows.some(({ id }) => id === 'along-the-tape')).toBe(false)
  })

  it('counts the parts where they come to more than was told of the whole, and says so', () => {
    const board = check({ ...tape, tapeLength: '12 ft' }, parts)
    expect(figure(rowOf(board, 'driver-size'), 'load')).toBeCloseTo(140.8, 6)
    for (const id of ['driver-size', 'running-cost'])
      expect(rowOf(board, id).sentence).toContain(
        '(52.8 W) is taken as all of its tape; its parts come to as much',
      )
  })

  it('counts a length of the whole job for each part that tells none of its own', () => {
    const shared = check(
      { ...tape, tapeLength: '16 ft' },
      { Hall: { feedDistance: '5 ft' }, Stairs: { feedDistance: '9 ft' } },
    )
    expect(figure(rowOf(shared, 'driver-size'), 'load')).toBeCloseTo(140.8, 6)
  })

  // A load that was told before the tape was changed: 12 ft of 8 W/ft are 96 W, /0.8 = 120 W of 96 W; 12 ft of
  // 4 W/ft are 48 W, and 53 W stays.
  it('counts the larger of watts that were told and of the tape as it is, everywhere', () => {
    const board = (tapePower: string) =>
      check(
        { voltage: '24 V' },
        {
          Hall: { tapePower, tapeLength: '12 ft', load: '53 W', driverPower: '96 W', feedDistance: '18 ft' },
        },
      )
    const heavy = board('8 W/ft')
    expect(figure(rowOf(heavy, 'driver-size@Hall'), 'load')).toBeCloseTo(96, 6)
    expect(rowOf(heavy, 'driver-size@Hall').sentence).toContain(
      '53 W was told (Hall), and its tape as it is now takes 96 W',
    )
    expect(rowOf(heavy, 'tape-on-driver@Hall').state).toBe('fails')
    expect(rowOf(heavy, 'feed-gauge@Hall').inputs).toMatchObject({ tapePower: '8 W/ft', tapeLength: '12 ft' })
    expect(rowOf(heavy, 'feed-gauge@Hall').inputs.load).toBeUndefined()
    expect(figure(rowOf(board('4 W/ft'), 'driver-size@Hall'), 'load')).toBeCloseTo(53, 6)
    const whole = check({ voltage: '24 V', tapePower: '8 W/ft', tapeLength: '12 ft', load: '53 W' })
    expect(figure(rowOf(whole, 'driver-size'), 'load')).toBeCloseTo(96, 6)
    expect(rowOf(whole, 'running-cost').inputs.load).toMatch(/^96(\.0+\d*)? W$/)
  })

  it('asks for what a part does not tell, and fails with two voltages on one driver', () => {
    const unknown = check(
      { voltage: '24 V' },
      { Hall: { tapeLength: '5 ft', tapePower: '4 W/ft' }, Stairs: { tapeLength: '5 ft' } },
    )
    expect(rowOf(unknown, 'driver-size')).toMatchObject({
      state: 'not-asked',
      missing: [{ field: 'tapePower', label: 'Tape power (Stairs)' }],
    })
    const two = check(
      { ...tape, driverPower: '200 W' },
      { Hall: { tapeLength: '5 ft' }, Stairs: { tapeLength: '5 ft', voltage: '12 V' } },
    )
    expect(rowOf(two, 'driver-size').state).toBe('fails')
    expect(rowOf(two, 'driver-size').sentence).toContain('24 V and 12 V')
    expect(rowOf(two, 'tape-on-driver').state).toBe('fails')
  })

  it('of a part with its own driver is its own', () => {
    const board = check(
      { ...tape, driverPower: '200 W' },
      { Hall: { tapeLength: '20 ft' }, Porch: { tapeLength: '5 ft', driverPower: '20 W' } },
    )
    // By hand: 5 · 4.4 = 22 W, /0.8 = 27.5 W of 20 W; 88 W / 0.8 = 110 W of 200 W.
    expect(rowOf(board, 'driver-size@Porch').state).toBe('fails')
    expect(rowOf(board, 'driver-size').state).toBe('holds')
  })
})

describe('the line side of all drivers', () => {
  const parts = { Hall: { tapeLength: '32 ft' }, Porch: { tapeLength: '5 ft', driverPower: '60 W' } }

  // 140.8/0.88 = 160 W and 22/0.88 = 25 W: (160 + 25)/0.9 = 205.56 VA.
  it('counts what each driver draws for its tape', () => {
    const row = rowOf(check({ ...tape, driverPower: '180 W', breaker: '15 A' }, parts), 'circuit-room')
    expect(figure(row, 'used')).toBeCloseTo(205.556, 3)
    expect(row.sentence).toContain('160 W and 25 W')
  })

  // Without tape a driver is counted at its rating: 96/0.88/0.9 = 121.21 VA.
  it('counts a driver without tape at its full rating', () => {
    const row = rowOf(check({ driverPower: '96 W', breaker: '15 A' }), 'circuit-room')
    expect(figure(row, 'used')).toBeCloseTo(121.212, 3)
  })

  // (96 + 60)/0.88 = 177.27 W.
  it('counts every driver behind a dimmer by its rating', () => {
    const row = rowOf(check({ ...tape, driverPower: '96 W', dimmerRating: '200 W' }, parts), 'dimmer-fit')
    expect(figure(row, 'load')).toBeCloseTo(177.273, 3)
    expect(row.state).toBe('holds')
    expect(row.sentence).toContain('efficiency of 88 %')
  })

  it('leaves to a part with a dimmer or a breaker of its own what hangs on it', () => {
    const own = { ...parts, Porch: { ...parts.Porch, dimmerRating: '100 W', breaker: '20 A' } }
    const board = check({ ...tape, driverPower: '180 W', dimmerRating: '300 W', breaker: '15 A' }, own)
    expect(rowOf(board, 'dimmer-fit').inputs).toMatchObject({ 'drivers.0': '180 W' })
    expect(rowOf(board, 'dimmer-fit').inputs['drivers.1']).toBeUndefined()
    expect(rowOf(board, 'dimmer-fit@Porch').inputs).toMatchObject({ 'drivers.0': '60 W' })
    expect(figure(rowOf(board, 'circuit-room'), 'used')).toBeCloseTo(160 / 0.9, 3)
    expect(figure(rowOf(board, 'circuit-room@Porch'), 'used')).toBeCloseTo(25 / 0.9, 3)
  })

  it('puts what somebody told of the drivers first', () => {
    const row = rowOf(
      check({ ...tape, driverPower: '96 W', breaker: '15 A', added: ['40 W'] }, parts),
      'circuit-room',
    )
    expect(row.inputs).toMatchObject({ 'added.0': '40 W' })
  })
})

describe('a driver that parts share', () => {
  const parts = {
    Hall: { tapeLength: '10 ft', tapePower: '4.4 W/ft' },
    Stairs: { tapeLength: '5 ft', tapePower: '4.4 W/ft' },
  }

  // By hand: 96 · 0.8 = 76.8 W, less the 22 W of the stairs, leaves 54.8 W: 54.8/0.8 = 68.5 W of rating for the hall,
  // and 54.8/14.4357 = 3.796 m, 37 cuts.
  it('is promised to each with what the others leave of it', () => {
    const board = check({ voltage: '24 V', driverPower: '96 W' }, parts)
    const row = rowOf(board, 'tape-reach@Hall')
    expect(row.inputs.driverPower).toBe('68.5 W')
    expect(figure(row, 'reachByDriver')).toBeCloseTo(3.7, 9)
    expect(row.state).toBe('holds')
    expect(row.sentence).toContain('shared with Stairs')
    expect(rowOf(board, 'along-the-tape@Hall').inputs.driverPower).toBeUndefined()
  })

  it('fails where nothing is left', () => {
    const row = rowOf(check({ voltage: '24 V', driverPower: '20 W' }, parts), 'tape-reach@Stairs')
    expect(row.state).toBe('fails')
    expect(row.answer).toBeUndefined()
    expect(row.sentence).toContain('nothing of it is left')
  })

  it('is judged whole where nobody shares it', () => {
    const board = check({ ...tape, driverPower: '96 W' }, { Hall: { tapeLength: '10 ft' } })
    expect(rowOf(board, 'along-the-tape@Hall').inputs.driverPower).toBe('96 W')
  })
})

describe('a driver that sits at a part without tape', () => {
  const closet = {
    driverPower: '120 W',
    ambient: '50 °C',
    fullOutputTo: '45 °C',
    derateAt: '60 °C',
    derateTo: '70 %',
  }

  // By hand: 18 ft · 4.4 = 79.2 W, /0.8/0.9 = 110 W of 120 W.
  it('is that of all tape, in the air where it sits', () => {
    const board = check(tape, {
      Closet: closet,
      Hall: { tapeLength: '12 ft' },
      Stairs: { tapeLength: '6 ft' },
    })
    expect(figure(rowOf(board, 'driver-size@Closet'), 'needed')).toBeCloseTo(110, 6)
    expect(rowOf(board, 'tape-on-driver@Closet').state).toBe('tight')
    expect(rowOf(board, 'driver-heat@Closet').state).toBe('tight')
    expect(board.rows.some(({ id }) => id === 'driver-size')).toBe(false)
  })

  it('is not guessed among two', () => {
    const board = check(tape, { Closet: closet, Attic: closet, Hall: { tapeLength: '12 ft' } })
    expect(rowOf(board, 'tape-on-driver').missing?.map(({ field }) => field)).toEqual(['driverPower'])
    expect(rowOf(board, 'tape-on-driver@Attic').missing?.map(({ field }) => field)).toEqual(['tapeLength'])
  })
})

describe('the other questions of the whole job', () => {
  const parts = { Hall: { tapeLength: ['10 ft', '6 ft'] }, Stairs: { tapeLength: '5 ft' } }

  it('takes the runs for openings, unless openings were measured', () => {
    const row = rowOf(check({ ...tape, cutLength: '100 mm' }, parts), 'cut-plan')
    expect(row.inputs).toMatchObject({ 'openings.0': '10 ft', 'openings.1': '6 ft', 'openings.2': '5 ft' })
    const measured = check({ ...tape, cutLength: '100 mm', openings: ['9 ft'] }, parts)
    expect(rowOf(measured, 'cut-plan').inputs['openings.1']).toBeUndefined()
    const each = {
      Hall: { tapeLength: '10 ft', cutLength: '50 mm' },
      Stairs: { tapeLength: '5 ft', cutLength: '50 mm' },
    }
    expect(rowOf(check(tape, each), 'cut-plan').inputs.cutLength).toBe('50 mm')
  })

  // 21 ft · 4.4 = 92.4 W; 92.4/0.88 · 4 h · 365 = 153.3 kWh, and 0.5 W over the other 20 h: 3.65 kWh.
  it('takes all the watts for the cost', () => {
    const row = rowOf(check(tape, parts), 'running-cost')
    expect(figure(row, 'energy')).toBeCloseTo(153.3 + 3.65, 1)
  })

  it('has no row of the whole job for what only its parts have', () => {
    const board = check({ ...tape, feedDistance: '9 ft', gauge: '16 AWG' }, parts)
    expect(board.rows.some(({ id }) => id === 'along-the-tape')).toBe(false)
  })

  it('puts the feed together of the way to the tape and its cable', () => {
    const feed = { tapeLength: '10 ft', feedDistance: '20 ft', gauge: '16 AWG' }
    const at = (more: object) =>
      rowOf(check(tape, { Hall: { ...feed, ...more } }), 'along-the-tape@Hall').inputs
    expect(at({})).toMatchObject({
      'feeds.0.at': '0 m',
      'feeds.0.distance': '6.096 m',
      'feeds.0.gauge': '16 AWG',
    })
    // 20 ft and the 10 ft of the run; the middle of 10 ft is 1.524 m.
    expect(at({ feed: 'both-ends' })).toMatchObject({
      'feeds.1.at': '3.048 m',
      'feeds.1.distance': '9.144 m',
    })
    expect(at({ feed: 'middle' })).toMatchObject({ 'feeds.0.at': '1.524 m' })
    expect(at({ feeds: [{ at: '1 ft' }] })).toMatchObject({ 'feeds.0.at': '1 ft' })
  })

  it('takes the only feed for the way and the cable of the other questions', () => {
    const feeds = [{ at: '0 m', distance: '20 ft', gauge: '16 AWG' }]
    const board = check(tape, { Hall: { tapeLength: '12 ft', feeds, tapeEnd: '23 V' } })
    expect(rowOf(board, 'feed-gauge@Hall').inputs).toMatchObject({
      distance: '20 ft',
      'claim.value': '16 AWG',
    })
    expect(rowOf(board, 'meter-check@Hall').inputs).toMatchObject({ feedDistance: '20 ft', gauge: '16 AWG' })
    const flat = check(tape, { Hall: { tapeLength: '12 ft', feedDistance: '20 ft', gauge: '16 AWG' } })
    expect(rowOf(board, 'readings@Hall').figures).toEqual(rowOf(flat, 'readings@Hall').figures)
    const two = check(tape, { Hall: { tapeLength: '12 ft', feeds: [...feeds, { at: '12 ft' }] } })
    expect(two.rows.find(({ id }) => id.startsWith('feed-gauge'))?.state).toBe('not-asked')
  })

  it('holds the cable that is there against what the way asks for', () => {
    const far = { voltage: '24 V', load: '60 W', feedDistance: '40 ft' }
    // CALCULATIONS.md, feed-gauge: 16 AWG loses 4.158 %, 14 AWG 2.617 %.
    expect(rowOf(check({ ...far, gauge: '16 AWG' }), 'feed-gauge').state).toBe('fails')
    expect(rowOf(check({ ...far, gauge: '14 AWG' }), 'feed-gauge').state).toBe('holds')
    const otherRules = rowOf(check({ ...far, gauge: '1.5 mm2' }), 'feed-gauge')
    expect(otherRules.answer?.claim).toBeUndefined()
    expect(otherRules.inputs).toEqual({ voltage: '24 V', load: '60 W', distance: '40 ft' })
  })
})
