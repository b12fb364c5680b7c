import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { brotliCompressSync, constants, gzipSync } from 'node:zlib'
import type { Plugin } from 'vite'

/** Vite plugin: puts every script beside itself as small as it gets, once, instead of at every request. */
export function compressed(): Plugin {
  let folder = ''
  return {
    name: 'compressed',
    configResolved({ build }) {
      folder = build.outDir
    },
    closeBundle() {
      for (const name of readdirSync(folder).filter((each) => each.endsWith('.js'))) {
        const script = readFileSync(join(folder, name))
        writeFileSync(join(folder, `${name}.gz`), gzipSync(script, { level: constants.Z_BEST_COMPRESSION }))
        writeFileSync(join(folder, `${name}.br`), brotliCompressSync(script))
      }
    },
  }
}
