import { readdirSync, readFileSync } from 'node:fs'
import { join, relative, resolve } from 'node:path'
import { describe, expect, it } from 'vitest'

/** What each folder of src/ may import from, downwards only (the house as DEVELOPERS.md draws it). */
const mayImport: Record<string, readonly string[]> = {
  server: ['doors', 'app', 'sheet-pdf', 'jobs'],
  phone: ['app', 'pages', 'questions', 'jobs'],
  demo: ['app', 'jobs'],
  page: [],
  doors: ['app', 'pages', 'questions', 'jobs'],
  'sheet-pdf': ['jobs', 'pictures', 'questions', 'quantities'],
  app: ['pages', 'understanding', 'questions', 'jobs', 'tables', 'quantities'],
  pages: ['pictures', 'questions', 'understanding', 'jobs', 'tables', 'quantities'],
  understanding: ['questions', 'tables', 'quantities'],
  jobs: ['questions', 'tables', 'quantities'],
  pictures: ['questions', 'calculators', 'quantities'],
  questions: ['calculators', 'tables', 'quantities'],
  calculators: ['tables', 'quantities'],
  tables: ['quantities'],
  quantities: [],
}

const source = resolve('src')

const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name) && !entry.name.endsWith('.d.ts'))
    .map((entry) => join(entry.parentPath, entry.name))

const roomOf = (path: string): string => relative(source, path).split(/[/.]/)[0] ?? ''

const importsOf = (file: string): string[] =>
  [...readFileSync(file, 'utf8').matchAll(/from '(\.[^']+)'/g)]
    .map(([, path]) => resolve(file, '..', path ?? ''))
    .filter((path) => path.startsWith(source))

describe('the structure', () => {
  it.each(filesBelow(source).map((file) => [relative(source, file), file]))(
    '%s imports downwards only',
    (_, file) => {
      const room = roomOf(file)
      const allowed = mayImport[room]
      expect(allowed, `src/${room} is not in the plan`).toBeDefined()
      const upwards = importsOf(file).filter(
        (path) => roomOf(path) !== room && !allowed?.includes(roomOf(path)),
      )
      expect(upwards.map((path) => relative(source, path))).toEqual([])
    },
  )

  it('lets only the homes and the tests touch the disk, the network listener or the process', () => {
    const homes = new Set(['server', 'doors', 'demo', 'sheet-pdf', 'jobs'])
    const offenders = filesBelow(source)
      .filter((file) => !homes.has(roomOf(file)))
      .filter((file) => /from 'node:|process\./.test(readFileSync(file, 'utf8')))
    expect(offenders).toEqual([])
  })
})
