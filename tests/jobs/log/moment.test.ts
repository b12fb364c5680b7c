import { describe, expect, it } from 'vitest'
import { momentAfter } from '../../../src/jobs/log/moment'

describe('the time of something new in a job', () => {
  it('is now, where nothing in the job is later', () => {
    expect(momentAfter('2026-03-02T08:00:00.000Z', Date.UTC(2026, 2, 2, 9))).toBe('2026-03-02T09:00:00.000Z')
    expect(momentAfter(undefined, 0)).toBe('1970-01-01T00:00:00.000Z')
  })

  it('is after all that is in the job, whichever clock is wrong', () => {
    expect(momentAfter('2031-01-01T00:00:00.000Z', 0)).toBe('2031-01-01T00:00:00.001Z')
  })

  it('can be written even at the end of all that can be', () => {
    expect(momentAfter('9999-12-31T23:59:59.999Z', 0)).toBe('9999-12-31T23:59:59.999Z')
    expect(momentAfter(undefined, 9e15)).toBe('9999-12-31T23:59:59.999Z')
  })
})
