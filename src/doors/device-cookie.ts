import type { Context } from 'hono'
import { getSignedCookie, setSignedCookie } from 'hono/cookie'
import { mostDays } from './device-book'

const name = 'ladderside-device'

/** How a device shows that it was let in. */
export type DeviceCookie = {
  read(context: Context): Promise<string | undefined>
  give(context: Context, token: string): Promise<void>
}

/**
 * The cookie that carries a device's token, signed, out of every script's reach.
 *
 * Lax: a link that somebody was sent opens on a paired device, and no change is ever made by opening a link. Behind
 * HTTPS it has the prefix that no other host and no plain connection can set (RFC 6265bis, 4.1.3.2).
 */
export function deviceCookie(secret: string, isHttps: boolean): DeviceCookie {
  const options = {
    path: '/',
    httpOnly: true,
    sameSite: 'Lax' as const,
    ...(isHttps ? { prefix: 'host' as const, secure: true } : {}),
  }
  return {
    async read(context) {
      const token = await getSignedCookie(context, secret, name, options.prefix)
      return token === false ? undefined : token
    },
    give: (context, token) =>
      setSignedCookie(context, name, token, secret, { ...options, maxAge: mostDays * 24 * 60 * 60 }),
  }
}
