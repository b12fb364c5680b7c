import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { sharedNeutral } from '../../src/questions/shared-neutral'
import { answerOf, cautionTexts, errorsOf, figureOf, neverThrows } from './asking'

const ask = (raw: object) => answerOf(sharedNeutral, raw)
const hot = (current: number, circuit: string, leg?: string) => ({
  current: `${current} A`,
  circuit,
  ...(leg ? { leg } : {}),
})

describe('one circuit', () => {
  // NEC 200.4 and 300.3(B): two switched hots of one breaker are one circuit; the neutral carries their sum.
  test('a fan box with 14/3 in it: 3 A and 2 A of one breaker may share, and it carries 5 A', () => {
    const answer = ask({ hots: [hot(3, '7'), hot(2, 'breaker 7')], gauge: '14 AWG', breaker: '15 A' })
    expect(answer.verdict).toBe('holds')
    expect(figureOf(answer, 'neutralCurrent')).toBe(5)
    expect(figureOf(answer, 'neutralAtWorst')).toBe(5)
    // NEC 240.4(D), from memory: 14 AWG is protected at 15 A.
    expect(figureOf(answer, 'neutralCapacity')).toBe(15)
    expect(answer.headline).toMatch(/^Yes.*5 A/)
    expect(answer.inputs.supplyKind).toMatchObject({ value: 'one-circuit', from: 'assumed' })
    expect(cautionTexts(answer)).toContain('Never open a shared neutral')
    expect(cautionTexts(answer)).toContain('0 V means one leg')
  })

  test('nobody names the breaker of what is said to be one circuit', () => {
    const hots = [{ current: '3 A' }, { current: '4 A' }]
    expect(figureOf(ask({ hots, supplyKind: 'one-circuit' }), 'neutralCurrent')).toBe(7)
  })

  // I = P / (V · pf), by hand: 108 W and 216 W at 120 V and 0.9 are 1 A and 2 A.
  test('watts become amperes', () => {
    const hots = [
      { load: '108 W', circuit: '7' },
      { load: '0.216 kW', circuit: '7' },
    ]
    expect(figureOf(ask({ hots }), 'neutralCurrent')).toBeCloseTo(3, 9)
  })

  test('one circuit with two breakers is none', () => {
    const answer = ask({ hots: [hot(3, '1'), hot(2, '2')], supplyKind: 'one-circuit' })
    expect(answer.verdict).toBe('fails')
    expect(answer.cautions[0]).toMatchObject({ level: 'stop' })
  })

  test.each([
    // 90 % of 15 A is 13.5 A.
    [13.5, 'holds'],
    [14, 'tight'],
    [15, 'tight'],
    [15.1, 'fails'],
  ])('%f A on 14 AWG: %s', (sum, verdict) => {
    expect(ask({ hots: [hot(sum - 3, '1'), hot(3, '1')], gauge: '14 AWG' }).verdict).toBe(verdict)
  })

  test('without a gauge it is for information, but a breaker that is passed still fails', () => {
    expect(ask({ hots: [hot(3, '1'), hot(4, '1')] }).verdict).toBe('info')
    expect(ask({ hots: [hot(3, '1'), hot(4, '1')], breaker: '15 A' }).verdict).toBe('info')
    expect(ask({ hots: [hot(9, '1'), hot(8, '1')], breaker: '15 A' }).verdict).toBe('fails')
  })
})

describe('several legs', () => {
  // Phasors of opposite legs: |8 − 6| and, not cancelling, √(8² + 6²) = 10.
  test('opposite legs', () => {
    const answer = ask({ hots: [hot(8, '5', 'A'), hot(6, '8', 'B')], claim: '2 A' })
    expect(figureOf(answer, 'neutralCurrent')).toBeCloseTo(2, 9)
    expect(figureOf(answer, 'neutralAtWorst')).toBeCloseTo(10, 9)
    expect(answer.claim?.verdict).toBe('tight')
    expect(cautionTexts(answer)).toContain('handle tie')
    expect(cautionTexts(answer)).toContain('240 V means opposite legs')
  })

  test('loads that are not electronic carry the greater one at worst', () => {
    const hots = [hot(8, '5', 'A'), hot(6, '8', 'B')]
    expect(figureOf(ask({ hots, electronic: false }), 'neutralAtWorst')).toBe(8)
  })

  // NEC 310.15(E) and any handbook on harmonics: √3 · 10 A.
  test('a balanced wye of drivers puts 17.3 A in a neutral for 15 A', () => {
    const hots = ['A', 'B', 'C'].map((leg) => ({ current: '10 A', leg }))
    const claim = { figure: 'verdict', value: 'holds' }
    const answer = ask({ hots, gauge: '14 AWG', claim })
    expect(figureOf(answer, 'neutralCurrent')).toBeCloseTo(0, 9)
    expect(figureOf(answer, 'neutralAtWorst')).toBeCloseTo(17.3205, 4)
    expect(answer).toMatchObject({ verdict: 'fails', claim: { verdict: 'fails' } })
    // 15² − 10² − 10² leaves 5 A for the third.
    expect(answer.claim?.wouldHoldIf[0]).toMatch(/at most (4\.99|5) A/)
  })

  test('two breakers on one leg: not allowed, and they add up', () => {
    const hots = [hot(6, '1', 'A'), hot(5, '2', 'A')]
    const answer = ask({ hots, supplyKind: 'single-phase-three-wire', gauge: '12 AWG' })
    expect(answer.verdict).toBe('fails')
    expect(figureOf(answer, 'neutralCurrent')).toBe(11)
    expect(answer.headline).toMatch(/^No: two breakers on one leg/)
    expect(answer.cautions[0]).toMatchObject({ level: 'stop' })
  })

  test('two breakers and no word of the legs: not until that is known', () => {
    const answer = ask({ hots: [hot(6, '1'), hot(5, '2')] })
    expect(answer.verdict).toBe('fails')
    expect(answer.headline).toContain('Measure between the hots first')
  })
})

describe('under iec', () => {
  // BS 7671 314.4, from memory.
  test('circuits never share', () => {
    const answer = ask({ rules: 'iec', hots: [hot(6, '1', 'A'), hot(5, '2', 'B')], gauge: '1.5 mm2' })
    expect(answer.verdict).toBe('fails')
    expect(answer.headline).toContain('IEC')
  })

  // IEC 60364-5-52 method A1, from memory: 1.5 mm² carries 14.5 A.
  test('one circuit does, by its own numbers', () => {
    const answer = ask({ rules: 'iec', units: 'metric', hots: [hot(3, '1'), hot(4, '1')], gauge: '1.5 mm2' })
    expect(answer.verdict).toBe('holds')
    expect(figureOf(answer, 'neutralCapacity')).toBe(14.5)
    expect(answer.sources.map(({ id }) => id).filter((id) => id.startsWith('nec'))).toEqual([])
  })
})

test('a hot may rise as far as its room says', () => {
  const at = (first: number) => ask({ hots: [hot(first, '7'), hot(2, '7')], gauge: '14 AWG' })
  const until = at(3).room.find(({ field }) => field === 'hots.0.current')?.until?.value ?? Number.NaN
  expect(at(until).verdict).toBe('holds')
  expect(at(until * 1.006).verdict).toBe('tight')
})

test('the neutral never carries more than all the hots together', () => {
  const each = fc.record({
    current: fc.double({ min: 0, max: 100, noNaN: true }),
    circuit: fc.constantFrom('1', '2'),
    leg: fc.constantFrom('A', 'B', undefined),
  })
  fc.assert(
    fc.property(fc.array(each, { minLength: 2, maxLength: 6 }), fc.boolean(), (hots, electronic) => {
      const answer = ask({
        hots: hots.map(({ current, circuit, leg }) => hot(current, circuit, leg)),
        electronic,
      })
      const sum = hots.reduce((total, { current }) => total + current, 0)
      for (const id of ['neutralCurrent', 'neutralAtWorst'])
        expect(figureOf(answer, id)).toBeLessThanOrEqual(sum * (1 + 1e-9) + 1e-9)
    }),
    { numRuns: 1000 },
  )
})

describe('faults', () => {
  test.each([
    [{}, ['hots']],
    [{ hots: [hot(3, '1')] }, ['hots']],
    [{ hots: [{ circuit: '1' }, hot(2, '1')] }, ['hots.0.current']],
    [{ hots: [{ circuit: '1', load: '5 W', current: '1 A' }, hot(2, '1')] }, ['hots.0.load']],
    [{ hots: [{ current: '3 A' }, { current: '2 A' }] }, ['hots.0.circuit', 'hots.1.circuit']],
    [{ hots: [hot(1, '1', 'A'), hot(2, '2', 'C')], supplyKind: 'single-phase-three-wire' }, ['hots.1.leg']],
    [{ hots: [hot(1, '1'), hot(2, '1')], gauge: '18 AWG' }, ['gauge']],
    [{ hots: [hot(1, '1'), hot(2, '1')], gauge: '1.5 mm2' }, ['gauge']],
    [{ hots: [hot(1, '1'), hot(2, '1')], gauge: '0.75 mm2', rules: 'iec' }, ['gauge']],
    [{ hots: [hot(1, '1'), hot(2, '1')], breaker: '16 A', supply: '400 V' }, ['supply']],
    [{ hots: [hot(1, '1'), hot(2, '1')], breaker: '16 A' }, ['breaker']],
    [{ hots: [hot(1, '1'), { ...hot(2, '1'), phase: 'A' }] }, ['hots.1.phase']],
  ])('%j: %j', (raw, fields) => {
    expect(errorsOf(sharedNeutral, raw).map(({ field }) => field)).toEqual(fields)
  })

  test('nothing odd makes it throw', () =>
    neverThrows(sharedNeutral, [
      [hot(3, '1'), hot(2, '1')],
      [hot(3, '1', 'A'), hot(2, '2', 'B')],
      'one-circuit',
    ]))
})
