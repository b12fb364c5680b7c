import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Hono } from 'hono'
import { getMimeType } from 'hono/utils/mime'

/**
 * Serves what the build made for browsers, each file under its own name. They are read once, at the start: nothing
 * that is asked for is ever looked up on the disk, so there is no path to climb out of and no folder to show.
 */
export function serveBuilt(app: Hono, folder: string): void {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    if (!entry.isFile()) continue
    const content = readFileSync(join(folder, entry.name))
    const headers = {
      'content-type': getMimeType(entry.name) ?? 'application/octet-stream',
      'cache-control': 'no-cache',
      etag: `"${createHash('sha256').update(content).digest('base64url')}"`,
    }
    app.get(`/${entry.name}`, (context) =>
      context.req.header('if-none-match') === headers.etag
        ? context.body(null, 304, headers)
        : context.body(content, 200, headers),
    )
  }
}
