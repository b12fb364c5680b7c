import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { newId } from '../../src/jobs/identifier'
import { idSchema } from '../../src/jobs/job'

describe('an id', () => {
  it('is a version 7 UUID with the time in front (RFC 9562, 5.7)', () => {
    // RFC 9562, appendix A.6: 2022-02-22 14:22:22.00 -05:00 is 0x017f22e279b0.
    const later = newId()
    expect(idSchema.parse(later)).toBe(later)
    const ms = Number.parseInt(later.replaceAll('-', '').slice(0, 12), 16)
    expect(Math.abs(ms - Date.now())).toBeLessThan(60_000)
    expect(idSchema.safeParse('017f22e2-79b0-7cc3-98c4-dc0c0c07398f').success).toBe(true)
    expect(idSchema.safeParse('017F22E2-79B0-7CC3-98C4-DC0C0C07398F').success).toBe(false)
  })

  it('writes the time of the example in RFC 9562, appendix A.6, as it does', () => {
    const ahead = 0x7f22e279b0 + 2 ** 45
    expect(newId(ahead).slice(0, 13)).toBe('207f22e2-79b0')
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
