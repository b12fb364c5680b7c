import { describe, expect, test } from 'vitest'
import { FramingHole } from '../../src/pictures/framing-hole'
import { type FramingHolePicture, framingHole } from '../../src/questions/framing-hole'

function drawn(raw: object): { data: FramingHolePicture; svg: string } {
  const answered = framingHole.answer(raw)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  const data = answered.answer.picture?.data as FramingHolePicture
  return { data, svg: String(<FramingHole data={data} />) }
}

const joist = { member: '2x10', use: 'joist' }
const stud = { member: '2x4', use: 'stud-bearing' }
const plates = (svg: string): number => svg.split('class="ink fill-ink" x=').length - 1

describe('the member', () => {
  // The member is 170 units high, for 9.25 in.
  test('holds its hole and its allowed zone to scale', () => {
    const { svg } = drawn({ ...joist, holeDiameter: '1-3/8 in' })
    const radius = Number(/<circle[^>]* r="([\d.]+)"/.exec(svg)?.[1])
    expect((2 * radius) / 170).toBeCloseTo(1.375 / 9.25, 6)
    const [, upper, lower] = /d="M8,([\d.]+)H352M8,([\d.]+)H352"/.exec(svg) ?? []
    expect((Number(upper) - 52) / 170).toBeCloseTo(2 / 9.25, 6)
    expect((222 - Number(lower)) / 170).toBeCloseTo(2 / 9.25, 6)
  })

  test('wears a plate at each edge that needs one', () => {
    expect(plates(drawn({ ...stud, holeDiameter: '1.4 in' }).svg)).toBe(2)
    expect(plates(drawn({ ...stud, holeDiameter: '1 in', edgeDistance: '1 in' }).svg)).toBe(1)
    expect(plates(drawn({ ...stud, holeDiameter: '1 in' }).svg)).toBe(0)
    expect(plates(drawn({ ...joist, notchDepth: '1 in', place: 'outer-third' }).svg)).toBe(1)
  })

  test('crosses out what is not allowed, so that colour is not needed to see it', () => {
    const crossed = (raw: object) => /<path class="bad"/.test(drawn(raw).svg)
    expect(crossed({ ...joist, holeDiameter: '4 in' })).toBe(true)
    expect(crossed({ ...joist, notchDepth: '1 in', place: 'middle-third' })).toBe(true)
    expect(crossed({ ...joist, holeDiameter: '1 in' })).toBe(false)
  })

  test('shows the largest hole, dashed, when none is asked for; and none where none may be', () => {
    expect(drawn(joist).svg).toMatch(/<circle[^>]*stroke-dasharray/)
    expect(drawn({ member: '2x4', use: 'joist' }).svg).not.toContain('<circle')
  })

  test('shows where along the span a joist may be cut under iec', () => {
    const body = { rules: 'iec', units: 'metric', depth: '195 mm', use: 'joist', holeDiameter: '35 mm' }
    const { data, svg } = drawn({ ...body, span: '3.6 m', fromSupport: '1.2 m' })
    expect(data.along?.here).toBeCloseTo(1 / 3, 9)
    expect(svg).toContain('span 3.600 m')
    expect(drawn(body).data.along?.here).toBeUndefined()
  })

  test('says in words what it shows, without style or script', () => {
    for (const raw of [
      joist,
      { ...stud, holeDiameter: '3 in', edgeDistance: '1 in' },
      { ...joist, notchDepth: '9 in' },
    ]) {
      const { data, svg } = drawn(raw)
      expect(svg).toContain('role="img"')
      expect(svg).toContain(`<title>${data.title}</title>`)
      expect(svg).toContain('<desc>')
      expect(data.description).toMatch(/\d.*\.$/)
      expect(svg).not.toMatch(/style=|<script|NaN|undefined/)
    }
  })
})
