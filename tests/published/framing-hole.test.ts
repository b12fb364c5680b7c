import { describe, expect, test } from 'vitest'
import { type FramingInput, framing } from '../../src/calculators/framing'
import { memberDepthM } from '../../src/tables/lumber'

const inch = 0.0254
const of = (member: string, use: FramingInput['use'], rest: Partial<FramingInput> = {}) =>
  framing({ rules: 'nec', use, depthM: memberDepthM(member) ?? Number.NaN, engineered: false, ...rest })
const hole = (diameterIn: number, edgeIn?: number) => ({
  kind: 'hole' as const,
  diameterM: diameterIn * inch,
  edgeDistanceM: edgeIn === undefined ? undefined : edgeIn * inch,
})
const notch = (depthIn: number, lengthIn?: number, place?: 'end' | 'outer-third' | 'middle-third') => ({
  kind: 'notch' as const,
  depthM: depthIn * inch,
  lengthM: lengthIn === undefined ? undefined : lengthIn * inch,
  place,
})
const inInches = (lengthM: number | null) => (lengthM === null ? null : lengthM / inch)

// PS 20-20 table 3, from memory.
test('dressed depths', () => {
  const depths = ['2x4', '2x6', '2x8', '2x10', '2x12'].map((member) => (memberDepthM(member) ?? 0) / inch)
  expect(depths.map((depth) => Number(depth.toFixed(4)))).toEqual([3.5, 5.5, 7.25, 9.25, 11.25])
})

// Figure R502.8 of IRC 2021 prints d/3, d/6 and d/4 for each member in decimal inches, from memory; the 2 in to both
// edges binds for 2x6 and smaller, worked by hand from R502.8.1.
test.each([
  ['2x4', 0, 0.583, 0.875],
  ['2x6', 1.5, 0.917, 1.375],
  ['2x8', 2.417, 1.208, 1.8125],
  ['2x10', 3.083, 1.542, 2.3125],
  ['2x12', 3.75, 1.875, 2.8125],
])('a %s joist: hole %f in, notch %f in, at the end %f in', (member, holeIn, notchIn, endIn) => {
  const joist = of(member, 'joist')
  expect(inInches(joist.largestHoleM)).toBeCloseTo(holeIn, 3)
  expect(inInches(joist.deepestNotchM)).toBeCloseTo(notchIn, 3)
  expect(inInches(of(member, 'joist', { cut: notch(1, 1, 'end') }).deepestNotchM)).toBeCloseTo(endIn, 4)
})

// By hand from the text of IRC 2021 R502.8.1 and NEC 2023 300.4(A).
describe('joists', () => {
  test('2x6, 1.4 in hole 2.5 in from one edge leaves 1.6 in', () => {
    const joist = of('2x6', 'joist', { cut: hole(1.4, 2.5) })
    expect(joist).toMatchObject({ allowed: false, reasons: ['edge-left'], platesNeeded: 0 })
    expect(inInches(joist.edgeLeftM)).toBeCloseTo(1.6, 9)
    expect(inInches(joist.edgeNeededM)).toBeCloseTo(2, 9)
  })

  test('2x10, 7/8 in in the middle is allowed without a plate', () => {
    expect(of('2x10', 'joist', { cut: hole(0.875) })).toMatchObject({ allowed: true, platesNeeded: 0 })
  })

  test('2x10 notch of 1-1/4 x 3 in in the outer third', () => {
    const joist = of('2x10', 'joist', { cut: notch(1.25, 3, 'outer-third') })
    expect(joist).toMatchObject({ allowed: true, platesNeeded: 1, needs: [] })
    expect(inInches(joist.longestNotchM)).toBeCloseTo(3.083, 3)
  })

  test('a notch is too long, too deep, or in the middle third', () => {
    const reasons = (...cut: Parameters<typeof notch>) => of('2x10', 'joist', { cut: notch(...cut) }).reasons
    expect(reasons(1.25, 3.2)).toEqual(['notch-length'])
    expect(reasons(1.6, 3)).toEqual(['notch-depth'])
    expect(reasons(1, 1, 'middle-third')).toContain('notch-in-middle-third')
  })

  test('holes keep 2 in from each other', () => {
    const apart = (inches: number) => of('2x10', 'joist', { cut: hole(1), otherHoleDistanceM: inches * inch })
    expect(apart(1.9).reasons).toEqual(['other-hole'])
    expect(apart(2).allowed).toBe(true)
  })

  test('engineered lumber is refused', () => {
    expect(of('2x10', 'joist', { cut: hole(0.5), engineered: true })).toMatchObject({
      allowed: false,
      reasons: ['engineered'],
      largestHoleM: null,
    })
  })
})

// By hand from the text of IRC 2021 R602.6: 40 % and 60 % of 3.5 in are 1.40 and 2.10 in, 25 % is 0.875 in.
describe('studs', () => {
  test.each([
    ['stud-bearing', 1.4, 0.875],
    ['stud-bearing-doubled', 2.1, 0.875],
    ['stud-other', 2.1, 1.4],
  ] as const)('a 2x4 %s: hole %f in, notch %f in', (use, holeIn, notchIn) => {
    const stud = of('2x4', use)
    expect(inInches(stud.largestHoleM)).toBeCloseTo(holeIn, 9)
    expect(inInches(stud.deepestNotchM)).toBeCloseTo(notchIn, 9)
    expect(inInches(stud.edgeNeededM)).toBeCloseTo(0.625, 9)
    // NEC 300.4(A)(1): 3.5 in − 2 · 1-1/4 in.
    expect(inInches(stud.largestHoleWithoutPlateM)).toBeCloseTo(1, 9)
  })

  test('a centred 1.4 in hole in a 2x4 takes two plates, one off centre takes one', () => {
    expect(of('2x4', 'stud-bearing', { cut: hole(1.4) })).toMatchObject({ allowed: true, platesNeeded: 2 })
    expect(of('2x4', 'stud-bearing', { cut: hole(1, 1.4) })).toMatchObject({ allowed: true, platesNeeded: 1 })
    expect(of('2x4', 'stud-bearing', { cut: hole(1) }).platesNeeded).toBe(0)
  })

  // 60 % of 5.5 in is 3.3 in; (5.5 − 3) / 2 = 1.25 in is left, just enough for no plate.
  test('a doubled 2x6 bearing stud takes a 3 in hole', () => {
    expect(of('2x6', 'stud-bearing-doubled', { cut: hole(3) })).toMatchObject({
      allowed: true,
      platesNeeded: 0,
    })
    expect(of('2x6', 'stud-bearing', { cut: hole(3) })).toMatchObject({
      allowed: false,
      reasons: ['hole-diameter'],
    })
  })

  test('a hole never sits in one section with a notch', () => {
    expect(of('2x4', 'stud-other', { cut: hole(1), otherHoleDistanceM: 0 }).reasons).toEqual(['same-section'])
  })
})

// By hand from IRC 2021 R602.6.1: over half of 3.5 in a tie is needed.
test('a top plate cut over half takes a metal tie', () => {
  expect(of('2x4', 'top-plate', { cut: hole(1.75) })).toMatchObject({ allowed: true, needs: [] })
  expect(of('2x4', 'top-plate', { cut: hole(2) })).toMatchObject({ allowed: true, needs: ['top-plate-tie'] })
  expect(of('2x4', 'top-plate', { cut: hole(3.5) }).reasons).toEqual(['through-the-edge'])
})

// UK guidance (Approved Document A), from memory, on a joist of 200 mm over 4 m.
describe('iec', () => {
  const joist = (cut: FramingInput['cut'], fromSupportM?: number, rest: Partial<FramingInput> = {}) =>
    framing({
      rules: 'iec',
      use: 'joist',
      depthM: 0.2,
      engineered: false,
      cut,
      spanM: 4,
      fromSupportM,
      ...rest,
    })

  test('holes: a quarter of the depth, from 1.0 to 1.6 m of either support', () => {
    const bored = { kind: 'hole' as const, diameterM: 0.05 }
    expect(joist(bored, 1.2)).toMatchObject({ allowed: true, platesNeeded: 0, reasons: [] })
    expect(joist(bored, 2.8).allowed).toBe(true)
    expect(joist(bored, 0.9).reasons).toEqual(['hole-zone-from'])
    expect(joist(bored, 2).reasons).toEqual(['hole-zone-to'])
    expect(joist({ ...bored, diameterM: 0.051 }, 1.2).reasons).toEqual(['hole-diameter'])
    expect(joist({ ...bored, edgeDistanceM: 0.06 }, 1.2).reasons).toEqual(['off-centre-line'])
    expect(joist(bored).needs).toEqual(['place-along-span'])
    expect(joist(bored, 1.2, { otherHoleDistanceM: 0.14 }).reasons).toEqual(['other-hole'])
    expect(joist({ ...bored, diameterM: 0.06 }, 1.2, { depthM: 0.3 }).reasons).toEqual(['joist-depth'])
  })

  test('a joist deeper than the guidance covers has no figure at all', () => {
    const deep = { depthM: 0.3 }
    const none = { largestHoleM: null, deepestNotchM: null, reasons: ['joist-depth'] }
    expect(joist(undefined, undefined, deep)).toMatchObject({ allowed: null, ...none })
    expect(joist({ kind: 'hole', diameterM: 0.02 }, 1.2, deep)).toMatchObject({ allowed: false, ...none })
    expect(joist(undefined, undefined, { depthM: 0.25 }).largestHoleM).toBeCloseTo(0.0625, 9)
  })

  test('notches: an eighth of the depth, from 0.28 to 1.0 m of either support', () => {
    const cut = { kind: 'notch' as const, depthM: 0.025 }
    expect(joist(cut, 0.5)).toMatchObject({ allowed: true, platesNeeded: 1 })
    expect(joist(cut, 0.2).reasons).toEqual(['notch-zone-from'])
    expect(joist(cut, 1.2).reasons).toEqual(['notch-zone-to'])
    expect(joist({ ...cut, depthM: 0.026 }, 0.5).reasons).toEqual(['notch-depth'])
  })

  test('no figure for studs', () => {
    const stud = framing({ rules: 'iec', use: 'stud-bearing', depthM: 0.1, engineered: false })
    expect(stud).toMatchObject({ allowed: null, reasons: ['no-figure'] })
  })
})
