import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { printConductorSize, readConductorSize } from '../../src/quantities/conductor-size'

describe('conductor sizes', () => {
  it.each([
    '14 AWG',
    '14AWG',
    '14 awg',
    '#14',
    '# 14',
    '14 ga',
    '14 ga.',
    '14-gauge',
    '14 gauge',
    'no. 14',
    'No 14',
    'AWG 14',
    '#14 AWG',
    ' 14  AWG ',
  ])('%s is 14 AWG', (text) =>
    expect(readConductorSize(text)).toEqual({ ok: true, value: { value: 14, unit: 'AWG' } }),
  )

  it.each(['1.5 mm2', '1.5 mm²', '1.5mm^2', '1.5 sq mm', '1,5 mm²', '1.5 MM2', '1.5 square millimetres'])(
    '%s is 1.5 mm²',
    (text) => expect(readConductorSize(text)).toEqual({ ok: true, value: { value: 1.5, unit: 'mm2' } }),
  )

  it.each([
    ['14', 'no-unit'],
    ['', 'empty'],
    ['AWG', 'no-number'],
    ['mm2', 'no-number'],
    ['14/2', 'not-understood'],
    ['14.5 AWG', 'not-understood'],
    ['2 x 1.5 mm2', 'not-understood'],
    ['-1.5 mm2', 'not-understood'],
    ['1,500 mm2', 'ambiguous-comma'],
    ['1.5 mm', 'wrong-dimension'],
    ['14 A', 'wrong-dimension'],
    ['1e999 mm2', 'not-finite'],
    ['4'.repeat(201), 'too-long'],
  ])('%j: %s', (text, reason) => expect(readConductorSize(text)).toMatchObject({ ok: false, reason }))

  it('shows an example of the system', () => {
    expect(readConductorSize('14')).toMatchObject({ said: '14', example: '14 AWG' })
    expect(readConductorSize('14', { system: 'metric' })).toMatchObject({ example: '1.5 mm2' })
  })

  it('what is printed reads back', () => {
    const awg = fc.record({ value: fc.integer({ min: 0, max: 40 }), unit: fc.constant('AWG' as const) })
    const mm2 = fc.record({
      value: fc.constantFrom(0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16),
      unit: fc.constant('mm2' as const),
    })
    fc.assert(
      fc.property(fc.oneof(awg, mm2), (size) => {
        expect(readConductorSize(printConductorSize(size))).toEqual({ ok: true, value: size })
      }),
      { numRuns: 1000 },
    )
  })

  it('never throws', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary', maxLength: 210 }),
        (text) => typeof readConductorSize(text).ok === 'boolean',
      ),
      { numRuns: 2000 },
    )
  })
})
