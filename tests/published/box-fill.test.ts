import { describe, expect, test } from 'vitest'
import { type BoxFillInput, boxFill } from '../../src/calculators/box-fill'
import { readBox } from '../../src/tables/box-codes'
import { allowanceIn3 } from '../../src/tables/boxes'
import { readCable } from '../../src/tables/cable-codes'

function cable(text: string) {
  const reading = readCable(text)
  if (!reading.ok) throw new Error(`${text}: ${reading.fault}`)
  return reading.cable
}

function fill(cables: string[], rest: Partial<BoxFillInput> = {}) {
  const filled = boxFill({ boxIn3: 20, clamps: false, edition: '2023', cables: cables.map(cable), ...rest })
  if (!filled.ok) throw new Error(filled.fault)
  return filled
}

// NEC 2023 table 314.16(A), from memory: code, in³, cm³ as printed, and the most conductors of 18, 16, 14, 12, 10, 8
// and 6 AWG as printed, which holds the volumes of tables (A) and (B)(1) against each other. The 2 gang rows are twice the printed volume of a gang.
const tableA: [string, number, number, number[]][] = [
  ['octagon 4 x 1-1/4', 12.5, 205, [8, 7, 6, 5, 5, 4, 2]],
  ['octagon 4 x 1-1/2', 15.5, 254, [10, 8, 7, 6, 6, 5, 3]],
  ['octagon 4 x 2-1/8', 21.5, 353, [14, 12, 10, 9, 8, 7, 4]],
  ['square 4 x 1-1/4', 18.0, 295, [12, 10, 9, 8, 7, 6, 3]],
  ['square 4 x 1-1/2', 21.0, 344, [14, 12, 10, 9, 8, 7, 4]],
  ['square 4 x 2-1/8', 30.3, 497, [20, 17, 15, 13, 12, 10, 6]],
  ['square 4-11/16 x 1-1/4', 25.5, 418, [17, 14, 12, 11, 10, 8, 5]],
  ['square 4-11/16 x 1-1/2', 29.5, 483, [19, 16, 14, 13, 11, 9, 5]],
  ['square 4-11/16 x 2-1/8', 42.0, 688, [28, 24, 21, 18, 16, 14, 8]],
  ['device 3 x 2 x 1-1/2', 7.5, 123, [5, 4, 3, 3, 3, 2, 1]],
  ['device 3 x 2 x 2', 10.0, 164, [6, 5, 5, 4, 4, 3, 2]],
  ['device 3 x 2 x 2-1/4', 10.5, 172, [7, 6, 5, 4, 4, 3, 2]],
  ['device 3 x 2 x 2-1/2', 12.5, 205, [8, 7, 6, 5, 5, 4, 2]],
  ['device 3 x 2 x 2-3/4', 14.0, 230, [9, 8, 7, 6, 5, 4, 2]],
  ['device 3 x 2 x 3-1/2', 18.0, 295, [12, 10, 9, 8, 7, 6, 3]],
  ['device 4 x 2-1/8 x 1-1/2', 10.3, 169, [6, 5, 5, 4, 4, 3, 2]],
  ['device 4 x 2-1/8 x 1-7/8', 13.0, 213, [8, 7, 6, 5, 5, 4, 2]],
  ['device 4 x 2-1/8 x 2-1/8', 14.5, 238, [9, 8, 7, 6, 5, 4, 2]],
  ['masonry 1 gang x 2-1/2', 14.0, 230, [9, 8, 7, 6, 5, 4, 2]],
  ['masonry 1 gang x 3-1/2', 21.0, 344, [14, 12, 10, 9, 8, 7, 4]],
  ['FS', 13.5, 221, [9, 7, 6, 6, 5, 4, 2]],
  ['FD', 18.0, 295, [12, 10, 9, 8, 7, 6, 3]],
  ['FS 2 gang', 36.0, 590, [24, 20, 18, 16, 14, 12, 7]],
  ['FD 2 gang', 48.0, 787, [32, 27, 24, 21, 19, 16, 9]],
]

describe('table 314.16(A)', () => {
  test.each(tableA)('%s is %f in³', (code, in3, cm3, mostConductors) => {
    expect(readBox(code)).toEqual({ ok: true, code, volumeIn3: in3 })
    expect(Math.abs(in3 * 16.387064 - cm3)).toBeLessThan(1)
    const most = [18, 16, 14, 12, 10, 8, 6].map((gauge) =>
      Math.floor(in3 / (allowanceIn3(gauge) ?? Number.NaN)),
    )
    expect(most).toEqual(mostConductors)
  })
})

// NEC 2023 table 314.16(B)(1), from memory.
test('volume allowances', () => {
  const gauges = [22, 20, 18, 16, 14, 12, 10, 8, 6]
  expect(gauges.map(allowanceIn3)).toEqual([1.5, 1.5, 1.5, 1.75, 2, 2.25, 2.5, 3, 5])
  expect(allowanceIn3(4)).toBeUndefined()
  expect(allowanceIn3(13)).toBeUndefined()
})

// All worked by hand from the text of NEC 2023 314.16(B).
describe('worked examples', () => {
  test('a ceiling box: 14/3 in, 14/2 out, internal clamps: 5 + 1 + 1 = 7 of 2.00', () => {
    const filled = fill(['14/3', '14/2'], { boxIn3: 15.5, clamps: true })
    expect(filled).toMatchObject({ fits: true, allowances: 7, required: { in3: 14 }, spare: { in3: 1.5 } })
    expect(filled.required.cm3).toBeCloseTo(229.42, 2)
  })

  test('an isolated ground is counted with the rest: 2 x 12/3, 7 of 2.25', () => {
    expect(fill(['2 x 12/3'], { isolatedGrounds: 1 }).required.in3).toBe(15.75)
  })

  test('a switch box: 2 x 14/2, clamps, one device: 4 + 1 + 2 + 1 = 8 of 2.00, too much for 14.0', () => {
    expect(fill(['2 x 14/2'], { clamps: true, devices: [{}], boxIn3: 14 })).toMatchObject({
      fits: false,
      required: { in3: 16 },
    })
  })

  test('mixed gauges: 12/2 and 14/3, clamps by the largest, a device on 14', () => {
    // 2 · 2.25 + 3 · 2.00 + clamp 2.25 + device 2 · 2.00 + ground 2.25 = 19.00
    expect(fill(['12/2', '14/3'], { clamps: true, devices: [{ gauge: 14 }] }).required.in3).toBe(19)
  })

  test('six grounds: one and two quarters', () => {
    // 12 · 2.00 + (1 + 2/4) · 2.00 = 27.00
    expect(fill(['6 x 14/2']).required.in3).toBe(27)
    // 2017: all of them one, 26.00
    expect(fill(['6 x 14/2'], { edition: '2017' }).required.in3).toBe(26)
  })

  test('2017 counts an isolated set once more', () => {
    // 6 · 2.25 + 2.25 + 2.25 = 18.00
    expect(fill(['2 x 12/3'], { isolatedGrounds: 1, edition: '2017' }).required.in3).toBe(18)
  })

  test('a luminaire box: loops, a stud and a hickey', () => {
    // 14/2: 2 · 2.00 + ground 2.00; two uncut 12: 2 · 2.25; one long loop of 12: 2 · 2.25; two types of fitting by
    // the largest: 2 · 2.25; clamps 2.25 = 21.75
    const filled = fill(['14/2'], {
      clamps: true,
      looped: [
        { gauge: 12, count: 2, long: false },
        { gauge: 12, count: 1, long: true },
      ],
      supportFittings: ['stud', 'hickey', 'hickey'],
    })
    expect(filled.required.in3).toBe(21.75)
  })

  test('a range receptacle over 2 in wide counts two for each gang: 6/3 with its 10 AWG ground', () => {
    // 3 · 5.00 + 2.50 + 4 · 5.00 = 37.50
    expect(fill(['6/3'], { devices: [{ gangs: 2, wide: true }] }).required.in3).toBe(37.5)
    // 314.16(B)(4): wider than 2 in never mounts in one gang.
    expect(fill(['6/3'], { devices: [{ gangs: 1, wide: true }] }).required.in3).toBe(37.5)
  })

  test('loose conductors: pigtails take nothing, a terminal block one since 2023', () => {
    const conductors = [
      { gauge: 12, count: 3, kind: 'hot' as const },
      { gauge: 12, count: 1, kind: 'neutral' as const },
      { gauge: 12, count: 2, kind: 'pigtail' as const },
      { gauge: 12, count: 1, kind: 'ground' as const },
    ]
    // 4 · 2.25 + 2.25 + block 2.50 = 13.75; before 2023 without the block, 11.25
    expect(fill([], { conductors, terminalBlocks: [10] }).required.in3).toBe(13.75)
    const before = fill([], { conductors, terminalBlocks: [10], edition: '2020' })
    expect(before).toMatchObject({ required: { in3: 11.25 }, uncountedTerminalBlocks: 1 })
  })

  test('20 AWG counts as 18, and 4 AWG is not in the table', () => {
    expect(fill(['20/2 no ground']).required.in3).toBe(3)
    const conductors = [{ gauge: 4, count: 1, kind: 'hot' as const }]
    expect(boxFill({ boxIn3: 20, clamps: false, edition: '2023', conductors })).toEqual({
      ok: false,
      fault: 'gauge-not-in-table',
      gauges: [4],
    })
  })
})
