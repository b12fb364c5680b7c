import fc from 'fast-check'
import { describe, expect, it, vi } from 'vitest'
import { newId } from '../../../src/jobs/log/identifier'
import { idSchema } from '../../../src/jobs/log/job'

describe('an id', () => {
  it('is a version 7 UUID with the time in front, as in the example of RFC 9562, appendix A.6', async () => {
    vi.resetModules()
    const { newId: firstId } = await import('../../../src/jobs/log/identifier')
    const example = '017f22e2-79b0-7cc3-98c4-dc0c0c07398f'
    const made = firstId(Date.parse('2022-02-22T14:22:22.000-05:00'))
    expect(made.slice(0, 15)).toBe(example.slice(0, 15))
    expect([made, example].map((id) => idSchema.safeParse(id).success)).toEqual([true, true])
    expect(idSchema.safeParse(example.toUpperCase()).success).toBe(false)
  })

  it('goes up even where the clock stands still or falls back, and none comes twice', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 2 ** 46 }), { minLength: 2, maxLength: 20 }),
        (clock) => {
          const ids = clock.map((ms) => newId(ms))
          expect([...ids].sort()).toEqual(ids)
          expect(new Set(ids).size).toBe(ids.length)
          expect(ids.every((id) => idSchema.safeParse(id).success)).toBe(true)
        },
      ),
      { numRuns: 1000 },
    )
    const many = Array.from({ length: 20_000 }, () => newId(0))
    expect([...many].sort()).toEqual(many)
    expect(new Set(many).size).toBe(many.length)
  })
})
