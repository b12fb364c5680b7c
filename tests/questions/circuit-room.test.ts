import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { circuitRoom } from '../../src/questions/circuit-room'
import { answerOf, cautionTexts, errorsOf, figureOf, neverThrows } from './asking'

const ask = (raw: object) => answerOf(circuitRoom, { breaker: '15 A', ...raw })

describe('figures', () => {
  // NEC 210.20(A) by hand: 15 A · 120 V · 80 % = 1440 VA, and 1296 W at 0.9.
  test('an empty 15 A circuit', () => {
    const answer = ask({})
    expect(answer.verdict).toBe('info')
    expect(figureOf(answer, 'spare')).toBeCloseTo(1440, 9)
    expect(figureOf(answer, 'spareWatts')).toBeCloseTo(1296, 9)
    expect(figureOf(answer, 'spareCurrent')).toBeCloseTo(12, 9)
    expect(answer.headline).toContain('1440 VA')
  })

  // NEC 210.20(A) by hand: 1400 W / 0.9 / 120 V = 12.96 A against 12 A.
  test('1400 W of drivers is too much, and the way out has its numbers', () => {
    const answer = ask({ added: ['700 W', '700 W'] })
    expect(answer.verdict).toBe('fails')
    expect(figureOf(answer, 'spare')).toBeCloseTo(1440 - 1400 / 0.9, 9)
    expect(answer.headline).toContain('12.97 A')
    expect(answer.headline).toContain('1296 W')
    expect(answer.headline).toContain('104 W')
  })

  // IEC 60898-1: a breaker carries its rating; 16 A · 230 V = 3680 VA, (1400 + 190) W / 0.9 = 1766.7 VA, and
  // 1913.3 VA of room for drivers of 211.1 VA: nine.
  test('under iec a breaker carries its rating', () => {
    const answer = ask({ rules: 'iec', breaker: '16 A', existing: '1400 W', added: '190 W' })
    expect(answer.verdict).toBe('holds')
    expect(figureOf(answer, 'allowed')).toBeCloseTo(3680, 9)
    expect(figureOf(answer, 'used')).toBeCloseTo(1766.667, 3)
    expect(figureOf(answer, 'driversMore')).toBe(9)
    expect(cautionTexts(answer)).toContain('type B or type C')
    expect(answer.sources.map(({ id }) => id).filter((id) => id.startsWith('nec'))).toEqual([])
  })

  // A clamp shows amperes, and those are volt-amperes by the voltage: 5 A · 120 V.
  test('amperes need no power factor', () => {
    expect(figureOf(ask({ existing: '5 A', powerFactor: 0.5 }), 'used')).toBeCloseTo(600, 9)
  })

  test('units do not matter', () => {
    expect(ask({ existing: '0.9 kW' }).figures).toEqual(ask({ existing: '900 W' }).figures)
  })

  // A load that is not continuous may take the whole breaker (NEC 210.20(A)): 15 A · 120 V.
  test('not continuous: the whole breaker', () => {
    expect(figureOf(ask({ continuous: false }), 'allowed')).toBeCloseTo(1800, 9)
  })
})

describe('verdicts and claims', () => {
  test.each([
    // 90 % of 1296 W is 1166.4 W.
    ['1166 W', 'holds'],
    ['1167 W', 'tight'],
    ['1296 W', 'tight'],
    ['1297 W', 'fails'],
  ])('%s on a 15 A circuit: %s', (existing, verdict) => {
    expect(ask({ existing }).verdict).toBe(verdict)
  })

  test('he says it is fine', () => {
    const claim = { figure: 'verdict', value: 'holds' }
    expect(ask({ existing: '900 W', claim }).claim?.verdict).toBe('holds')
    const failing = ask({ existing: '1300 W', added: '200 W', claim })
    expect(failing).toMatchObject({ verdict: 'fails', claim: { verdict: 'fails' } })
    // 1296 W − 200 W, by hand.
    expect(failing.claim?.wouldHoldIf.join(' ')).toContain('1095')
  })

  // By hand: (650 + 300) W / 0.9 = 1055.6 VA of 1440 VA, 73.3 %.
  test('a claim on the share that is used', () => {
    const answer = ask({ existing: '650 W', added: '300 W', claim: { figure: 'usedPercent', value: '70 %' } })
    expect(answer.claim?.verdict).toBe('fails')
  })

  test('an empty circuit that nobody spoke of is said to be assumed', () => {
    expect(ask({ added: '300 W' }).headline).toContain('otherwise empty')
    expect(ask({ existing: '0 W', added: '300 W' }).headline).not.toContain('otherwise empty')
  })
})

describe('room', () => {
  test.each(['existing', 'added.0'])('%s changes the verdict just beyond its room', (field) => {
    const raw = { existing: '600 W', added: ['300 W'] }
    const room = ask(raw).room.find((each) => each.field === field)
    const until = room?.until?.value ?? Number.NaN
    const at = (value: number) =>
      ask({ ...raw, ...(field === 'existing' ? { existing: `${value} W` } : { added: [`${value} W`] }) })
        .verdict
    expect(at(until)).toBe('holds')
    expect(at(until * 1.006)).toBe('tight')
  })

  test('more load never makes more room', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 5000, noNaN: true }),
        fc.double({ min: 0, max: 900, noNaN: true }),
        (had, more) => {
          const spare = (watts: number) => Number(figureOf(ask({ existing: `${watts} W` }), 'spare'))
          expect(spare(had + more)).toBeLessThanOrEqual(spare(had) + 1e-9)
        },
      ),
      { numRuns: 200 },
    )
  })
})

describe('cautions', () => {
  test('mains, dwelling circuits, arc faults', () => {
    const texts = cautionTexts(ask({}))
    for (const part of [
      'lock it off',
      'Splice only',
      'barrier',
      'kitchen',
      'arc-fault',
      'does not prove the cable',
    ])
      expect(texts).toContain(part)
    expect(texts).not.toContain('20 A or less')
  })

  // NEC 411.7, from memory.
  test('a breaker over 20 A is too large for low-voltage lighting, under the NEC alone', () => {
    expect(cautionTexts(ask({ breaker: '25 A' }))).toContain('20 A or less')
    expect(cautionTexts(ask({ rules: 'iec', breaker: '25 A' }))).not.toContain('20 A or less')
  })
})

describe('faults', () => {
  test.each([
    [{}, ['breaker']],
    [{ breaker: '13 A' }, ['breaker']],
    [{ breaker: '15 A', rules: 'iec' }, ['breaker']],
    [{ breaker: '16 A', rules: 'iec', supply: '120 V' }, ['supply']],
    [{ breaker: '15 A', supply: '12 V' }, ['supply']],
    [{ breaker: '15', added: '60 V', existing: '-1 W' }, ['breaker', 'existing', 'added.0']],
    [{ breaker: '15 A', nonsense: 1 }, ['nonsense']],
  ])('%j: %j', (raw, fields) => {
    expect(errorsOf(circuitRoom, raw).map(({ field }) => field)).toEqual(fields)
  })

  test('nothing odd makes it throw', () => neverThrows(circuitRoom))
})
