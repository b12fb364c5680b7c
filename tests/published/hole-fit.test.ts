import { describe, expect, test } from 'vitest'
import { fillLimitPercent, holeFit } from '../../src/calculators/bundle'
import { packCircles } from '../../src/calculators/circle-packing'
import { drillBits } from '../../src/tables/drill-bits'
import { emt } from '../../src/tables/raceways'

const holeOf = (diametersMm: number[], rest = {}) =>
  holeFit({
    rules: 'nec',
    system: 'us',
    cables: diametersMm.map((mm) => ({ count: 1, diameterM: mm / 1000 })),
    nipple: false,
    ...rest,
  })

// Equal circles in a circle, radius of the outer by the inner one: closed forms for 1 to 7 and 19, and Graham,
// Lubachevsky, Nurmela, Östergård, Dense packings of congruent circles in a circle (1998), from memory.
const equalCircles: [number, number][] = [
  [1, 1],
  [2, 2],
  [3, 1 + 2 / Math.sqrt(3)],
  [4, 1 + Math.SQRT2],
  [5, 1 + Math.sqrt(2 * (1 + 1 / Math.sqrt(5)))],
  [6, 3],
  [7, 3],
  [8, 1 + 1 / Math.sin(Math.PI / 7)],
  [9, 1 + Math.sqrt(2 * (2 + Math.SQRT2))],
  [10, 3.813],
  [11, 1 + 1 / Math.sin(Math.PI / 9)],
  [12, 4.0296],
  [13, 2 + Math.sqrt(5)],
  [14, 4.3284],
  [15, 4.5214],
  [16, 4.6154],
  [17, 4.792],
  [18, 1 + Math.SQRT2 + Math.sqrt(6)],
  [19, 1 + Math.SQRT2 + Math.sqrt(6)],
]

describe('the smallest circle around circles', () => {
  test.each(equalCircles)('%i equal ones', (count, ratio) => {
    const { radius } = packCircles(Array(count).fill(1))
    expect(radius / ratio).toBeLessThan(1.005)
    // Nothing feasible is smaller than the packing known, save for its last printed digit.
    expect(radius / ratio).toBeGreaterThan(1 - 2e-5)
  })

  // Descartes' circle theorem: the circle around three that touch each other has the curvature
  // a + b + c − 2·√(ab + bc + ca), negative.
  test.each([
    [3, 2, 1.8],
    [5, 4, 3],
    [1, 1, 0.8],
  ])('three that touch: %f, %f, %f', (...radii) => {
    const [a, b, c] = radii.map((radius) => 1 / radius) as [number, number, number]
    const around = -1 / (a + b + c - 2 * Math.sqrt(a * b + b * c + c * a))
    expect(packCircles(radii).radius / around).toBeCloseTo(1, 7)
  })

  // Pappus chain: beside circles of 3 and 2 across one of 5 there is room for 1/(1/3 + 1/2 − 1/5) = 1.579.
  test('a third that fits beside two adds nothing', () => {
    expect(packCircles([3, 2, 1.5]).radius / 5).toBeGreaterThanOrEqual(1 - 1e-9)
    expect(packCircles([3, 2, 1.5]).radius / 5).toBeLessThan(1 + 1e-7)
  })

  // Circles of the radii 1, 2, … n: best packings published in the programming contest of 2005–2006, from memory.
  test.each([
    [5, 9.001398],
    [6, 11.05704],
    [7, 13.462111],
    [8, 16.221747],
  ])('radii 1 to %i', (count, around) => {
    const radii = Array.from({ length: count }, (_, i) => i + 1)
    expect(packCircles(radii).radius / around).toBeLessThan(1.005)
    expect(packCircles(radii).radius / around).toBeGreaterThan(1 - 1e-6)
  })
})

// NEC chapter 9 table 4, article 358, from memory: in², total, 60 %, one wire 53 %, two wires 31 %, over two 40 %.
const tableFour: [string, number, number, number, number, number][] = [
  ['1/2', 0.304, 0.182, 0.161, 0.094, 0.122],
  ['3/4', 0.533, 0.32, 0.283, 0.165, 0.213],
  ['1', 0.864, 0.519, 0.458, 0.268, 0.346],
  ['1-1/4', 1.496, 0.897, 0.793, 0.464, 0.598],
  ['1-1/2', 2.036, 1.221, 1.079, 0.631, 0.814],
  ['2', 3.356, 2.013, 1.778, 1.04, 1.342],
]

test.each(tableFour)('EMT %s: areas of table 4', (tradeSize, total, nipple, one, two, more) => {
  const { innerDiameterM = Number.NaN } = emt.find((size) => size.tradeSize === tradeSize) ?? {}
  const areaIn2 = (Math.PI / 4) * (innerDiameterM / 0.0254) ** 2
  const shares = [100, fillLimitPercent(3, true), fillLimitPercent(1, false), fillLimitPercent(2, false)]
  const areas = [...shares, fillLimitPercent(3, false)].map((percent) => (areaIn2 * percent) / 100)
  // The table is printed to 0.001 in².
  const printed = [total, nipple, one, two, more]
  for (const [i, area] of areas.entries()) expect(Math.abs(area - (printed[i] ?? 0))).toBeLessThan(0.001)
})

// By hand: 3 × 7 mm in 3/4 EMT (20.93 mm): 3 · (7/20.93)² = 33.56 %; in 1/2 (15.80 mm) 58.9 %, over 40 %.
// Bundle 7 · 2.1547 = 15.08 mm, of 80 % of a 3/4 in bit 15.24 mm.
test('three cables of 7 mm', () => {
  const holes = holeOf([7, 7, 7])
  expect(holes.bundle.diameterM).toBeCloseTo(0.01508, 5)
  expect(holes.bit?.size).toBe('3/4')
  expect(holes.raceway?.tradeSize).toBe('3/4')
  expect(holes.raceway?.fillPercent).toBeCloseTo(33.56, 1)
  // 1.05 · 20.93 / 7 = 3.14
  expect(holes.jamRatio?.ratio).toBeCloseTo(3.14, 2)
  expect(holes.jamRatio?.mayJam).toBe(true)
})

test('away from the jam ratio, and only for three alike', () => {
  expect(holeOf([5, 5, 5], { raceway: '3/4' }).jamRatio?.mayJam).toBe(false)
  expect(holeOf([7, 7, 6]).jamRatio).toBeNull()
  expect(holeOf([7, 7]).jamRatio).toBeNull()
})

// By hand: 2 × 9 mm in 3/4 EMT: 2 · (9/20.93)² = 36.98 %, over 31 % but under 60 % of a nipple.
// Side by side, 2 · 0.2 in is just 80 % of 1/2 in.
test('two that just fill their share of a bit take that bit', () => {
  expect(holeOf([5.08, 5.08]).bit?.size).toBe('1/2')
  expect(holeOf([5.08, 5.09]).bit?.size).toBe('5/8')
})

test('two cables are held to 31 %, a nipple to 60 %', () => {
  expect(holeOf([9, 9], { raceway: '3/4' })).toMatchObject({ allowed: false, reasons: ['raceway-too-full'] })
  expect(holeOf([9, 9], { raceway: '3/4', nipple: true })).toMatchObject({ allowed: true, reasons: [] })
})

// NEC chapter 9 table 1, note 9: an elliptical cable counts as round by its larger side.
test('a flat cable counts by its larger side', () => {
  const cables = [{ count: 1, widthM: 0.011, heightM: 0.005 }]
  const holes = holeFit({ rules: 'nec', system: 'metric', cables, nipple: false })
  expect(holes).toMatchObject({ flatCounted: true, bundle: { diameterM: 0.011 }, bit: { size: '14' } })
})

test('no raceway rule under iec, and none beyond the table', () => {
  expect(holeOf([9, 9], { rules: 'iec' })).toMatchObject({
    raceway: null,
    smallestRaceway: null,
    allowed: true,
  })
  expect(holeOf([60, 60])).toMatchObject({ bit: null, raceway: null, reasons: ['no-bit', 'no-raceway'] })
  expect(holeOf([9], { raceway: '5/8' }).reasons).toEqual(['raceway-not-in-table'])
})

test('bits rise', () => {
  for (const bits of Object.values(drillBits)) {
    const sizes = bits.map((bit) => bit.diameterM)
    expect(sizes).toEqual([...sizes].sort((one, other) => one - other))
  }
})
