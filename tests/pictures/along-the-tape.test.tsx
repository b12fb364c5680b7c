import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { AlongTheTape } from '../../src/pictures/along-the-tape'
import { layAlongLine } from '../../src/pictures/tape-layout'
import { alongTheTape } from '../../src/questions/along-the-tape'
import type { TapePicture } from '../../src/questions/common/tape-picture'

const pictureOf = (raw: object): TapePicture => {
  const answered = alongTheTape.answer({ voltage: '24 V', tapePower: '14.4 W/m', tapeLength: '5 m', ...raw })
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer.picture?.data as TapePicture
}

const draw = (data: TapePicture): string => String(<AlongTheTape data={data} />)

/** The numbers of the drawing, wherever they stand. */
const attributes = (svg: string, name: string): number[] =>
  [...svg.matchAll(new RegExp(` ${name}="([^"]*)"`, 'g'))].map(([, value]) => Number(value))

const bothEnds = {
  feeds: [
    { at: '0 m', distance: '6 m', gauge: '18 AWG' },
    { at: '5 m', distance: '11 m', gauge: '16 AWG' },
  ],
  trunk: { distance: '3 m', gauge: '14 AWG' },
}

describe('the drawing', () => {
  it('says in words what it shows, with its numbers', () => {
    const data = pictureOf(bothEnds)
    const svg = draw(data)
    expect(svg).toContain('role="img"')
    expect(svg).toContain(`<title>${data.words.title}</title>`)
    for (const said of [
      '16&#39; 4-7/8&quot;',
      data.lowest.text.split(' ')[1],
      '18 AWG',
      '16 AWG',
      '14 AWG',
      'Feed 2',
    ]) {
      expect(/<desc[^>]*>(.*)<\/desc>/.exec(svg)?.[1]).toContain(said)
    }
  })

  it('marks feeds, limits, the lowest and the dimmest point', () => {
    const data = pictureOf(bothEnds)
    const svg = draw(data).replaceAll('&#39;', "'").replaceAll('&quot;', '"')
    const texts = [
      data.source.text,
      data.lowest.text,
      data.dimmest.text,
      data.trunk?.text,
      ...data.limits.map(({ text }) => text),
      ...data.feeds.map(({ text }) => text),
    ]
    for (const text of texts) expect(svg).toContain(text)
    expect(svg.match(/class="limit"/g)).toHaveLength(2)
  })

  // The pages forbid inline styles and scripts.
  it('needs no style and no script of its own', () => {
    expect(draw(pictureOf({}))).not.toMatch(/style=|<script|<style|fill="(?!none)|stroke="/)
  })

  it('hatches where the light is below a limit, and only there', () => {
    expect(draw(pictureOf({}))).not.toContain('class="bad"')
    expect(draw(pictureOf({ tapeLength: '8 m' }))).toContain('class="bad"')
  })

  it('counts feet for one and metres for the other', () => {
    expect(draw(pictureOf({}))).toContain('feet along the tape')
    expect(draw(pictureOf({ units: 'metric' }))).toContain('metres along the tape')
  })

  it('draws any tape within its width, without a number that is none', () => {
    const feed = fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      distance: fc.double({ min: 0, max: 1, noNaN: true }),
    })
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 100, noNaN: true }),
        fc.array(feed, { minLength: 1, maxLength: 20 }),
        fc.constantFrom(undefined, '0 m', '0.01 m', '200 m'),
        fc.constantFrom('us', 'metric'),
        fc.constantFrom('resistor', 'regulated'),
        (lengthM, feeds, trunk, units, tapeStyle) => {
          const svg = draw(
            pictureOf({
              tapeLength: `${lengthM.toFixed(4)} m`,
              feeds: feeds.map(({ at, distance }) => ({
                at: `${(at * lengthM * 0.999).toFixed(4)} m`,
                distance: `${(distance * 200).toFixed(3)} m`,
              })),
              ...(trunk ? { trunk } : {}),
              units,
              tapeStyle,
            }),
          )
          expect(svg).not.toMatch(/NaN|Infinity|undefined/)
          for (const x of [...attributes(svg, 'x'), ...attributes(svg, 'cx')]) {
            expect(x).toBeGreaterThanOrEqual(-1)
            expect(x).toBeLessThanOrEqual(361)
          }
        },
      ),
      { numRuns: 200 },
    )
  })
})

describe('the layout along one line', () => {
  // By hand: 3 m of shared cable, then 6 m to the near end and 11 m to the far end of 5 m of tape fit exactly.
  it('puts cables that fit where they belong', () => {
    const laid = layAlongLine(pictureOf(bothEnds))
    expect(laid.splitM).toBeCloseTo(-6, 9)
    expect(laid.driverM).toBeCloseTo(-9, 9)
    expect(laid.ends[0]).toBeCloseTo(0, 9)
    expect(laid.ends[1]).toBeCloseTo(5, 9)
  })

  it('puts the driver amid the tape where both ways fit', () => {
    const feeds = [
      { at: '0 m', distance: '2 m' },
      { at: '5 m', distance: '3 m' },
    ]
    expect(layAlongLine(pictureOf({ feeds })).splitM).toBeCloseTo(2, 9)
  })

  it('keeps every cable to its length, fit or not', () => {
    const feeds = [
      { at: '1 m', distance: '7 m' },
      { at: '4 m', distance: '1 m' },
      { at: '2 m', distance: '2.5 m' },
    ]
    const laid = layAlongLine(pictureOf({ feeds }))
    expect(laid.ends.map((end) => Math.abs(end - laid.splitM))).toEqual([
      expect.closeTo(7, 9),
      expect.closeTo(1, 9),
      expect.closeTo(2.5, 9),
    ])
  })
})
