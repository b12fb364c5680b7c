import { describe, expect, test } from 'vitest'
import { BoxFill } from '../../src/pictures/box-fill'
import { type BoxFillPicture, boxFill } from '../../src/questions/box-fill'

function drawn(raw: object): { data: BoxFillPicture; svg: string } {
  const answered = boxFill.answer(raw)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  const data = answered.answer.picture?.data as BoxFillPicture
  return { data, svg: String(<BoxFill data={data} />) }
}

const rectangles = (svg: string): { y: number; height: number }[] =>
  [...svg.matchAll(/<rect[^>]* y="([\d.]+)"[^>]* height="([\d.]+)"/g)].map(([, y, height]) => ({
    y: Number(y),
    height: Number(height),
  }))

const fanBox = { box: 'octagon 4 x 1-1/2', cables: ['14/3', '14/2'] }
const overfull = { box: 'device 3 x 2 x 2', cables: ['2 x 14/2', '12/2/2'], devices: [{ wide: true }] }

describe('what fills the box', () => {
  test('layers are to scale: 10, 2, 2 and 1.5 in³ free', () => {
    const heights = rectangles(drawn(fanBox).svg).map(({ height }) => height)
    expect(heights).toHaveLength(4)
    const unit = (heights[0] ?? Number.NaN) / 10
    for (const [at, volume] of [10, 2, 2, 1.5].entries()) expect(heights[at]).toBeCloseTo(unit * volume, 6)
  })

  test('layers lie on one another without a gap', () => {
    const layers = rectangles(drawn(overfull).svg)
    for (const [at, layer] of layers.slice(1).entries())
      expect(layer.y + layer.height).toBeCloseTo(layers[at]?.y ?? Number.NaN, 6)
  })

  test('every layer is named with its volume, and the text alternative says the same', () => {
    const { data, svg } = drawn(overfull)
    for (const { label, text } of data.parts) {
      expect(svg).toContain(label)
      expect(svg).toContain(text)
    }
    expect(svg).toContain('role="img"')
    expect(svg).toContain(`<title>${data.title}</title>`)
    expect(svg).toContain(`<desc>${data.description}</desc>`)
  })

  test('what stands out of the box is set off by a broken line and said in words, not by colour alone', () => {
    const { data, svg } = drawn(overfull)
    expect(data.boxText).toMatch(/over by/)
    expect(svg).toMatch(/class="bad"[^>]*stroke-dasharray/)
    expect(drawn(fanBox).svg).not.toContain('class="bad"')
  })

  test('a box filled to the brim has no free layer and nothing over', () => {
    const { svg } = drawn({ box: '18 in3', cables: '3 x 14/2', devices: [{}], clamps: false })
    expect(rectangles(svg)).toHaveLength(3)
    expect(svg).not.toContain('class="bad"')
  })

  test('it needs neither style nor script, and reads metric', () => {
    const { svg } = drawn({ ...fanBox, units: 'metric' })
    expect(svg).not.toMatch(/style=|<script|on\w+=/)
    expect(svg).toContain('cm³')
    expect(svg).not.toContain('in³')
  })
})
