import { describe, expect, test } from 'vitest'
import { HoleFit } from '../../src/pictures/hole-fit'
import { type HoleFitPicture, holeFit } from '../../src/questions/hole-fit'

function drawn(raw: object): { data: HoleFitPicture; svg: string } {
  const answered = holeFit.answer(raw)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  const data = answered.answer.picture?.data as HoleFitPicture
  return { data, svg: String(<HoleFit data={data} />) }
}

const circles = (svg: string) =>
  [...svg.matchAll(/<circle class="([^"]*)"[^>]* cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"/g)].map(
    ([, kind, x, y, r]) => ({ kind, x: Number(x), y: Number(y), r: Number(r) }),
  )

const three = { cables: [{ count: 3, diameter: '7 mm' }] }

describe('the bundle in its hole', () => {
  // A 3/4 in hole is 19.05 mm, and three of 7 mm make a bundle of 7 × (1 + 2/√3) = 15.083 mm.
  test('is to scale', () => {
    const [hole, one, , , bundle] = circles(drawn(three).svg)
    expect((one?.r ?? 0) / (hole?.r ?? 1)).toBeCloseTo(7 / 19.05, 6)
    expect((bundle?.r ?? 0) / (hole?.r ?? 1)).toBeCloseTo(15.083 / 19.05, 3)
  })

  test('no two cables overlap, and all lie inside the bundle', () => {
    const { svg } = drawn({
      cables: [
        { count: 5, diameter: '7 mm' },
        { count: 3, diameter: '4 mm' },
      ],
    })
    const all = circles(svg)
    const bundle = all.find(({ kind }) => kind === 'accent')
    const cables = all.slice(1, 9)
    for (const [at, a] of cables.entries()) {
      expect(Math.hypot(a.x - (bundle?.x ?? 0), a.y - (bundle?.y ?? 0)) + a.r).toBeLessThan(
        (bundle?.r ?? 0) + 1e-6,
      )
      for (const b of cables.slice(at + 1))
        expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(a.r + b.r - 1e-6)
    }
  })

  test('stands in the raceway that was asked about, also where it does not go in', () => {
    const full = drawn({ cables: [{ count: 2, diameter: '7/16 in' }], raceway: '1/2' })
    expect(full.data.outer?.kind).toBe('raceway')
    // 0.622 in EMT, two cables of 0.4375 in.
    expect(full.data.bundleM / (full.data.outer?.diameterM ?? 1)).toBeCloseTo(0.875 / 0.622, 4)
    expect(drawn({ cables: ['60 mm', '60 mm'] }).data.outer).toBeUndefined()
  })

  test('says in words what it shows, without style or script', () => {
    for (const raw of [three, { ...three, units: 'metric' }, { ...three, raceway: '3/4' }]) {
      const { data, svg } = drawn(raw)
      expect(svg).toContain('role="img"')
      expect(svg).toContain(`<title>${data.title}</title>`)
      expect(svg).toMatch(/<desc>.*(3\/4|20 mm).*16 mm/)
      expect(svg).not.toMatch(/style=|<script|NaN|undefined/)
    }
  })
})
