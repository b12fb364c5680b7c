import { randomBytes } from 'node:crypto'
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readFileSync,
  statSync,
  writeSync,
} from 'node:fs'
import { dirname, join } from 'node:path'
import { draftedAs } from '../jobs/log/sqlite-file'
import { Unusable } from './unusable'
import { say } from './words'

/** Bytes of a secret: as many as the signature (HMAC with SHA-256) has use for; RFC 2104, 3. */
const secretBytes = 32

/** Reading or writing by anybody but the owner. */
const othersMayBits = 0o077

/**
 * The secret that signs the cookies: `doors.key` in the data folder, which is made where it is not there, for the
 * owner's eyes alone (mode 600).
 *
 * @throws Unusable where others may read the file, or what the file system throws
 */
export function keptSecret(folder: string): string {
  const file = join(folder, 'doors.key')
  if (!existsSync(file)) make(file)
  if (statSync(file).mode & othersMayBits) throw new Unusable(say('start.secretOpen', { file }))
  const secret = readFileSync(file, 'utf8').trim()
  if (Buffer.from(secret, 'base64url').length !== secretBytes)
    throw new Unusable(say('start.secretBroken', { file }))
  return secret
}

function make(file: string): void {
  mkdirSync(dirname(file), { recursive: true })
  draftedAs(file, (draft) => {
    const descriptor = openSync(draft, 'wx', 0o600)
    try {
      writeSync(descriptor, randomBytes(secretBytes).toString('base64url'))
      fsyncSync(descriptor)
    } finally {
      closeSync(descriptor)
    }
  })
}
