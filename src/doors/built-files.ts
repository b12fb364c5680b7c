import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join, relative, sep } from 'node:path'
import type { Hono } from 'hono'
import { getMimeType } from 'hono/utils/mime'

/** How the build packed a file beside it, the smallest first (compressed.config.ts). */
const packings = [
  { encoding: 'br', ending: '.br' },
  { encoding: 'gzip', ending: '.gz' },
]

/**
 * Serves what the build made for browsers, each file under its own name, as small as the browser can read it. They are
 * read once, at the start: nothing that is asked for is ever looked up on the disk, so there is no path to climb out of
 * and no folder to show.
 */
export function serveBuilt(app: Hono, folder: string): void {
  const files = new Map(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name))
      .map((file) => [relative(folder, file).replaceAll(sep, '/'), readFileSync(file)]),
  )
  for (const [name, content] of files) {
    if (packings.some(({ ending }) => name.endsWith(ending))) continue
    const plain = variantOf(name, content)
    const packed = packings.flatMap(({ encoding, ending }) => {
      const packedContent = files.get(`${name}${ending}`)
      return packedContent ? [{ encoding, ...variantOf(name, packedContent, encoding) }] : []
    })
    app.get(`/${name}`, (context) => {
      const accepted = context.req.header('accept-encoding') ?? ''
      const { content: sent, headers } = packed.find(({ encoding }) => accepted.includes(encoding)) ?? plain
      return context.req.header('if-none-match') === headers.etag
        ? context.body(null, 304, headers)
        : context.body(sent, 200, headers)
    })
  }
}

type Variant = { content: Uint8Array<ArrayBuffer>; headers: Record<string, string> & { etag: string } }

const variantOf = (name: string, content: Uint8Array<ArrayBuffer>, encoding?: string): Variant => ({
  content,
  headers: {
    'content-type': getMimeType(name) ?? 'application/octet-stream',
    'cache-control': 'no-cache',
    vary: 'accept-encoding',
    etag: `"${createHash('sha256').update(content).digest('base64url')}"`,
    ...(encoding ? { 'content-encoding': encoding } : {}),
  },
})
