import type { Reached } from '../jobs/sync/send'
import { phoneSay } from './words'

/** How it stands with what this phone keeps. */
export type PhoneState = {
  hasSignal: boolean
  /** How many things that somebody did wait for the server, and how many it would not take. */
  waiting: number
  refused: number
  /** What holds the waiting up, where it is not the signal. */
  heldBy?: string
  /** Why this browser keeps nothing. */
  noStorage?: string
}

/** What came of the last attempt to send, as far as it says why something waits. */
export const heldBy = (reached: Reached | undefined): { heldBy?: string } =>
  reached?.reached === 'stopped' ? { heldBy: reached.message } : {}

/** The state in words, for the foot of every page; nothing is made to look better than it is. */
export function sentenceOf({ hasSignal, waiting, refused, heldBy: why, noStorage }: PhoneState): string {
  if (noStorage !== undefined) return phoneSay('noStorage', { why: noStorage })
  const said = [
    ...(hasSignal ? [] : [phoneSay('noSignal', {})]),
    ...(waiting > 0 ? [waitingSentence(waiting, why)] : []),
    ...(refused > 0
      ? [phoneSay(refused === 1 ? 'refused.one' : 'refused.more', { count: `${refused}` })]
      : []),
  ]
  return said.join(' ') || phoneSay('ready', {})
}

function waitingSentence(waiting: number, why: string | undefined): string {
  const count = `${waiting}`
  if (why) return phoneSay(waiting === 1 ? 'held.one' : 'held.more', { count, why })
  return phoneSay(waiting === 1 ? 'waits.one' : 'waits.more', { count })
}
