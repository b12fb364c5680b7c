import { describe, expect, it } from 'vitest'
import { CutPlan } from '../../src/pictures/cut-plan'
import { type CutPlanPicture, cutPlan } from '../../src/questions/cut-plan'

function drawn(raw: object): string {
  const result = cutPlan.answer(raw)
  if (!result.ok) throw new Error(JSON.stringify(result.errors))
  return String(<CutPlan data={result.answer.picture?.data as CutPlanPicture} />)
}

const windows = {
  openings: Array(5).fill('1.42 m'),
  channelLength: '2.5 m',
  cutLength: '50 mm',
  units: 'metric',
}

const widthsOf = (svg: string, kind: string): number[] =>
  [...svg.matchAll(new RegExp(`<rect class="${kind}"[^>]* width="([\\d.]+)"`, 'g'))].map(([, width]) =>
    Number(width),
  )

describe('the picture of cut-plan', () => {
  it('says in words what it shows, in three drawings', () => {
    const svg = drawn(windows)
    expect(svg.match(/role="img"/g)).toHaveLength(3)
    expect(svg).toMatch(/<desc>Openings, .*Opening 5: tape 1\.400 m, dark 20 mm\.<\/desc>/)
    expect(svg).toMatch(/<desc>Reels, .*Reel 1: 800 mm left; Reel 2: 2\.200 m left\.<\/desc>/)
  })

  it('draws every length to scale', () => {
    const svg = drawn(windows)
    // 352 units wide: the longest opening, the reel and the channel fill it.
    for (const width of widthsOf(svg, 'ink fill-accent')) expect(width).toBeCloseTo((352 * 1.4) / 1.42, 6)
    const pieces = widthsOf(svg, 'ink fill-paper')
    expect(pieces).toHaveLength(10)
    for (const width of pieces.slice(0, 5)) expect(width).toBeCloseTo((352 * 1.4) / 5, 6)
    for (const width of pieces.slice(5)) expect(width).toBeCloseTo((352 * 1.42) / 2.5, 6)
  })

  it('numbers each piece by its opening', () => {
    const labels = [...drawn(windows).matchAll(/text-anchor="middle">(\d+)</g)].map(([, label]) => label)
    expect(labels).toEqual(['1', '2', '3', '4', '5', '1', '2', '3', '4', '5'])
  })

  it('keeps clear of both ends, and has neither style nor script', () => {
    const svg = drawn({ ...windows, endClearance: '20 mm' })
    const [tape] = svg.matchAll(/<rect class="ink fill-accent"[^>]* x="([\d.]+)"/g)
    expect(Number(tape?.[1])).toBeCloseTo(4 + (352 * 0.02) / 1.42, 6)
    expect(svg).not.toMatch(/NaN|Infinity|undefined|style=|<script/)
  })

  it('draws nothing where nothing is cut from', () => {
    expect(drawn({ openings: '30 mm', cutLength: '50 mm' }).match(/<svg/g)).toHaveLength(1)
  })
})
