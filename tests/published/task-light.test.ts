import { describe, expect, it } from 'vitest'
import { illuminance, lightOnWork } from '../../src/calculators/line-light'

/** Simpson's rule: a second way to the same integrals, with nothing taken from the closed form. */
function simpson(f: (x: number) => number, from: number, to: number, steps: number): number {
  const h = (to - from) / steps
  let sum = f(from) + f(to)
  for (let i = 1; i < steps; i++) sum += (i % 2 ? 4 : 2) * f(from + i * h)
  return (sum * h) / 3
}

/** What a short piece of tape throws on a point, by the inverse-square and both cosine laws. */
function byQuadrature(
  lumensPerM: number,
  lengthM: number,
  heightM: number,
  alongM: number,
  acrossM: number,
): number {
  const piece = (x: number) => {
    const distance = Math.hypot(heightM, acrossM, x - alongM)
    const cosine = heightM / distance
    return ((lumensPerM / Math.PI) * cosine * cosine) / distance ** 2
  }
  return simpson(piece, -lengthM / 2, lengthM / 2, 20_000)
}

const below = { alongM: 0, acrossM: 0 }

describe('light of a tape on the work', () => {
  it('is Φ′/2h below an endless tape (IES Lighting Handbook, endless line source; Gauss): 500 lx', () => {
    expect(illuminance({ lumensPerM: 1000, lengthM: 1e5, heightM: 1 }, below)).toBeCloseTo(500, 6)
  })

  it('is half of that below the end of a long tape (symmetry)', () => {
    const tape = { lumensPerM: 1000, lengthM: 1e5, heightM: 1 }
    expect(illuminance(tape, { alongM: 5e4, acrossM: 0 })).toBeCloseTo(250, 6)
  })

  it('falls with the fourth power of the cosine beside an endless tape, as Φ′h²/2q³', () => {
    const tape = { lumensPerM: 1000, lengthM: 1e6, heightM: 1 }
    expect(illuminance(tape, { alongM: 0, acrossM: 1 })).toBeCloseTo(500 / 2 ** 1.5, 6)
  })

  it.each([
    [0.6, 2, 0, 0],
    [0.6, 2, 0.7, 0.4],
    [1.2, 3.5, 2.4, 0.9],
    [0.05, 5, 1.1, 0.02],
    [10, 0.1, 0, 10],
  ])(
    'agrees with Simpson quadrature: h %f m, L %f m, along %f m, across %f m',
    (heightM, lengthM, alongM, acrossM) => {
      const closed = illuminance({ lumensPerM: 850, lengthM, heightM }, { alongM, acrossM })
      const numeric = byQuadrature(850, lengthM, heightM, alongM, acrossM)
      expect(Math.abs(closed / numeric - 1)).toBeLessThan(1e-9)
    },
  )

  it('puts all flux of the tape onto the endless plane, to 1e-4 (conservation of energy)', () => {
    const tape = { lumensPerM: 1000, lengthM: 2, heightM: 0.6 }
    // tan maps the endless plane onto a square; x = tan(u), dx = du/cos²(u)
    const limit = Math.PI / 2 - 1e-6
    const row = (alongM: number) =>
      simpson(
        (v) => illuminance(tape, { alongM, acrossM: Math.tan(v) }) / Math.cos(v) ** 2,
        -limit,
        limit,
        800,
      )
    const flux = simpson((u) => row(Math.tan(u)) / Math.cos(u) ** 2, -limit, limit, 800)
    expect(Math.abs(flux / 2000 - 1)).toBeLessThan(1e-4)
  })

  it('equals the aspect-factor method, E = I′/h · ½(α + sin α cos α) below one end (Cayless and Marsden, Lamps and Lighting, from memory)', () => {
    for (const degrees of [10, 30, 45, 60, 80]) {
      const angle = (degrees * Math.PI) / 180
      const heightM = 1.5
      const lengthM = heightM * Math.tan(angle)
      const aspect = (angle + Math.sin(angle) * Math.cos(angle)) / 2
      const expected = (1200 / Math.PI / heightM) * aspect
      const actual = illuminance({ lumensPerM: 1200, lengthM, heightM }, { alongM: lengthM / 2, acrossM: 0 })
      expect(actual).toBeCloseTo(expected, 9)
    }
  })

  it('equals a narrow rectangle by its view factor (Incropera, Fundamentals of Heat and Mass Transfer, element parallel to a rectangle)', () => {
    // F = 1/2π·[A/√(1+A²)·atan(B/√(1+A²)) + B/√(1+B²)·atan(A/√(1+B²))], a corner above the element
    const corner = (a: number, b: number) => {
      const rootA = Math.sqrt(1 + a * a)
      const rootB = Math.sqrt(1 + b * b)
      return ((a / rootA) * Math.atan(b / rootA) + (b / rootB) * Math.atan(a / rootB)) / (2 * Math.PI)
    }
    const [heightM, lengthM, acrossM, widthM] = [0.6, 2, 0.4, 1e-3]
    const half = lengthM / 2 / heightM
    const strip =
      corner(half, (acrossM + widthM / 2) / heightM) - corner(half, (acrossM - widthM / 2) / heightM)
    const exitance = 1000 / widthM
    const expected = exitance * 2 * strip
    const actual = illuminance({ lumensPerM: 1000, lengthM, heightM }, { alongM: 0, acrossM })
    expect(Math.abs(actual / expected - 1)).toBeLessThan(1e-5)
  })

  it('obeys the five-times rule: from five lengths away a point source errs by less than 1 % (IES Lighting Handbook, from memory)', () => {
    const asPoint = 1000 / Math.PI / 5 ** 2
    const line = illuminance({ lumensPerM: 1000, lengthM: 1, heightM: 5 }, below)
    expect(Math.abs(asPoint / line - 1)).toBeLessThan(0.01)
  })

  it('needs 1001 lm/m for 500 lx: 0.6 m, 2 m tape, frosted 80 %, maintained 80 %', () => {
    // Aspect factors again: two halves of tan α = 1/0.6; cover and upkeep divide.
    const angle = Math.atan(1 / 0.6)
    const perLumen = (angle + Math.sin(angle) * Math.cos(angle)) / (Math.PI * 0.6)
    const kept = { coverPassesPercent: 80, maintainedPercent: 80, dimPercent: 100 }
    const light = lightOnWork({ lumensPerM: 1000, lengthM: 2, heightM: 0.6 }, below, kept, 500)
    expect(light.neededLumensPerM).toBeCloseTo(500 / (perLumen * 0.64), 6)
    expect(Math.round(light.neededLumensPerM)).toBe(1001)
  })
})
