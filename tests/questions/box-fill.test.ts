import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type BoxFillPicture, boxFill } from '../../src/questions/box-fill'
import { answerOf, cautionTexts, errorsOf, figureOf, neverThrows } from './asking'

const cm3PerIn3 = 2.54 ** 3
const ask = (raw: object) => answerOf(boxFill, raw)
const inches = (raw: object, id: string) => Number(figureOf(ask(raw), id)) / cm3PerIn3

// All worked by hand from the text of NEC 2023 314.16(B), from memory; volumes of boxes from table 314.16(A).
describe('worked examples', () => {
  test('a fan box: 14/3 in, 14/2 on to the driver, internal clamps: 7 × 2.00 = 14.0 in an octagon of 15.5', () => {
    const answer = ask({ box: '4 octagon 1-1/2', cables: ['14/3', '14/2'] })
    expect(answer.verdict).toBe('tight')
    expect(figureOf(answer, 'allowances')).toBe(7)
    expect(Number(figureOf(answer, 'required')) / cm3PerIn3).toBeCloseTo(14, 9)
    expect(Number(figureOf(answer, 'spare')) / cm3PerIn3).toBeCloseTo(1.5, 9)
    expect(answer.headline).toContain('1.50 in³ to spare')
    expect(answer.headline).toContain('Another 14/2 would not go in')
    expect(answer.inputs.box).toMatchObject({ value: 'octagon 4 x 1-1/2' })
  })

  // One allowance more for the stud: 8 × 2.00 = 16.0, over 15.5.
  test('the same with the fixture hung on a stud is too full, and a deeper octagon does it', () => {
    const answer = ask({ box: 'octagon 4 x 1-1/2', cables: ['14/3', '14/2'], supportFittings: ['stud'] })
    expect(answer.verdict).toBe('fails')
    expect(answer.headline).toContain('0.50 in³ too much')
    expect(answer.headline).toContain('octagon 4 x 2-1/8 (21.50 in³)')
    expect(answer.headline).toContain('connectors outside the box')
  })

  test('an isolated ground counts with the rest: 2 × 12/3, 7 × 2.25 = 15.75', () => {
    const raw = { box: 'square 4 x 1-1/2', cables: ['2 x 12/3'], isolatedGrounds: 1, clamps: false }
    expect(inches(raw, 'required')).toBeCloseTo(15.75, 9)
    // 2017: an isolated set once more, 8 × 2.25 = 18.
    expect(inches({ ...raw, edition: '2017' }, 'required')).toBeCloseTo(18, 9)
  })

  test('a switch box: 6 + 1 + 2 = 9 × 2.00 fill a marked 18 exactly', () => {
    const answer = ask({ box: '18 cu in', cables: '3 x 14/2', devices: [{}], clamps: false })
    expect(answer.verdict).toBe('tight')
    expect(figureOf(answer, 'spare')).toBeCloseTo(0, 9)
    expect(cautionTexts(answer)).toContain('bulky dimmer')
  })

  test('conductors and a long loop: 6 × 2 + 2 × 2.25 + 2.25 + 2 = 20.75', () => {
    const raw = {
      box: 'square 4 x 1-1/4',
      conductors: [
        { gauge: '14 AWG', count: 4, kind: 'hot' },
        { gauge: '14 AWG', count: 2, kind: 'neutral' },
        { gauge: '14 AWG', count: 4, kind: 'ground' },
      ],
      looped: [{ gauge: '12 AWG', count: 1, long: true }],
    }
    expect(inches(raw, 'required')).toBeCloseTo(20.75, 9)
  })

  test('the table adds up to what is needed', () => {
    const { table } = ask({
      box: '42 in3',
      cables: ['3 x 14/3', '12/2'],
      devices: [{ gangs: 2, wide: true }],
    })
    const volumes = table?.rows.map((row) => Number.parseFloat(String(row.at(-1)))) ?? []
    const rows = volumes.slice(0, -2)
    expect(rows.reduce((sum, each) => sum + each, 0)).toBeCloseTo(volumes.at(-2) ?? Number.NaN, 9)
  })
})

describe('how cables and boxes are written', () => {
  test.each([
    ['12/2/2', '1 x 12/4'],
    ['3 x 12/2/2', '3 x 12/4'],
    ['two 14-2', '2 x 14/2'],
    ['14/2 without ground', '1 x 14/2 no ground'],
    ['12/2 with isolated ground', '1 x 12/2 with isolated ground'],
    ['12/2/2 no ground with isolated ground', '1 x 12/4 no ground with isolated ground'],
  ])('%s is %s, which reads back as itself', (said, canonical) => {
    const raw = { box: 'square 4-11/16 x 2-1/8' }
    expect(ask({ ...raw, cables: [said] }).inputs.cables).toMatchObject({ value: [canonical] })
    const again = ask({ ...raw, cables: [canonical] })
    expect(again.inputs.cables).toMatchObject({ value: [canonical] })
    expect(again.figures).toEqual(ask({ ...raw, cables: [said] }).figures)
  })

  test('every cable and every marked volume reads back from what is written', () => {
    const cables = boxFill.inputs.cables?.field.item
    const box = boxFill.inputs.box?.field
    const gauge = fc.constantFrom(22, 20, 18, 16, 14, 12, 10, 8, 6)
    const grounds = fc.constantFrom(
      '',
      ' no ground',
      ' with isolated ground',
      ' no ground with isolated ground',
    )
    const count = fc.integer({ min: 1, max: 30 })
    fc.assert(
      fc.property(count, gauge, fc.integer({ min: 1, max: 30 }), grounds, (many, size, wires, ground) => {
        const once = cables?.schema('us').parse(`${many} x ${size}/${wires}${ground}`)
        expect(cables?.schema('us').parse(cables.input(once))).toEqual(once)
      }),
      { numRuns: 1000 },
    )
    fc.assert(
      fc.property(fc.double({ min: 3, max: 200, noNaN: true }), (volume) => {
        const once = box?.schema('us').parse(`${volume.toFixed(3)} in3`) as { volumeIn3: number }
        const again = box?.schema('us').parse(box.input(once)) as { volumeIn3: number }
        expect(again.volumeIn3 / once.volumeIn3).toBeCloseTo(1, 12)
      }),
    )
  })

  test('cubic inches and cubic centimetres are one', () => {
    const figures = (box: string) => ask({ box, cables: '14/2' }).figures.map(({ text }) => text)
    expect(figures('294.967152 cm3')).toEqual(figures('18 in3'))
  })
})

describe('claims, room and units', () => {
  test('an inspector says 2 cubic inches are spare; it is 21.5 − 20 = 1.5', () => {
    const answer = ask({ box: 'octagon 4 x 2-1/8', cables: '4 x 14/2', claim: '2 in3' })
    expect(answer.claim).toMatchObject({ verdict: 'fails' })
    expect(answer.claim?.wouldHoldIf).toContain('Cable, how many at most 3')
    expect(ask({ box: 'octagon 4 x 2-1/8', cables: '4 x 14/2', claim: '1 in3' }).claim?.verdict).toBe('holds')
  })

  test('isolated grounds have room until a quarter allowance too many', () => {
    const raw = { box: '18 in3', cables: '3 x 14/2', devices: [{}], clamps: false }
    const until = ask(raw).room.find(({ field }) => field === 'isolatedGrounds')?.until?.value ?? Number.NaN
    expect(ask({ ...raw, isolatedGrounds: until }).verdict).toBe('tight')
    expect(ask({ ...raw, isolatedGrounds: until + 1 }).verdict).toBe('fails')
  })

  // By hand in a box of 24: 14/3 and 3 × 14/2 take 22, over 0.9 × 24; 5 × 14/2 take 24.5; 9 × 12 AWG with clamps 22.5.
  test.each([
    [{ cables: ['14/3', '2 x 14/2'] }, 'cables.1', 2],
    [{ cables: ['14/2'] }, 'cables.0', 4],
    [{ conductors: [{ gauge: '12 AWG' }] }, 'conductors.0.count', 8],
  ])('%j: one more of a kind until the answer changes', (raw, field, most) => {
    const found = ask({ box: '24 in3', ...raw }).room.find((room) => room.field === field)
    expect(found?.until?.value).toBe(most)
    expect(found?.text).toContain(', how many: still a fit up to')
  })

  test('metric prints cubic centimetres first', () => {
    const answer = ask({ box: '18 in3', cables: '14/2', units: 'metric' })
    expect(answer.headline).toContain('295.0 cm³')
    expect(answer.table?.rows[0]?.at(-1)).toContain('cm³')
  })

  test('one more cable never makes more room', () => {
    const cables = fc.array(fc.constantFrom('14/2', '14/3', '12/2 no ground', '2 x 10/3', '6/3'), {
      minLength: 1,
      maxLength: 6,
    })
    fc.assert(
      fc.property(cables, fc.constantFrom('14/2', '12/3', '8/2'), (had, more) => {
        const spare = (each: string[]) => Number(figureOf(ask({ box: '30.3 in3', cables: each }), 'spare'))
        expect(spare([...had, more])).toBeLessThan(spare(had))
      }),
      { numRuns: 300 },
    )
  })
})

describe('the picture', () => {
  test('its layers and what is free make up the box', () => {
    const answer = ask({ box: '21 in3', cables: ['14/3', '12/2'], devices: [{}] })
    const data = answer.picture?.data as BoxFillPicture
    const filled = data.parts.reduce((sum, { volumeCm3 }) => sum + volumeCm3, 0)
    expect(filled + data.spareCm3).toBeCloseTo(data.boxCm3, 9)
    expect(answer.picture?.kind).toBe('box-fill')
    for (const { text } of data.parts) expect(data.description).toContain(text)
  })
})

describe('under iec', () => {
  test.each([
    [{}],
    [{ box: 'octagon 4 x 1-1/2', cables: ['14/2'] }],
    [{ box: '47 mm deep', cables: '3 x 2.5 mm2', claim: '2 in3' }],
    [{ conductors: [{ gauge: '2.5 mm2', count: 3 }], 'claim.figure': 'verdict', 'claim.value': 'holds' }],
  ])('%j: no such rule, and no number borrowed', (raw) => {
    const answer = ask({ rules: 'iec', ...raw })
    expect(answer).toMatchObject({ verdict: 'info', figures: [], limits: [], working: [], room: [] })
    expect(answer.headline).toMatch(/no rule.*maker/)
    expect(answer.headline).not.toMatch(/\d (?:in|cm)³/)
    expect(answer.claim).toBeUndefined()
    expect(answer.picture).toBeUndefined()
    expect(answer.sources.map(({ id }) => id).filter((id) => id.startsWith('nec'))).toEqual([])
  })
})

describe('faults', () => {
  const cables = ['14/2']
  test.each([
    [{}, ['box', 'cables']],
    [{ box: 'octagon 4 x 1-1/2' }, ['cables']],
    [{ box: 'octagon 4 x 1-1/2', cables, conductors: [{ gauge: '14 AWG' }] }, ['conductors']],
    [{ box: '4 square', cables }, ['box']],
    [{ box: 'teapot', cables }, ['box']],
    [{ box: 'octagon 5 x 5', cables }, ['box']],
    [{ box: '300 in3', cables }, ['box']],
    [
      { box: '18 in3', cables: ['99/2', '14', '14/99', '40 x 14/2', '14/2 tartan'] },
      [0, 1, 2, 3, 4].map((at) => `cables.${at}`),
    ],
    [
      { box: '18 in3', conductors: [{ gauge: '2.5 mm2' }, { gauge: '4 AWG' }] },
      ['conductors.0.gauge', 'conductors.1.gauge'],
    ],
    [
      { box: '18 in3', cables, devices: [{ gauge: '13 AWG' }], terminalBlocks: ['3 AWG'] },
      ['devices.0.gauge', 'terminalBlocks.0'],
    ],
    [{ box: '18 in3', cables, looped: [{ gauge: '1 mm2' }] }, ['looped.0.gauge']],
    [{ box: '18 in3', cables, edition: '2014' }, ['edition']],
  ])('%j: %j', (raw, fields) => {
    const errors = errorsOf(boxFill, raw)
    expect(errors.map(({ field }) => field)).toEqual(fields)
    for (const { message } of errors) expect(message).not.toMatch(/[{}]/)
  })

  test('what is near is named', () => {
    expect(errorsOf(boxFill, { box: '4 square', cables })[0]?.message).toContain('square 4 x 2-1/8')
  })

  test('nothing odd makes it throw', () =>
    neverThrows(boxFill, [
      '14/2',
      ['2 x 14/2'],
      '18 in3',
      'octagon 4 x 1-1/2',
      [{}],
      '2017',
      [{ gauge: '14 AWG' }],
    ]))
})
