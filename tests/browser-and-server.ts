import type { Browser } from 'playwright-core'
import { afterAll, beforeAll } from 'vitest'
import { openBrowser, startServer } from './browser'

/** A browser and a server for all tests of a file, there before the first and gone after the last. */
export function browserAndServer(environment: Record<string, string> = {}): {
  browser: Browser
  server: Awaited<ReturnType<typeof startServer>>
} {
  const both = {} as { browser: Browser; server: Awaited<ReturnType<typeof startServer>> }
  beforeAll(async () => {
    ;[both.browser, both.server] = await Promise.all([openBrowser(), startServer(environment)])
  })
  afterAll(async () => {
    both.server?.stop()
    await both.browser?.close()
  })
  return both
}
