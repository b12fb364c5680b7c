import { isIP } from 'node:net'
import { getConnInfo } from '@hono/node-server/conninfo'
import type { Context } from 'hono'
import { isLoopback } from './addresses'

/** Who is at the other end of the connection; undefined where there is none, in a test. */
const peerOf = (context: Context): string | undefined =>
  context.env && 'incoming' in context.env ? getConnInfo(context).remote.address : undefined

/**
 * The address of whoever asks. Only a proxy that we were told of is believed about it, and only the last entry, which
 * the proxy itself wrote: the others are whatever the client said (RFC 7239, 8.1).
 */
export function clientOf(context: Context, proxied: boolean): string {
  const told = proxied ? context.req.header('x-forwarded-for')?.split(',').at(-1)?.trim() : undefined
  return told !== undefined && isIP(told) ? told : (peerOf(context) ?? 'unknown')
}

/**
 * Whether somebody on this machine asks this machine. A proxy's connection comes from here too, but asks for the name
 * it serves, so both have to fit.
 */
export const isFromHere = (context: Context): boolean =>
  isLoopback(peerOf(context) ?? '') && isLoopback(new URL(context.req.url).hostname)
