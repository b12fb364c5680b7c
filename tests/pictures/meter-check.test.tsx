import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { MeterCheck } from '../../src/pictures/meter-check'
import { type MeterCheckPicture, meterCheck } from '../../src/questions/meter-check'

const pictureOf = (raw: object): MeterCheckPicture => {
  const answered = meterCheck.answer({ voltage: '24 V', tapePower: '14.4 W/m', tapeLength: '5 m', ...raw })
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer.picture?.data as MeterCheckPicture
}

const draw = (data: MeterCheckPicture): string => String(<MeterCheck data={data} />)

/** The points of each line, by its class. */
const pointsOf = (svg: string, name: string): [number, number][] => {
  const path =
    new RegExp(`<path class="${name}"[^>]*stroke-width="3"[^>]* d="(M[^"]*L[^"]*)"`).exec(svg)?.[1] ?? ''
  return [...path.matchAll(/[ML]([-\d.]+),([-\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)])
}

const faulty = { driverLoaded: '24 V', tapeStart: '21.9 V', tapeEnd: '21.3 V' }

describe('the drawing', () => {
  it('says in words what it shows, with its numbers', () => {
    const svg = draw(pictureOf(faulty))
    expect(svg).toContain('role="img"')
    const description = /<desc[^>]*>(.*)<\/desc>/.exec(svg)?.[1]
    for (const said of ['24 V', '21.9 V', '21.3 V', 'too much resistance in the feed']) {
      expect(description).toContain(said)
    }
  })

  it('tells its lines and marks apart by dash and shape, and names each', () => {
    const data = pictureOf({ ...faulty, driverOpen: '24.1 V' })
    const svg = draw(data)
    expect(svg).toMatch(/class="good"[^>]*stroke-dasharray/)
    expect(svg).not.toMatch(/class="accent"[^>]*stroke-dasharray/)
    expect(svg).toContain('<circle')
    for (const text of [
      data.labels.expected,
      data.labels.measured,
      data.labels.unplugged,
      data.best?.label,
    ]) {
      expect(svg).toContain(`>${text}<`)
    }
    for (const { text } of data.measured) expect(svg).toContain(`>${text}<`)
  })

  it('draws no second line where nothing is wrong', () => {
    const svg = draw(pictureOf({ driverLoaded: '24 V', tapeEnd: '23.1 V' }))
    expect(svg).not.toContain('class="accent"')
    expect(pointsOf(svg, 'good').length).toBeGreaterThan(50)
  })

  it('has the lower voltage lower down, and the lines run from the driver to the end of the tape', () => {
    const svg = draw(pictureOf(faulty))
    const [sound, best] = [pointsOf(svg, 'good'), pointsOf(svg, 'accent')]
    expect(sound[0]?.[0]).toBe(best[0]?.[0])
    expect(best.at(-1)?.[1]).toBeGreaterThan(sound.at(-1)?.[1] as number)
    for (const line of [sound, best]) {
      for (let at = 1; at < line.length; at++) {
        expect(line[at]?.[0]).toBeGreaterThan(line[at - 1]?.[0] as number)
        expect(line[at]?.[1]).toBeGreaterThanOrEqual((line[at - 1]?.[1] as number) - 1e-6)
      }
    }
  })

  it('has feet or metres under the tape, as they are spoken', () => {
    expect(draw(pictureOf(faulty))).toContain('feet along the tape')
    expect(draw(pictureOf({ ...faulty, units: 'metric' }))).toContain('metres along the tape')
  })

  it('stays in its frame, whatever is measured on whatever tape', () => {
    const volts = fc.option(fc.double({ min: -36, max: 36, noNaN: true }), { nil: undefined })
    fc.assert(
      fc.property(
        fc.record({ driverOpen: volts, driverLoaded: volts, tapeStart: volts, tapeEnd: volts }),
        fc.constantFrom('0.1 m', '5 m', '90 m'),
        (read, tapeLength) => {
          const readings = Object.entries({ ...read, driverLoaded: read.driverLoaded ?? 24 }).flatMap(
            ([id, value]) => (value === undefined ? [] : [[id, `${value} V`]]),
          )
          const svg = draw(pictureOf({ tapeLength, ...Object.fromEntries(readings) }))
          expect(svg).not.toMatch(/NaN|Infinity|undefined/)
          for (const [, value] of svg.matchAll(/ y="([^"]*)"/g)) {
            expect(Number(value)).toBeGreaterThanOrEqual(0)
            expect(Number(value)).toBeLessThanOrEqual(400)
          }
          for (const [, value] of svg.matchAll(/ x="([^"]*)"/g)) {
            expect(Number(value)).toBeGreaterThanOrEqual(0)
            expect(Number(value)).toBeLessThanOrEqual(360)
          }
        },
      ),
      { numRuns: 100 },
    )
  })

  it('has no style and no script of its own', () => {
    expect(draw(pictureOf(faulty))).not.toMatch(/style=|<script|on\w+=/)
  })
})
