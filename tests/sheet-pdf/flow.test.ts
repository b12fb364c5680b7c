import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Block, Flow } from '../../src/sheet-pdf/flow'

const pageHeight = 700
const top = 50

type Placed = { id: number; page: number; x: number; y: number; height: number }

/** Pages of paper that only count. */
function paper() {
  let page = 0
  const placed: Placed[] = []
  const flow = new Flow({
    top,
    bottom: top + pageHeight,
    left: 40,
    width: 500,
    document: { addPage: () => page++ },
  })
  const block = (id: number, height: number, keepsWithNext = false, before = 0): Block => ({
    height,
    before,
    keepsWithNext,
    draw: (x, y) => placed.push({ id, page, x, y, height }),
  })
  return { flow, placed, block }
}

const bottomOf = ({ y, height }: Placed): number => y + height

const heights = fc.array(
  fc.record({ height: fc.double({ min: 1, max: 300, noNaN: true }), keeps: fc.boolean() }),
  {
    minLength: 1,
    maxLength: 60,
  },
)

/** A heading is followed by something, and never by a page of headings. */
const sound = (all: readonly { height: number; keeps: boolean }[]) =>
  all.map(({ height, keeps }, at) => ({ height, keeps: keeps && at % 2 === 0 && at < all.length - 1 }))

describe('blocks under each other', () => {
  it('stand whole on a page, in order, none upon another, and what keeps together stays together', () => {
    fc.assert(
      fc.property(heights, (all) => {
        const { flow, placed, block } = paper()
        const blocks = sound(all)
        flow.add(blocks.map(({ height, keeps }, at) => block(at, height, keeps, at % 3)))
        expect(placed.map(({ id }) => id)).toEqual(blocks.map((_, at) => at))
        for (const [at, one] of placed.entries()) {
          expect(one.y).toBeGreaterThanOrEqual(top)
          expect(bottomOf(one)).toBeLessThanOrEqual(top + pageHeight + 0.02)
          const next = placed[at + 1]
          if (next && next.page === one.page) expect(next.y).toBeGreaterThanOrEqual(bottomOf(one) - 1e-9)
          if (next && blocks[at]?.keeps) expect(next.page).toBe(one.page)
        }
      }),
      { numRuns: 1000 },
    )
  })

  it('repeats the names of a table on every page that it goes on', () => {
    const { flow, placed, block } = paper()
    const header = block(-1, 20, true)
    flow.add([header, ...Array.from({ length: 30 }, (_, at) => block(at, 50))], header)
    const pages = new Set(placed.map(({ page }) => page))
    expect(placed.filter(({ id }) => id === -1).map(({ page }) => page)).toEqual([...pages])
  })

  it('divides only what is higher than a page', () => {
    const { flow, placed, block } = paper()
    const long = (id: number, height: number): Block => ({
      ...block(id, height),
      split: (most) => [block(id, most), long(id, height - most)],
    })
    flow.add([block(0, 100), long(1, 2000)])
    expect(placed.filter(({ id }) => id === 1).reduce((sum, { height }) => sum + height, 0)).toBeCloseTo(
      2000,
      6,
    )
    for (const one of placed) expect(bottomOf(one)).toBeLessThanOrEqual(top + pageHeight + 0.02)
  })
})

describe('blocks in two columns', () => {
  it('stand whole on a page, each once, in order down one column and then the other', () => {
    fc.assert(
      fc.property(heights, (all) => {
        const { flow, placed, block } = paper()
        flow.add([block(-1, 123)])
        flow.addInColumns(
          all.map(({ height }, at) => block(at, height)),
          20,
        )
        const columns = placed.slice(1)
        expect(columns.map(({ id }) => id)).toEqual(all.map((_, at) => at))
        for (const [at, one] of columns.entries()) {
          expect(bottomOf(one)).toBeLessThanOrEqual(top + pageHeight + 0.02)
          const next = columns[at + 1]
          if (next && next.page === one.page && next.x === one.x)
            expect(next.y).toBeGreaterThanOrEqual(bottomOf(one) - 1e-9)
        }
      }),
      { numRuns: 1000 },
    )
  })

  it('end about level on the last page', () => {
    const { flow, placed, block } = paper()
    flow.addInColumns(
      Array.from({ length: 20 }, (_, at) => block(at, 10)),
      20,
    )
    const right = placed.filter(({ x }) => x > 40)
    expect(right).toHaveLength(10)
  })
})
