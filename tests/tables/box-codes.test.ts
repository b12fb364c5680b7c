import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readBox } from '../../src/tables/box-codes'

test.each([
  ['4 x octagon 1-1/2', 'octagon 4 x 1-1/2'],
  ['octagon 4 x 1-1/2', 'octagon 4 x 1-1/2'],
  ['4" octagon 2-1/8', 'octagon 4 x 2-1/8'],
  ['4 in round box, 1½ deep', 'octagon 4 x 1-1/2'],
  ['Octagonal 1.5', 'octagon 4 x 1-1/2'],
  ['4 square 1-1/2 deep', 'square 4 x 1-1/2'],
  ['4-11/16 square x 2-1/8', 'square 4-11/16 x 2-1/8'],
  ['4 11/16 x 2 1/8', 'square 4-11/16 x 2-1/8'],
  ['square 4 by 1 1/2', 'square 4 x 1-1/2'],
  ['4x1-1/2 square', 'square 4 x 1-1/2'],
  ['masonry 2 gang x 3-1/2', 'masonry 2 gang x 3-1/2'],
  ['3 gang masonry 2-1/2', 'masonry 3 gang x 2-1/2'],
  ['two-gang masonry box 3.5"', 'masonry 2 gang x 3-1/2'],
  ['3-3/4 x 2 x 2-1/2', 'masonry 1 gang x 2-1/2'],
  ['FS', 'FS'],
  ['fd box', 'FD'],
  ['2 gang FD', 'FD 2 gang'],
  ['FS 2 gang', 'FS 2 gang'],
  ['3 x 2 x 2-3/4', 'device 3 x 2 x 2-3/4'],
  ['device 3 x 2 x 2', 'device 3 x 2 x 2'],
  ['4x2-1/8x1-7/8', 'device 4 x 2-1/8 x 1-7/8'],
  ['4 × 2⅛ × 1⅞', 'device 4 x 2-1/8 x 1-7/8'],
])('%s', (text, code) => {
  expect(readBox(text)).toMatchObject({ ok: true, code })
})

test.each([
  ['22 cu in', 22],
  ['22 cubic inch box', 22],
  ['a box marked 18 in3', 18],
  ['20.3 in³', 20.3],
  ['300 cm3', 18.307],
  ['360.515408 cm3', 22],
])('a marked volume: %s', (text, in3) => {
  const reading = readBox(text)
  expect(reading).toMatchObject({ ok: true, code: null })
  expect(reading.ok && reading.volumeIn3).toBeCloseTo(in3, 3)
})

test('what does not say which box is told, with the codes near it', () => {
  expect(readBox('4 x 1-1/2')).toMatchObject({
    fault: 'ambiguous',
    near: ['octagon 4 x 1-1/2', 'square 4 x 1-1/2'],
  })
  expect(readBox('4 square')).toMatchObject({
    fault: 'ambiguous',
    near: ['square 4 x 1-1/4', 'square 4 x 1-1/2', 'square 4 x 2-1/8'],
  })
  expect(readBox('octagon 4 x 3')).toMatchObject({
    fault: 'not-in-table',
    near: ['octagon 4 x 1-1/4', 'octagon 4 x 1-1/2', 'octagon 4 x 2-1/8'],
  })
  expect(readBox('2 gang masonry')).toMatchObject({
    fault: 'ambiguous',
    near: ['masonry 2 gang x 2-1/2', 'masonry 2 gang x 3-1/2'],
  })
  expect(readBox('2 gang device 3 x 2 x 2-3/4')).toMatchObject({ fault: 'not-in-table' })
  expect(readBox('plastic octagon 1-1/2')).toMatchObject({ fault: 'not-understood', piece: 'plastic' })
  expect(readBox('the box')).toMatchObject({ fault: 'not-a-box' })
  expect(readBox('')).toMatchObject({ fault: 'not-a-box' })
  expect(readBox('2 cu in')).toMatchObject({ fault: 'volume-out-of-range' })
  expect(readBox('many cu in')).toMatchObject({ fault: 'not-understood' })
})

test('reads its own codes, and never crashes', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 60 }), (text) => {
      const reading = readBox(text)
      if (reading.ok && reading.code !== null) expect(readBox(reading.code)).toEqual(reading)
    }),
    { numRuns: 2000 },
  )
})
