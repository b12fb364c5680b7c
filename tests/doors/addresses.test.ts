import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { inBrackets, isAddress, isLoopback, networkOf } from '../../src/doors/addresses'

describe('addresses', () => {
  // RFC 6890, tables 1 and 17: 127.0.0.0/8 and ::1 are loopback; RFC 6761, 6.3: so is localhost.
  it.each(['127.0.0.1', '127.255.255.254', '::1', '[::1]', '::ffff:127.0.0.1', 'localhost', 'LOCALHOST'])(
    '%s is this machine',
    (host) => expect(isLoopback(host)).toBe(true),
  )

  it.each([
    '0.0.0.0',
    '::',
    '126.255.255.255',
    '128.0.0.1',
    '127.0.0.1.example',
    'localhost.example',
    '::ffff:10.0.0.1',
    '2001:db8::1',
    '',
    '127',
  ])('%s is not', (host) => expect(isLoopback(host)).toBe(false))

  it('are told from names', () => {
    expect(['10.0.0.1', '::1', '[fd00::2]', 'fe80::1%eth0'].map(isAddress)).toEqual([true, true, true, true])
    expect(['lights.example', '10.0.0', '10.0.0.1.example', ''].map(isAddress)).toEqual(Array(4).fill(false))
  })

  // RFC 4291, 2.2: the ways to write one address; 2.5.4: an interface's network is its first 64 bits.
  it.each([
    ['192.168.7.20', '192.168.7.20'],
    ['::ffff:192.168.7.20', '192.168.7.20'],
    ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2'],
    ['2001:DB8:1:2::1', '2001:db8:1:2'],
    ['2001:db8::1', '2001:db8:0:0'],
    ['fe80::1%eth0', 'fe80:0:0:0'],
    ['::1', '0:0:0:0'],
    ['0001::', '1:0:0:0'],
  ])('%s is of the network %s', (address, network) => expect(networkOf(address)).toBe(network))

  it('of one /64 are of one network, those of two are of two', () => {
    const group = fc.integer({ min: 0, max: 0xffff }).map((value) => value.toString(16))
    const half = fc.tuple(group, group, group, group).map((groups) => groups.join(':'))
    fc.assert(
      fc.property(half, half, half, (network, host, other) => {
        expect(networkOf(`${network}:${host}`)).toBe(networkOf(`${network}:${other}`))
        fc.pre(network !== other)
        expect(networkOf(`${network}:${host}`)).not.toBe(networkOf(`${other}:${host}`))
      }),
      { numRuns: 1000 },
    )
  })

  it('stand in an address of the web', () => {
    expect(new URL(`http://${inBrackets('::1')}:1`).port).toBe('1')
    expect(inBrackets('127.0.0.1')).toBe('127.0.0.1')
  })
})
