import { join } from 'node:path'
import * as z from 'zod/mini'
import { isAddress, isLoopback } from './addresses'
import { say } from './words'

/** A host name (RFC 1123, 2.1), without a port. */
const hostName = /^(?=.{1,253}$)[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*$/i

/** 256 bits, however they are spelled, do not fit into fewer characters. */
const shortestSecret = 32

const flag = z.pipe(
  z.enum(['', '0', '1'], { error: () => say('must.flag') }),
  z.transform((value) => value === '1'),
)

const settingsSchema = z.object({
  PORT: z._default(
    z
      .pipe(z.string().check(z.regex(/^\d{1,5}$/, { error: () => say('must.port') })), z.transform(Number))
      .check(z.refine((port) => port <= 65535, { error: () => say('must.port') })),
    3150,
  ),
  HOST: z._default(
    z
      .string()
      .check(z.refine((host) => isAddress(host) || hostName.test(host), { error: () => say('must.host') })),
    '127.0.0.1',
  ),
  LADDERSIDE_DATA: z._default(
    z.string().check(z.minLength(1, { error: () => say('must.data') })),
    join('data', 'local'),
  ),
  LADDERSIDE_LOCKED: z._default(flag, false),
  LADDERSIDE_PROXY: z._default(flag, false),
  LADDERSIDE_NAME: z.optional(
    z.pipe(
      z.string().check(z.regex(hostName, { error: () => say('must.name') })),
      z.transform((name) => name.toLowerCase()),
    ),
  ),
  LADDERSIDE_SECRET: z.optional(
    z.string().check(z.minLength(shortestSecret, { error: () => say('must.secret') })),
  ),
  LADDERSIDE_LOG: z.optional(z.enum(['requests', 'faults'], { error: () => say('must.log') })),
})

/** How this server stands to the world. */
export type Settings = {
  port: number
  host: string
  /** The folder of the job log and of the list of devices. */
  data: string
  /** Whether only paired devices get in. */
  locked: boolean
  /** Whether HTTPS ends at a proxy in front, whose headers are then believed. */
  proxied: boolean
  /** The name under which it is reached from outside. */
  name?: string
  /** What cookies are signed with; made and kept in the data folder where it is not set. */
  secret?: string
  log: 'requests' | 'faults'
}

/** The settings, or what to do instead of starting. */
export type ReadSettings = { ok: true; settings: Settings } | { ok: false; message: string }

/**
 * Reads the settings from the environment. Refuses whatever would let strangers in: a server that others can reach,
 * by its own listener, by a proxy or by a name, and that asks nobody who comes in.
 *
 * @example
 * readSettings({ HOST: '0.0.0.0' }) // { ok: false, message: 'HOST means …' }
 */
export function readSettings(environment: Readonly<Record<string, string | undefined>>): ReadSettings {
  const read = settingsSchema.safeParse(environment)
  if (!read.success) {
    const [issue] = read.error.issues
    const setting = String(issue?.path[0])
    return { ok: false, message: say('start.setting', { setting, must: issue?.message ?? '' }) }
  }
  const { PORT: port, HOST: host, LADDERSIDE_DATA: data, LADDERSIDE_LOCKED: locked } = read.data
  const { LADDERSIDE_PROXY: proxied, LADDERSIDE_NAME: name, LADDERSIDE_SECRET: secret } = read.data
  const opens = { HOST: !isLoopback(host), LADDERSIDE_PROXY: proxied, LADDERSIDE_NAME: name !== undefined }
  const setting = Object.entries(opens).find(([, isOpen]) => isOpen)?.[0]
  if (setting && !locked) return { ok: false, message: say('start.unlocked', { setting }) }
  // At home on one machine nobody needs a line for each page; a server that others use keeps one.
  const log = read.data.LADDERSIDE_LOG ?? (locked ? 'requests' : 'faults')
  const settings = { port, host, data, locked, proxied, log }
  return { ok: true, settings: { ...settings, ...(name ? { name } : {}), ...(secret ? { secret } : {}) } }
}
