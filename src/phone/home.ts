import type { Hono } from 'hono'
import { createApp } from '../app/app'
import { openPhoneLog, type PhoneLog } from '../jobs/log/idb-job-log'
import { phoneSay } from './words'

/** What this phone is: the app, and its own log, or why it has none. */
export type PhoneHome = { app: Hono; kept: PhoneLog } | { app: Hono; kept: null; noStorage: string }

let home: Promise<PhoneHome> | undefined

const forget = (): void => {
  home = undefined
}

/** The home, opened once; one whose log could not be opened is tried anew the next time. */
export function phoneHome(): Promise<PhoneHome> {
  home ??= openHome()
  return home
}

async function openHome(): Promise<PhoneHome> {
  const opened = await openPhoneLog('ladderside-jobs', forget)
  if (opened.ok) return { app: createApp({ log: opened.value.log }), kept: opened.value }
  forget()
  const noLog = phoneSay('noStorage', { why: opened.message })
  return { app: createApp({ noLog }), kept: null, noStorage: opened.message }
}
