import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join, relative, sep } from 'node:path'
import type { Plugin } from 'vite'

/** Eight digits of SHA-256 over the names and the content of all files below some folders. */
export function digestOf(root: string, folders: readonly string[]): string {
  const hash = createHash('sha256')
  const files = folders.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name)),
  )
  for (const file of files.sort()) {
    hash.update(relative(root, file).replaceAll(sep, '/'))
    hash.update(readFileSync(file))
  }
  return hash.digest('hex').slice(0, 8)
}

/**
 * Vite plugin: lets an answer say what made it, since a record of it outlives the program. `CALCULATORS` changes with
 * any code or sentence that can change an answer, `TABLES` with any figure of a table.
 */
export function versions(): Plugin {
  const root = import.meta.dirname
  return {
    name: 'versions',
    config: () => ({
      define: {
        CALCULATORS: JSON.stringify(
          digestOf(root, ['src/quantities', 'src/calculators', 'src/questions', 'prompts']),
        ),
        TABLES: JSON.stringify(digestOf(root, ['data', 'src/tables'])),
      },
    }),
  }
}
