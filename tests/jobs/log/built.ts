import { mkdtempSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build } from 'vite'
import { afterAll } from 'vitest'

/** A folder of its own for one test file, gone afterwards; to be asked for where the file begins. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'ladderside-jobs-'))
  afterAll(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** Builds a script (its path from this folder) into one file that plain Node runs, so that starting it costs little. */
export async function built(script: string, folder: string): Promise<string> {
  const driver = createRequire(import.meta.url).resolve('better-sqlite3')
  await build({
    configFile: false,
    logLevel: 'error',
    ssr: { noExternal: ['zod'], external: ['better-sqlite3'] },
    build: {
      ssr: true,
      target: 'node20',
      outDir: folder,
      emptyOutDir: false,
      rollupOptions: {
        input: join(import.meta.dirname, script),
        output: {
          entryFileNames: '[name].mjs',
          codeSplitting: false,
          paths: { 'better-sqlite3': pathToFileURL(driver).href },
        },
      },
    },
  })
  return join(folder, basename(script).replace(/\.ts$/, '.mjs'))
}
