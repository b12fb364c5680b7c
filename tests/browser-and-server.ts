import type { Browser } from 'playwright-core'
import { afterAll, beforeAll } from 'vitest'
import { openBrowser, type RunningServer, startServer } from './browser'

/** A browser and a server for all tests of a file, there before the first and gone after the last. */
export function browserAndServer(environment: Record<string, string> = {}): {
  browser: Browser
  server: RunningServer
} {
  const both = {} as { browser: Browser; server: RunningServer }
  beforeAll(async () => {
    ;[both.browser, both.server] = await Promise.all([openBrowser(), startServer(environment)])
  })
  afterAll(async () => {
    await both.browser?.close()
    await both.server?.stop()
  })
  return both
}
