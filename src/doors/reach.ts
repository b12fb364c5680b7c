import { inBrackets, isLoopback, ownAddress } from './addresses'
import type { Settings } from './settings'

/**
 * The address by which others reach this server: its name, else an address of this machine in its network.
 *
 * @param port where it listens
 */
export function reachedAt({ host, name, proxied }: Settings, port: number): string {
  if (proxied && name) return `https://${name}`
  const isEverywhere = host === '0.0.0.0' || host === '::'
  return `http://${inBrackets(name ?? (isEverywhere ? (ownAddress() ?? host) : host))}:${port}`
}

/**
 * The address to hand to somebody else, for a server that was asked by one: its name where it has one; else what it was
 * asked by, which is known to work, unless that means this machine alone and others reach the server too.
 *
 * @param asked the origin of a request, `http://192.0.2.7:3150`
 */
export function handedOn(settings: Settings, port: number, asked: string): string {
  const isAskedFromHere = isLoopback(new URL(asked).hostname) && !isLoopback(settings.host)
  return settings.name !== undefined || isAskedFromHere ? reachedAt(settings, port) : asked
}
