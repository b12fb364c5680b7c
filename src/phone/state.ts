import type { Reached } from '../jobs/sync/send'
import { phoneSay } from './words'

/** How it stands with what this phone keeps. */
export type PhoneState = {
  hasSignal: boolean
  /** How many things that somebody did wait for the server, and how many it would not take. */
  waiting: number
  refused: number
  /** How many records are not the same here and on the server, and nobody has put away yet. */
  clashing: number
  /** Whether the server shut this phone out. */
  isShutOut: boolean
  /** What holds the waiting up, where it is not the signal. */
  heldBy?: string
  /** Why this browser keeps nothing. */
  noStorage?: string
}

/** What came of the last attempt to send, as far as it says why something waits. */
export const heldBy = (reached: Reached | undefined): { heldBy?: string } =>
  reached?.reached === 'stopped' ? { heldBy: reached.message } : {}

/** The state in words, for the foot of every page; nothing is made to look better than it is. */
export function sentenceOf(state: PhoneState): string {
  const { hasSignal, waiting, refused, clashing, isShutOut, heldBy: why, noStorage } = state
  if (noStorage !== undefined) return phoneSay('noStorage', { why: noStorage })
  if (isShutOut) return shutOutSentence(waiting + refused)
  const said = [
    ...(hasSignal ? [] : [phoneSay('noSignal', {})]),
    ...(waiting > 0 ? [waitingSentence(waiting, why)] : []),
    ...(refused > 0
      ? [phoneSay(refused === 1 ? 'refused.one' : 'refused.more', { count: `${refused}` })]
      : []),
    ...(clashing > 0
      ? [phoneSay(clashing === 1 ? 'clash.one' : 'clash.more', { count: `${clashing}` })]
      : []),
  ]
  return said.join(' ') || phoneSay('ready', {})
}

function waitingSentence(waiting: number, why: string | undefined): string {
  const count = `${waiting}`
  if (why) return phoneSay(waiting === 1 ? 'held.one' : 'held.more', { count, why })
  return phoneSay(waiting === 1 ? 'waits.one' : 'waits.more', { count })
}

/** Nothing of it is made less than it is: what was not sent is nowhere else. */
function shutOutSentence(unsent: number): string {
  const kept = unsent === 1 ? 'unsent.one' : 'unsent.more'
  return [phoneSay('shutOut', {}), ...(unsent > 0 ? [phoneSay(kept, { count: `${unsent}` })] : [])].join(' ')
}

/** Whether it is to stand above every page, and not at its foot alone. */
export const needsAttention = (state: PhoneState): boolean =>
  !state.hasSignal ||
  state.isShutOut ||
  state.waiting + state.refused + state.clashing > 0 ||
  state.noStorage !== undefined
