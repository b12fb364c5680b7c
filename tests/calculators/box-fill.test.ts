import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type BoxFillInput, boxFill } from '../../src/calculators/box-fill'

const gauge = fc.constantFrom(18, 16, 14, 12, 10, 8, 6)
const count = fc.integer({ min: 1, max: 4 })
const cable = fc.record({
  count,
  gauge,
  insulated: fc.integer({ min: 1, max: 4 }),
  ground: fc.boolean(),
  isolatedGround: fc.boolean(),
})
const device = fc.record({ gauge: fc.option(gauge, { nil: undefined }), wide: fc.boolean() })
const contents: fc.Arbitrary<BoxFillInput> = fc.record({
  boxIn3: fc.double({ min: 3, max: 200, noNaN: true }),
  cables: fc.array(cable, { maxLength: 4 }),
  conductors: fc.array(
    fc.record({
      gauge,
      count,
      kind: fc.constantFrom('hot', 'neutral', 'ground', 'isolated-ground', 'through', 'pigtail'),
    }),
    { maxLength: 3 },
  ),
  looped: fc.array(fc.record({ gauge, count, long: fc.boolean() }), { maxLength: 2 }),
  devices: fc.array(device, { maxLength: 3 }),
  clamps: fc.boolean(),
  supportFittings: fc.array(fc.constantFrom('stud', 'hickey'), { maxLength: 2 }),
  terminalBlocks: fc.array(gauge, { maxLength: 2 }),
  isolatedGrounds: fc.integer({ min: 0, max: 3 }),
  edition: fc.constantFrom('2017', '2020', '2023'),
}) as fc.Arbitrary<BoxFillInput>

function filled(input: BoxFillInput) {
  const fill = boxFill(input)
  if (!fill.ok) throw new Error(fill.fault)
  return fill
}

test('one more cable, device or loop never makes more room', () => {
  fc.assert(
    fc.property(contents, cable, device, (input, oneCable, oneDevice) => {
      const before = filled(input).required.in3
      const { cables = [], devices = [], looped = [] } = input
      const loop = { gauge: oneCable.gauge, count: 1, long: true }
      for (const more of [
        { cables: [...cables, oneCable] },
        { devices: [...devices, oneDevice] },
        { looped: [...looped, loop] },
      ])
        expect(filled({ ...input, ...more }).required.in3).toBeGreaterThanOrEqual(before)
    }),
    { numRuns: 1000 },
  )
})

test('rows add up, exactly in sixteenths of a cubic inch', () => {
  fc.assert(
    fc.property(contents, (input) => {
      const { rows, required, box, spare, allowances } = filled(input)
      expect(rows.reduce((sum, row) => sum + row.volumeIn3, 0)).toBe(required.in3)
      expect(rows.reduce((sum, row) => sum + row.allowances, 0)).toBe(allowances)
      expect(Number.isInteger(required.in3 * 16)).toBe(true)
      expect(spare.in3).toBe(box.in3 - required.in3)
    }),
    { numRuns: 1000 },
  )
})

test('an empty box needs nothing', () => {
  expect(filled({ boxIn3: 18, clamps: true, devices: [{}], edition: '2023' })).toMatchObject({
    fits: true,
    rows: [],
    required: { in3: 0 },
  })
})

test('a box filled to its last cubic inch fits, also when it is marked in cm³', () => {
  const cables = [{ count: 5, gauge: 14, insulated: 2, ground: true, isolatedGround: false }]
  expect(filled({ boxIn3: 360.515408 / 16.387064, clamps: false, edition: '2017', cables }).fits).toBe(true)
})
