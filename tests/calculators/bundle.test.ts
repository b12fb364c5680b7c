import fc from 'fast-check'
import { expect, test } from 'vitest'
import { holeFit } from '../../src/calculators/bundle'
import { packCircles } from '../../src/calculators/circle-packing'

const diameterM = fc.double({ min: 0.003, max: 0.02, noNaN: true })

/** What the search may be wide of the smallest circle, as its doc comment says of up to eight unlike circles. */
const searchAccuracy = 0.02

/** The packing search works for milliseconds, so fewer runs than elsewhere. */
const numRuns = 100

function expectSound(radii: number[], radius: number, positions: { x: number; y: number }[]) {
  positions.forEach(({ x, y }, i) => {
    const own = radii[i] ?? Number.NaN
    expect(Math.hypot(x, y) + own).toBeLessThanOrEqual(radius * (1 + 1e-9))
    positions.slice(0, i).forEach((other, j) => {
      const apart = Math.hypot(x - other.x, y - other.y)
      expect(apart).toBeGreaterThanOrEqual((own + (radii[j] ?? Number.NaN)) * (1 - 1e-9))
    })
  })
}

test('no two cables overlap and none sticks out of the bundle', () => {
  fc.assert(
    fc.property(fc.array(diameterM, { minLength: 1, maxLength: 12 }), (diametersM) => {
      const radii = diametersM.map((each) => each / 2)
      const { radius, positions } = packCircles(radii)
      expectSound(radii, radius, positions)
    }),
    { numRuns },
  )
})

test('a search from near by is as sound, and no wider than what it starts from allows', () => {
  fc.assert(
    fc.property(fc.array(diameterM, { minLength: 3, maxLength: 8 }), diameterM, (radii, more) => {
      const before = packCircles(radii)
      const same = packCircles(radii, before.positions)
      expect(same.radius / before.radius).toBeLessThan(1 + 1e-6)
      const { radius, positions } = packCircles([...radii, more], before.positions)
      expect(radius).toBeLessThanOrEqual((before.radius + more) * (1 + searchAccuracy))
      expectSound([...radii, more], radius, positions)
    }),
    { numRuns },
  )
})

test('a bundle is never narrower than its area or its two widest cables', () => {
  fc.assert(
    fc.property(fc.array(diameterM, { minLength: 2, maxLength: 12 }), (diametersM) => {
      const { radius } = packCircles(diametersM.map((each) => each / 2))
      const [first = 0, second = 0] = [...diametersM].sort((one, other) => other - one)
      expect(2 * radius).toBeGreaterThanOrEqual((first + second) * (1 - 1e-9))
      expect(2 * radius).toBeGreaterThanOrEqual(Math.hypot(...diametersM))
    }),
    { numRuns },
  )
})

test('three cables are packed as Descartes said: touching each other, or the third beside two side by side', () => {
  fc.assert(
    fc.property(fc.tuple(diameterM, diameterM, diameterM), (radii) => {
      const [a = 0, b = 0, c = 0] = [...radii].sort((one, other) => other - one)
      // The circle around a and b side by side leaves room for this one beside them (Steiner's chain of Pappus' arbelos).
      const beside = (a * b * (a + b)) / (a * a + a * b + b * b)
      // Kissing circles: (Σ bends)² = 2 Σ bends², solved for the bend of the one around the three others.
      const kissing = (a * b * c) / (2 * Math.sqrt(a * b * c * (a + b + c)) - a * b - b * c - c * a)
      const { radius } = packCircles(radii)
      expect(radius / (c <= beside ? a + b : kissing)).toBeCloseTo(1, 9)
    }),
    { numRuns },
  )
})

test('one more cable never makes a narrower bundle, but for the accuracy of the search', () => {
  fc.assert(
    fc.property(fc.array(diameterM, { minLength: 1, maxLength: 7 }), diameterM, (diametersM, more) => {
      const before = packCircles(diametersM).radius
      expect(packCircles([...diametersM, more]).radius).toBeGreaterThanOrEqual(before / (1 + searchAccuracy))
    }),
    { numRuns },
  )
})

test('the same cables always give the same bundle, near and far from metres', () => {
  const radii = [5, 4, 4, 3, 2.5]
  expect(packCircles(radii)).toEqual(packCircles(radii))
  const millimetres = packCircles(radii.map((radius) => radius / 1000))
  // Not to the last digit: a thousandth is rounded, and the search ends a hair elsewhere.
  expect((millimetres.radius * 1000) / packCircles(radii).radius).toBeCloseTo(1, 4)
})

test('thirty cables of mixed sizes are packed denser than half full', () => {
  const radii = Array.from({ length: 30 }, (_, i) => 3 + (i % 5))
  expect((Math.hypot(...radii) / packCircles(radii).radius) ** 2).toBeGreaterThan(0.7)
})

test('each placed cable names the row it came from', () => {
  const cables = [
    { count: 2, diameterM: 0.009 },
    { count: 1, diameterM: 0.006 },
  ]
  const { bundle } = holeFit({ rules: 'nec', system: 'us', cables, nipple: false })
  expect(bundle.placed.map(({ cable }) => cable)).toEqual([0, 0, 1])
  expect(bundle.placed.map((placed) => placed.diameterM)).toEqual([0.009, 0.009, 0.006])
})
