import { isIP, isIPv6 } from 'node:net'
import { networkInterfaces } from 'node:os'

/** An IPv4 address that a socket of both families shows as IPv6 (RFC 4291, 2.5.5.2). */
const mapped = /^::ffff:(?=\d+\.\d+\.\d+\.\d+$)/i

/** As it stands in an address, without brackets and without the interface it belongs to. */
const bare = (host: string): string =>
  host
    .replace(/^\[(.*)\]$/, '$1')
    .replace(/%.*$/, '')
    .replace(mapped, '')

/**
 * Whether only this machine itself can be meant: 127.0.0.0/8, ::1 (RFC 6890) or the name localhost (RFC 6761, 6.3).
 *
 * @param host a name or an address, with or without brackets
 */
export function isLoopback(host: string): boolean {
  const name = bare(host).toLowerCase()
  return name === 'localhost' || name === '::1' || (isIP(name) === 4 && name.startsWith('127.'))
}

/** Whether a host is an address, which no name server can point elsewhere, and not a name. */
export const isAddress = (host: string): boolean => isIP(bare(host)) !== 0

/**
 * The network to which one client's addresses belong: an IPv4 address alone; of IPv6 the /64, since every client may
 * have a whole one to choose addresses from (RFC 4291, 2.5.4).
 */
export function networkOf(address: string): string {
  const host = bare(address)
  if (!isIPv6(host)) return host
  const [head = '', tail] = host.split('::')
  const before = head === '' ? [] : head.split(':')
  const after = tail ? tail.split(':') : []
  const gap = tail === undefined ? 0 : 8 - before.length - after.length
  const groups = [...before, ...Array.from({ length: gap }, () => '0'), ...after]
  return groups
    .slice(0, 4)
    .map((group) => Number.parseInt(group, 16).toString(16))
    .join(':')
}

/** An address of this machine that others in its network may reach, where it has one. */
export function ownAddress(): string | undefined {
  const all = Object.values(networkInterfaces()).flatMap((each) => each ?? [])
  return all.find(({ internal, family }) => !internal && family === 'IPv4')?.address
}

/** A host as it stands in an address of the web. */
export const inBrackets = (host: string): string => (isIPv6(host) ? `[${host}]` : host)
