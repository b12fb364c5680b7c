import { describe, expect, it } from 'vitest'
import { isLoopback, ownAddress } from '../../src/doors/addresses'
import { handedOn, reachedAt } from '../../src/doors/reach'
import type { Settings } from '../../src/doors/settings'

const settings = (more: Partial<Settings> = {}): Settings => ({
  port: 3150,
  host: '127.0.0.1',
  data: '',
  locked: true,
  proxied: false,
  log: 'faults',
  ...more,
})

describe('the address by which others reach the server', () => {
  it.each([
    [settings({ host: '192.0.2.7' }), 'http://192.0.2.7:3150'],
    [settings({ host: '2001:db8::7' }), 'http://[2001:db8::7]:3150'],
    [settings({ host: '0.0.0.0', name: 'ladder.example' }), 'http://ladder.example:3150'],
    [settings({ proxied: true, name: 'ladder.example' }), 'https://ladder.example'],
  ])('%j: %s', (own, address) => {
    expect(reachedAt(own, 3150)).toBe(address)
  })

  it('is one of this machine where it listens on all', () => {
    expect(new URL(reachedAt(settings({ host: '0.0.0.0' }), 3150)).hostname).toBe(ownAddress() ?? '0.0.0.0')
  })
})

describe('the address that is handed on', () => {
  it.each([
    // What a phone asked by works in its network, whatever this machine takes for its own address.
    [settings({ host: '0.0.0.0' }), 'http://192.0.2.99:3150', 'http://192.0.2.99:3150'],
    [settings({ host: '192.0.2.7' }), 'http://127.0.0.1:3150', 'http://192.0.2.7:3150'],
    [settings(), 'http://127.0.0.1:3150', 'http://127.0.0.1:3150'],
    [settings({ proxied: true, name: 'ladder.example' }), 'http://ladder.example', 'https://ladder.example'],
  ])('%j asked by %s: %s', (own, asked, address) => {
    expect(handedOn(own, 3150, asked)).toBe(address)
  })

  it('means more than this machine, where others reach the server', () => {
    const asked = handedOn(settings({ host: '0.0.0.0' }), 3150, 'http://localhost:3150')
    expect(isLoopback(new URL(asked).hostname)).toBe(false)
  })
})
