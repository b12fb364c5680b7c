import { describe, expect, it } from 'vitest'
import { SteadyLight } from '../../src/pictures/steady-light'
import { type SteadyLightPicture, steadyLight } from '../../src/questions/steady-light'

function drawn(raw: object): string {
  const result = steadyLight.answer(raw)
  if (!result.ok) throw new Error(JSON.stringify(result.errors))
  return String(<SteadyLight data={result.answer.picture?.data as SteadyLightPicture} />)
}

describe('the picture of steady-light', () => {
  it('says in words what it shows', () => {
    const svg = drawn({ frequency: '120 Hz', modulation: '30 %' })
    expect(svg).toContain('role="img"')
    expect(svg).toContain('<title>Flicker against its limits</title>')
    expect(svg).toMatch(/<desc>30 % modulation at 120 Hz: too much flicker\..*9\.6 %.*4 %.*<\/desc>/)
  })

  it('puts the point where logarithmic axes have it', () => {
    const svg = drawn({ frequency: '100 Hz', modulation: '10 %' })
    // The axes go from 10 to 10 000 Hz over x 46 to 340, and from 0.1 to 100 % over y 270 to 34: a third, two thirds.
    const [x, y] = [46 + 294 / 3, 270 - (2 * 236) / 3]
    const diamonds = [...svg.matchAll(/class="ink fill-accent"[^>]* d="M([\d.]+),([\d.]+)L/g)]
    const [point] = diamonds
    expect(Number(point?.[1])).toBeCloseTo(x, 6)
    expect(Number(point?.[2]) + 9).toBeCloseTo(y, 6)
  })

  it('holds any point in its frame, and has neither style nor script', () => {
    for (const frequency of ['1 Hz', '90 Hz', '1250 Hz', '100 kHz']) {
      for (const modulation of ['0 %', '0.001 %', '100 %']) {
        const svg = drawn({ frequency, modulation })
        expect(svg).not.toMatch(/NaN|Infinity|undefined|style=|<script/)
        for (const [, x, y] of svg.matchAll(/[ML](-?[\d.]+),(-?[\d.]+)/g)) {
          expect(Number(x)).toBeGreaterThanOrEqual(0)
          expect(Number(x)).toBeLessThanOrEqual(360)
          expect(Number(y)).toBeGreaterThanOrEqual(0)
          expect(Number(y)).toBeLessThanOrEqual(330)
        }
      }
    }
  })
})
