import { describe, expect, it } from 'vitest'
import sources from '../../data/sources-light.json'
import { coverRows, lightTargetRows, maintainedRows } from '../../src/tables/light-targets'

describe('light targets', () => {
  it('name a source of the bibliography, and come once each', () => {
    const known = sources.map(({ id }) => id)
    for (const row of [...lightTargetRows, ...coverRows, ...maintainedRows])
      expect(known).toContain(row.source)
    expect(new Set(lightTargetRows.map(({ id }) => id)).size).toBe(lightTargetRows.length)
  })

  // EN 12464-1:2021 (from memory); mood light: common practice
  it.each([
    ['kitchen-work', 500, 500],
    ['workshop', 300, 1000],
    ['stairs', 100, 150],
    ['mood', 10, 50],
  ])('%s: %i to %i lx', (id, luxFrom, luxTo) => {
    expect(lightTargetRows.find((row) => row.id === id)).toMatchObject({ luxFrom, luxTo })
  })
})
