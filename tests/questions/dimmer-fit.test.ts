import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { dimmerFit } from '../../src/questions/dimmer-fit'
import { answerOf, cautionTexts, errorsOf, figureOf, neverThrows } from './asking'

const ask = (raw: object) => answerOf(dimmerFit, { dimmerRating: '150 W', ...raw })

describe('the load', () => {
  test('two drivers on one dimmer: by hand, 150 W of 150 W', () => {
    const answer = ask({ drivers: ['75 W', '75 W'] })
    expect(answer.verdict).toBe('tight')
    expect(figureOf(answer, 'driversAtMost')).toBe(2)
    expect(figureOf(answer, 'dimmerLoad')).toBeCloseTo(100, 9)
  })

  // Common practice: 5/6 of the rating with one side section off, 2/3 with both.
  test('a dimmer in the middle of three gangs, both side sections broken off, carries 2/3', () => {
    const answer = ask({ drivers: ['75 W', '75 W'], sidesRemoved: 2 })
    expect(answer.verdict).toBe('fails')
    expect(figureOf(answer, 'allowed')).toBeCloseTo(100, 9)
    expect(figureOf(answer, 'driversAtMost')).toBe(1)
    // 150 W · 3/2 = 225 W.
    expect(answer.headline).toContain('225 W')
    expect(answer.headline).toContain('both side sections')
    expect(cautionTexts(answer)).toContain('5/6')
    expect(answer.sources.map(({ id }) => id)).toContain('common-practice-dimmer-sides')
  })

  test('with one side section off, five of 40 W are 80 % of a 300 W dimmer', () => {
    const answer = ask({ dimmerRating: '300 W', drivers: Array(5).fill('40 W'), sidesRemoved: 1 })
    expect(answer.verdict).toBe('holds')
    expect(figureOf(answer, 'allowed')).toBeCloseTo(250, 9)
    expect(figureOf(answer, 'dimmerLoad')).toBeCloseTo(80, 9)
    expect(figureOf(answer, 'driversAtMost')).toBe(6)
  })

  test('the instructions come before the habit', () => {
    const raw = { dimmerRating: '500 W', drivers: ['100 W', '100 W', '100 W'], sidesRemoved: 1 }
    const answer = ask({ ...raw, ratingOneSide: '400 W', efficiency: '88 %' })
    expect(figureOf(answer, 'allowed')).toBe(400)
    // Definition of efficiency: 300 W / 0.88.
    expect(figureOf(answer, 'load')).toBeCloseTo(340.909, 3)
    expect(cautionTexts(answer)).not.toContain('5/6')
  })

  // Definition of the power factor: 150 W / 0.9 = 166.67 VA.
  test('a rating in VA counts VA, and a claim is read in VA', () => {
    const answer = ask({
      dimmerRating: '150 VA',
      drivers: ['50 W', '50 W', '50 W'],
      claim: { figure: 'load', value: '170 VA' },
    })
    expect(answer.figures.find(({ id }) => id === 'load')).toMatchObject({ unit: 'VA' })
    expect(figureOf(answer, 'load')).toBeCloseTo(166.667, 3)
    expect(answer.claim?.verdict).toBe('tight')
  })

  test('drivers that differ have no count', () => {
    expect(figureOf(ask({ drivers: ['40 W', '60 W'] }), 'driversAtMost')).toBeUndefined()
  })

  test('units do not matter', () => {
    const figures = (dimmerRating: string) => ask({ dimmerRating, drivers: '60 W' }).figures
    expect(figures('0.15 kW')).toEqual(figures('150 W'))
  })
})

describe('the least load', () => {
  test('12 W on a least load of 25 W lacks 13 W', () => {
    const answer = ask({ drivers: '12 W', dimmerMinimum: '25 W' })
    expect(answer.verdict).toBe('fails')
    expect(figureOf(answer, 'minimumMet')).toBe('no')
    expect(answer.headline).toContain('13 W')
  })

  test.each([
    ['12 W', 'yes', 'fails'],
    ['12 W', 'no', 'holds'],
    ['27 W', 'yes', 'tight'],
    ['60 W', 'yes', 'holds'],
    ['60 W', 'no', 'fails'],
  ])('%s on a least load of 25 W: the claim %s %s', (drivers, value, verdict) => {
    const answer = ask({ drivers, dimmerMinimum: '25 W', claim: { figure: 'minimumMet', value } })
    expect(answer.claim?.verdict).toBe(verdict)
    expect(answer.claim?.margin).toContain('25 W')
  })

  test('a lower limit is tight below the limit / 0.9', () => {
    expect(ask({ drivers: '27 W', dimmerMinimum: '25 W' }).verdict).toBe('tight')
    expect(ask({ drivers: '28 W', dimmerMinimum: '25 W' }).verdict).toBe('holds')
  })
})

describe('the kinds', () => {
  // Common practice: what goes with what.
  test.each([
    ['forward-phase', 'either-phase', 'holds'],
    ['reverse-phase', 'forward-phase', 'fails'],
    ['reverse-phase', 'DALI', 'fails'],
    ['0-10V', '0-10V', 'holds'],
    ['forward-phase', 'none', 'fails'],
    ['switch', 'none', 'holds'],
  ])('%s ahead of %s: %s', (dimmerKind, driverDimming, verdict) => {
    expect(ask({ drivers: ['50 W', '50 W'], dimmerKind, driverDimming }).verdict).toBe(verdict)
  })

  test('a mismatch names what would match, and a claim fails on it', () => {
    const claim = { figure: 'verdict', value: 'holds' }
    const answer = ask({
      drivers: ['50 W', '50 W'],
      dimmerKind: 'reverse-phase',
      driverDimming: 'DALI',
      claim,
    })
    expect(answer.headline).toMatch(/reverse phase or either phase.*DALI dimmer/)
    expect(answer.claim).toMatchObject({ verdict: 'fails', wouldHoldIf: ['Dimmer: DALI'] })
    expect(cautionTexts(answer)).toContain('not marked')
  })

  test('kinds that nobody named are an assumption', () => {
    expect(ask({ drivers: '50 W' }).assumptions.map(({ field }) => field)).toContain('dimmerKind')
    const known = { dimmerKind: 'DALI', driverDimming: 'DALI' }
    expect(ask({ drivers: '50 W', ...known }).assumptions.map(({ field }) => field)).not.toContain(
      'dimmerKind',
    )
  })

  test('0-10 V control wires have their caution', () => {
    expect(cautionTexts(ask({ drivers: '50 W', driverDimming: '0-10V' }))).toContain('control wires')
  })
})

describe('a low-voltage dimmer', () => {
  const pwm = { dimmerKind: 'low-voltage-pwm', drivers: ['150 W'], voltage: '24 V' }
  const askPwm = (raw: object) => answerOf(dimmerFit, { ...pwm, ...raw })

  test('compares amperes', () => {
    const answer = askPwm({ dimmerCurrentRating: '8 A', dimmedCurrent: '5 A', heldAtFull: true })
    expect(answer.verdict).toBe('holds')
    expect(answer.figures.find(({ id }) => id === 'load')).toMatchObject({ value: 5, unit: 'A' })
    expect(figureOf(answer, 'dimmerLoad')).toBeCloseTo(62.5, 9)
  })

  // Ohm's law: 150 W / 24 V = 6.25 A, 100 W / 24 V = 4.17 A.
  test('takes all that the driver could give when nobody says less, and watts at the voltage', () => {
    const answer = askPwm({ dimmerRating: '100 W' })
    expect(figureOf(answer, 'load')).toBeCloseTo(6.25, 9)
    expect(figureOf(answer, 'allowed')).toBeCloseTo(4.1667, 4)
    expect(answer.headline).toContain('6.25 A or more')
    expect(answer.assumptions.map(({ field }) => field)).toContain('dimmedCurrent')
  })

  // By hand: 250 W at 24 V are 10.4 A, which two drivers of 100 W (8.33 A) keep to and no third.
  test('a count of drivers is judged by all that they could give, where the rating is in watts', () => {
    const claimed = (claim: string) =>
      askPwm({ dimmerRating: '250 W', drivers: '100 W', claim }).claim?.verdict
    expect([claimed('2'), claimed('3')]).toEqual(['tight', 'fails'])
  })

  test('needs its driver at full', () => {
    expect(askPwm({ dimmerCurrentRating: '8 A', heldAtFull: false }).verdict).toBe('fails')
    expect(askPwm({ dimmerCurrentRating: '8 A', driverDimming: 'either-phase' }).verdict).toBe('fails')
    expect(askPwm({ dimmerCurrentRating: '8 A', driverDimming: 'none' }).verdict).toBe('holds')
  })
})

describe('claims and room', () => {
  test.each([
    ['5', 'holds'],
    ['6', 'tight'],
    ['8', 'fails'],
  ])('%s drivers of 25 W on 150 W: %s', (claim, verdict) => {
    expect(ask({ drivers: '25 W', claim }).claim?.verdict).toBe(verdict)
  })

  test('a count does not hold for a pair that does not match', () => {
    const raw = { drivers: '25 W', dimmerKind: 'DALI', driverDimming: '0-10V', claim: '2' }
    expect(ask(raw).claim?.verdict).toBe('fails')
  })

  test('the rating may fall as far as its room says', () => {
    const raw = { dimmerRating: '200 W', drivers: ['60 W', '60 W'] }
    const until = ask(raw).room.find(({ field }) => field === 'dimmerRating')?.until?.value ?? Number.NaN
    expect(ask({ ...raw, dimmerRating: `${until} W` }).verdict).toBe('holds')
    expect(ask({ ...raw, dimmerRating: `${until * 0.994} W` }).verdict).toBe('tight')
  })

  test('sides broken off never raise what it carries', () => {
    const watts = fc.option(fc.integer({ min: 10, max: 2000 }), { nil: undefined })
    fc.assert(
      fc.property(fc.integer({ min: 10, max: 2000 }), watts, watts, (rating, one, both) => {
        const allowed = [0, 1, 2].map((sidesRemoved) =>
          Number(
            figureOf(
              answerOf(dimmerFit, {
                dimmerRating: `${rating} W`,
                drivers: ['10 W', '20 W'],
                sidesRemoved,
                ...(one === undefined ? {} : { ratingOneSide: `${one} W` }),
                ...(both === undefined ? {} : { ratingBothSides: `${both} W` }),
              }),
              'allowed',
            ),
          ),
        )
        expect([...allowed].sort((a, b) => b - a)).toEqual(allowed)
      }),
      { numRuns: 300 },
    )
  })
})

test('under iec nothing is borrowed from the NEC', () => {
  const answer = ask({ rules: 'iec', drivers: ['50 W', '50 W'] })
  expect(answer.verdict).toBe('holds')
  expect(answer.sources.map(({ id }) => id).filter((id) => id.startsWith('nec'))).toEqual([])
  expect(cautionTexts(answer)).toContain('IEC 60364 has no rule')
})

describe('faults', () => {
  test.each([
    [{}, ['drivers', 'dimmerRating']],
    [{ dimmerRating: '150 W' }, ['drivers']],
    [{ drivers: ['45 W', '70 W'] }, ['dimmerRating']],
    [{ dimmerRating: '150', drivers: '60 W' }, ['dimmerRating']],
    [{ dimmerRating: '150 W', drivers: '60 W', heldAtFull: true }, ['heldAtFull']],
    [{ dimmerCurrentRating: '8 A', drivers: '60 W' }, ['dimmerCurrentRating']],
    [{ dimmerRating: '150 W', dimmerCurrentRating: '8 A', drivers: '60 W' }, ['dimmerCurrentRating']],
    [{ dimmerKind: 'low-voltage-pwm', drivers: '60 W' }, ['dimmerRating']],
    [{ dimmerKind: 'low-voltage-pwm', drivers: '60 W', dimmerRating: '100 W' }, ['voltage']],
    [
      { dimmerKind: 'low-voltage-pwm', dimmerCurrentRating: '8 A', drivers: '60 W', sidesRemoved: 1 },
      ['dimmedCurrent', 'sidesRemoved'],
    ],
    [
      {
        dimmerKind: 'low-voltage-pwm',
        dimmerCurrentRating: '8 A',
        drivers: '60 W',
        voltage: '24 V',
        claim: '2',
      },
      ['claim'],
    ],
    [
      { dimmerRating: '150 W', drivers: '60 W', claim: { figure: 'minimumMet', value: 'yes' } },
      ['dimmerMinimum'],
    ],
    [
      {
        dimmerRating: '150 W',
        drivers: '60 W',
        dimmerMinimum: '25 W',
        claim: { figure: 'minimumMet', value: '3' },
      },
      ['claim'],
    ],
    [{ dimmerRating: '150 W', drivers: '60 W', sidesRemoved: 3 }, ['sidesRemoved']],
  ])('%j: %j', (raw, fields) => {
    expect(errorsOf(dimmerFit, raw).map(({ field }) => field)).toEqual(fields)
  })

  test('nothing odd makes it throw', () =>
    neverThrows(dimmerFit, ['low-voltage-pwm', 'DALI', '150 VA', ['60 W', '60 W']]))
})
