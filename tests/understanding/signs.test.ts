import { describe, expect, it } from 'vitest'
import { readLine } from '../../src/understanding/line'
import { signPoints } from '../../src/understanding/signs'
import type { View } from '../../src/understanding/view'

const viewOf = (text: string): View => readLine(text).views[0] as View

describe('signPoints', () => {
  it('speaks for a question where its quantities and one of its words are there', () => {
    expect(
      signPoints('feed-gauge', viewOf('the cable is 12 m and the load 60 W, which copper')).length,
    ).toBeGreaterThan(0)
  })

  it('is silent without the quantities', () => {
    expect(signPoints('feed-gauge', viewOf('which copper for the cable'))).toEqual([])
  })

  it('is silent where a word speaks against it', () => {
    expect(signPoints('feed-gauge', viewOf('12 m, 60 W, which copper for the 15 A breaker'))).toEqual([])
  })

  it('counts the members of a list one by one', () => {
    expect(signPoints('task-light', viewOf('800 lm/m, 2 m and 60 cm')).length).toBeGreaterThan(0)
  })

  it('has nothing to say of a question without signs', () => {
    expect(signPoints('box-fill', viewOf('12 m, 60 W'))).toEqual([])
  })
})
