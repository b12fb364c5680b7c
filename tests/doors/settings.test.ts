import { describe, expect, it } from 'vitest'
import { readSettings } from '../../src/doors/settings'

const refusal = (environment: Record<string, string>): string => {
  const read = readSettings(environment)
  return read.ok ? 'started' : read.message
}

describe('the settings', () => {
  it('need nothing on the machine itself', () => {
    expect(readSettings({})).toEqual({
      ok: true,
      settings: {
        port: 3150,
        host: '127.0.0.1',
        data: 'data/local',
        locked: false,
        proxied: false,
        log: 'faults',
      },
    })
  })

  it.each(['127.0.0.1', '127.8.9.1', '::1', 'localhost'])('start unlocked on %s', (host) => {
    expect(refusal({ HOST: host })).toBe('started')
  })

  it.each([
    '0.0.0.0',
    '::',
    '192.168.7.20',
    '10.0.0.1',
    'fd00::2',
    '::ffff:10.0.0.1',
    'lights.example',
    '128.0.0.1',
  ])('refuse to start unlocked on %s, and say what to do', (host) => {
    expect(refusal({ HOST: host })).toMatch(/^HOST lets others .*LADDERSIDE_LOCKED=1/)
    expect(refusal({ HOST: host, LADDERSIDE_LOCKED: '0' })).toMatch(/^HOST/)
    expect(refusal({ HOST: host, LADDERSIDE_LOCKED: '1' })).toBe('started')
  })

  it('refuse to start unlocked behind a proxy or under a name, which open the machine as well', () => {
    expect(refusal({ LADDERSIDE_PROXY: '1' })).toMatch(/^LADDERSIDE_PROXY lets others/)
    expect(refusal({ LADDERSIDE_NAME: 'lights.example' })).toMatch(/^LADDERSIDE_NAME lets others/)
    expect(refusal({ LADDERSIDE_NAME: 'lights.example', LADDERSIDE_LOCKED: '1' })).toBe('started')
  })

  it.each([
    ['PORT', '-1', 'a whole number'],
    ['PORT', '65536', 'a whole number'],
    ['PORT', '80a', 'a whole number'],
    ['PORT', '', 'a whole number'],
    ['HOST', 'not a host', 'an address'],
    ['HOST', '', 'an address'],
    ['HOST', '127.0.0.1:80', 'an address'],
    ['LADDERSIDE_LOCKED', 'yes', '1, or 0'],
    ['LADDERSIDE_PROXY', 'true', '1, or 0'],
    ['LADDERSIDE_NAME', 'https://lights.example', 'a host name'],
    ['LADDERSIDE_NAME', 'lights.example:443', 'a host name'],
    ['LADDERSIDE_SECRET', 'short', '32 characters'],
    ['LADDERSIDE_LOG', 'all', 'requests or faults'],
    ['LADDERSIDE_DATA', '', 'folder'],
  ])('refuse %s=%s in one sentence', (setting, value, must) => {
    const said = refusal({ [setting]: value })
    expect(said).toContain(`${setting} cannot be used: it must be `)
    expect(said).toContain(must)
  })

  it('keep a line for each request once others come in, and as they are told', () => {
    const logOf = (environment: Record<string, string>) => {
      const read = readSettings(environment)
      return read.ok ? read.settings.log : read.message
    }
    expect(logOf({ LADDERSIDE_LOCKED: '1' })).toBe('requests')
    expect(logOf({ LADDERSIDE_LOCKED: '1', LADDERSIDE_LOG: 'faults' })).toBe('faults')
    expect(logOf({ LADDERSIDE_LOG: 'requests' })).toBe('requests')
  })
})
