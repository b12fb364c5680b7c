import { createHash, randomBytes } from 'node:crypto'

/** 160 bits: more than can ever be tried, and short enough for a QR code that is read from a step away. */
const tokenBytes = 20

/** What stands in the address of a link, from the system's own source of randomness; 27 letters, digits, `-` and `_`. */
export const newToken = (): string => randomBytes(tokenBytes).toString('base64url')

/** Whether a text can be a token at all. */
export const isToken = (text: string): boolean => /^[A-Za-z0-9_-]{27}$/.test(text)

/**
 * What is kept of a token. Looking it up by this tells nobody anything by the time it takes: how far a digest agrees
 * with another one says nothing about the token. A plain digest is enough, since nobody can guess 160 random bits.
 */
export const digestOfToken = (token: string): string => createHash('sha256').update(token).digest('base64url')
