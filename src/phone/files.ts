import { version } from '../app/version'
import { worker } from './worker-scope'

/** What the pages load that this script does not hold itself. */
const files = [
  '/page.js',
  '/icons/ladderside-192.png',
  '/icons/ladderside-512.png',
  '/icons/ladderside-180.png',
]

const cacheName = `ladderside-${version}`

export const isFile = (path: string): boolean => files.includes(path)

const request = (file: string): Request =>
  // Past the browser's own cache, which may have the file of another version.
  new Request(new URL(file, worker.location.href), { cache: 'reload' })

/** Keeps the files of this version. Where they cannot be kept the pages do without: their forms need no script. */
export async function keepFiles(): Promise<void> {
  try {
    await (await caches.open(cacheName)).addAll(files.map(request))
  } catch (error) {
    console.warn(error)
  }
}

/** Removes the files of other versions. */
export async function removeOldFiles(): Promise<void> {
  const names = await caches.keys()
  await Promise.all(names.filter((name) => name !== cacheName).map((name) => caches.delete(name)))
}

/** A file as this version keeps it, or from the server. */
export async function fileOf(asked: Request): Promise<Response> {
  const kept = await caches.match(asked, { cacheName, ignoreSearch: true }).catch(() => undefined)
  return kept ?? fetch(asked)
}
