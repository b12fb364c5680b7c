import { renderUnicodeCompact } from 'uqr'
import { codeMinutes } from './pairing-code'
import { say } from './words'

/** A code as it is shown on a terminal: to read, and as a picture that a phone's camera opens. */
export function shownCode(code: string, address: string | undefined): string {
  const said = say('terminal.code', { code, minutes: String(codeMinutes) })
  if (address === undefined) return [said, say('terminal.noAddress')].join('\n')
  const link = new URL('/pair', address)
  const where = say('terminal.address', { address: link.href })
  link.searchParams.set('code', code)
  return [said, where, renderUnicodeCompact(link.href, { border: 2 })].join('\n')
}
