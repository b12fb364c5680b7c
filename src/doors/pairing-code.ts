import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'

/**
 * How long a code is good for, in minutes (OWASP ASVS 4.0.3, 2.7.2).
 *
 * Eight of 32 letters are 40 bits. While a code is good, the pairing page takes at most `mostTriesOverall` wrong ones in
 * each of the two spans of ten minutes that it may reach into: guessing succeeds once in 2^40 / 2000, five hundred
 * million codes, however many machines guess.
 */
export const codeMinutes = 10

/** Tries at a code in `codeMinutes`, by one network and by all together. */
export const mostTriesByNetwork = 5
export const mostTriesOverall = 1000

/** Digits and letters that are not taken for one another when they are read out or typed in gloves. */
const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'
const codeLength = 8
const saltBytes = 16

/** What is kept of a code: without the code itself, nobody can find it in ten minutes. */
export type CodeHash = { salt: string; hash: string }

const digestOf = (salt: string, code: string): Buffer =>
  createHash('sha256').update(salt).update(code).digest()

/** Makes a code, as it is shown ("4F7K-09QX"), and what is kept of it. */
export function newCode(): { code: string; kept: CodeHash } {
  // 256 is a multiple of 32: every letter is as likely as another.
  const code = Array.from(randomBytes(codeLength), (byte) => letters[byte % letters.length]).join('')
  const salt = randomBytes(saltBytes).toString('base64url')
  const kept = { salt, hash: digestOf(salt, code).toString('base64url') }
  return { code: `${code.slice(0, 4)}-${code.slice(4)}`, kept }
}

/** A code as it may be typed: small letters, spaces, and letters that look like a digit. */
const asMade = (typed: string): string =>
  typed.toUpperCase().replace(/[\s-]/g, '').replaceAll('O', '0').replaceAll(/[IL]/g, '1')

/** Whether what was typed is the code of which this was kept; takes as long for any wrong one. */
export const isCode = (typed: string, { salt, hash }: CodeHash): boolean =>
  timingSafeEqual(digestOf(salt, asMade(typed)), Buffer.from(hash, 'base64url'))
