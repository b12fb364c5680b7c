import { describe, expect, it } from 'vitest'
import { flattenInputs } from '../../../src/questions/common/question'
import { unflatten } from '../../../src/questions/common/read-inputs'

describe('rows in an address', () => {
  it('come back as the list they were', () => {
    const inputs = {
      voltage: '24 V',
      feeds: [{ at: '0 ft' }, { at: '16 ft', gauge: '#14' }],
      drivers: ['30 W', '40 W'],
    }
    expect(unflatten(flattenInputs(inputs))).toEqual(inputs)
  })

  it('close up where a row was left empty, in the order of their numbers', () => {
    expect(unflatten({ 'feeds.10.at': 'b', 'feeds.2.at': 'a' })).toEqual({
      feeds: [{ at: 'a' }, { at: 'b' }],
    })
  })

  it('cannot reach what every object has', () => {
    unflatten({
      '__proto__.polluted': 'yes',
      'constructor.prototype.polluted': 'yes',
      'a.__proto__.polluted': 'yes',
    })
    expect(({} as Record<string, unknown>).polluted).toBeUndefined()
  })
})
