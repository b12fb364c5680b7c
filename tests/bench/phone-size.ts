import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { brotliCompressSync } from 'node:zlib'
import { build, type Rolldown } from 'vite'
import type { Measured } from './measured'

/** Which part of the phone's script a module belongs to: a folder of src/, the words, the tables, or a library. */
function partOf(id: string): string {
  const [, library] = /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(id) ?? []
  if (library) return `library ${library}`
  const [, place = '', folder = ''] = /\/(src|prompts|data)\/([^/]+)/.exec(id) ?? []
  return place === 'src' ? `src/${folder}` : place || 'the rest'
}

/** The phone's script built once more with each part in a file of its own, so that each can be packed alone. */
async function partsBuilt(): Promise<Map<string, string>> {
  const folder = mkdtempSync(join(tmpdir(), 'ladderside-size-'))
  try {
    const built = (await build({
      configFile: 'browser.config.ts',
      logLevel: 'error',
      build: {
        outDir: folder,
        rolldownOptions: {
          output: { codeSplitting: { includeDependenciesRecursively: false, groups: [{ name: partOf }] } },
        },
      },
    })) as Rolldown.RolldownOutput
    const chunks = built.output.filter((each) => each.type === 'chunk').filter(({ name }) => name !== 'page')
    return new Map(chunks.map(({ name, code }) => [name, code]))
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

const kilobytes = (bytes: number): string => `${(bytes / 1000).toFixed(1).padStart(7)} kB`

/** How large the phone's script is as it is sent, and what of it: each part packed alone, the largest first. */
export async function benchPhoneSize(): Promise<Measured[]> {
  const packed = statSync('dist/browser/phone.js.br').size
  const plain = readFileSync('dist/browser/phone.js').length
  console.info(`  ${kilobytes(packed)} packed, ${kilobytes(plain)} plain: the phone's script`)
  const parts = [...(await partsBuilt())]
    .map(([name, code]) => ({
      name,
      plain: Buffer.byteLength(code),
      packed: brotliCompressSync(code).length,
    }))
    .sort((one, other) => other.packed - one.packed)
  for (const { name, plain, packed } of parts)
    console.info(`  ${kilobytes(packed)} packed, ${kilobytes(plain)} plain: ${name}`)
  return [{ name: "the phone's script, packed / 200 kB", ratio: packed / 200_000, target: 1, is: 'at most' }]
}
