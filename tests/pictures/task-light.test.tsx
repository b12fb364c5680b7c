import { describe, expect, it } from 'vitest'
import { TaskLight } from '../../src/pictures/task-light'
import { type TaskLightPicture, taskLight } from '../../src/questions/task-light'

function drawn(raw: object): string {
  const result = taskLight.answer(raw)
  if (!result.ok) throw new Error(JSON.stringify(result.errors))
  return String(<TaskLight data={result.answer.picture?.data as TaskLightPicture} />)
}

const bench = { height: '30 in', tapeLength: '6 ft', tapeLumens: '450 lm/ft', target: '50 fc' }

/** Height of the target's line and of the point in each of the two panels. */
const heightsOf = (svg: string) => {
  const targets = [...svg.matchAll(/class="limit"[^>]* d="M44,([\d.]+)H/g)].map(([, y]) => Number(y))
  const points = [...svg.matchAll(/class="ink fill-accent"[^>]* d="M[\d.]+,([\d.]+)L/g)].map(
    ([, y]) => Number(y) + 8,
  )
  return { targets, points: points.slice(1) }
}

describe('the picture of task-light', () => {
  it('says in words what it shows', () => {
    const svg = drawn(bench)
    expect(svg).toContain('role="img"')
    expect(svg).toMatch(/<desc>.*62\.6 fc \(674 lx\).*The target is 50 fc \(538 lx\)\.<\/desc>/)
    expect(svg).toContain('wanted: 50 fc (538 lx)')
  })

  it('draws the point above the target just when there is more light than that', () => {
    const bright = heightsOf(drawn(bench))
    expect(bright.points).toHaveLength(2)
    bright.points.forEach((y, panel) => {
      expect(y).toBeLessThan(bright.targets[panel] as number)
    })
    const dim = heightsOf(drawn({ ...bench, dim: '60 %' }))
    dim.points.forEach((y, panel) => {
      expect(y).toBeGreaterThan(dim.targets[panel] as number)
    })
  })

  it('stands on the target when it answers what tape is needed', () => {
    const { targets, points } = heightsOf(
      drawn({ height: '30 in', tapeLength: '6 ft', target: '50 fc', dim: '40 %' }),
    )
    points.forEach((y, panel) => {
      expect(y).toBeCloseTo(targets[panel] as number, 6)
    })
  })

  it('is in the person’s own units', () => {
    expect(drawn(bench)).toMatch(/>fc<.*>ft</s)
    expect(drawn({ ...bench, units: 'metric' })).toMatch(/>lx<.*>m</s)
  })

  it('holds the widest cases, and has neither style nor script', () => {
    for (const height of ['0.05 m', '10 m']) {
      for (const along of ['-100 m', '0 m', '100 m']) {
        for (const tapeLength of ['0.01 m', '100 m']) {
          const svg = drawn({
            height,
            along,
            tapeLength,
            tapeLumens: '6000 lm/m',
            offset: '10 m',
            target: '5000 lx',
          })
          expect(svg).not.toMatch(/NaN|Infinity|undefined|style=|<script/)
        }
      }
    }
  })
})
