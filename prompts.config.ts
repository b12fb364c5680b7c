import { relative } from 'node:path'
import type { Plugin } from 'vite'
import { isMap, LineCounter, parseDocument } from 'yaml'

/** Turns a prompts file into a module: its content, and the line of every key for messages that name it. */
export function compilePrompts(
  text: string,
  file: string,
): { file: string; content: unknown; lines: Record<string, number> } {
  const counter = new LineCounter()
  const document = parseDocument(text, { lineCounter: counter })
  const fault = document.errors[0]
  if (fault) throw new Error(`${file}:${counter.linePos(fault.pos[0]).line}: ${fault.message}`)
  const lines: Record<string, number> = {}
  const walk = (node: unknown, path: string): void => {
    if (!isMap(node)) return
    for (const pair of node.items) {
      const key = pair.key as { value: unknown; range: [number, number, number] }
      const here = path ? `${path}.${key.value}` : String(key.value)
      lines[here] = counter.linePos(key.range[0]).line
      walk(pair.value, here)
    }
  }
  walk(document.contents, '')
  return { file, content: document.toJS() as unknown, lines }
}

/**
 * Vite plugin: `import words from '…/prompts/en/x.yaml'`, for the server, the browser and the tests alike.
 *
 * @param checking whether what loads it checks it (`CHECKING`), naming lines; what a phone loads has been checked before
 */
export function prompts(checking = true): Plugin {
  return {
    name: 'prompts',
    config: () => ({ define: { CHECKING: JSON.stringify(checking) } }),
    transform(code, id) {
      const path = id.split('?')[0] ?? id
      if (!path.endsWith('.yaml')) return null
      const compiled = compilePrompts(code, relative(process.cwd(), path))
      if (!checking) compiled.lines = {}
      return { code: `export default ${JSON.stringify(compiled)}`, map: null }
    },
  }
}
