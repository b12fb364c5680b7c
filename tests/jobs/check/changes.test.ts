import { describe, expect, it } from 'vitest'
import { changesOf } from '../../../src/jobs/check/changes'
import { check } from './telling'

const run = { voltage: '24 V', load: '60 W', feedDistance: '40 ft', gauge: '14 AWG', driverPower: '96 W' }
const idsOf = (changes: { after: { id: string } }[]) => changes.map(({ after }) => after.id)

describe('what a change did to the board', () => {
  // CALCULATIONS.md, feed-gauge: over 40 ft 16 AWG loses 4.158 %, 14 AWG 2.617 %.
  it('names what got worse, and the other way round what got better', () => {
    const [before, after] = [check(run), check({ ...run, gauge: '16 AWG' })]
    const { worse, better } = changesOf(before, after)
    expect(idsOf(worse)).toEqual(['feed-gauge'])
    expect(worse[0]).toMatchObject({ before: { state: 'holds' }, after: { state: 'fails' } })
    expect(better).toEqual([])
    expect(idsOf(changesOf(after, before).better)).toEqual(['feed-gauge'])
  })

  it('names what is new and what is gone', () => {
    const after = check(run, { Attic: { box: 'octagon 4 x 1-1/2', boxCables: ['14/2'] } })
    const { fresh, gone } = changesOf(check(run), after)
    expect(fresh.map(({ id }) => id)).toEqual(['box-fill@Attic', 'cable-in-box@Attic'])
    expect(gone.map(({ id }) => id)).toEqual(['box-fill'])
  })

  it('names what says something else without being better or worse', () => {
    const { otherwise, worse, better } = changesOf(check(run), check({ ...run, load: '59 W' }))
    expect(idsOf(otherwise)).toContain('feed-gauge')
    expect([...worse, ...better]).toEqual([])
  })

  it('finds nothing where nothing changed', () => {
    expect(changesOf(check(run), check(run))).toEqual({
      worse: [],
      better: [],
      otherwise: [],
      fresh: [],
      gone: [],
    })
  })

  it('counts what can no longer be asked as worse than what is tight, and better than what fails', () => {
    const { gauge: _, ...without } = run
    const asked = check({ ...without, breaker: '15 A', existing: '1 A' })
    const unasked = check({ ...without, breaker: '15 A' })
    expect(idsOf(changesOf(asked, unasked).worse)).toEqual(['drivers-on-circuit'])
  })
})
