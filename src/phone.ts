import { readPhrases } from './app/reply'
import { answer } from './phone/answer'
import { keepFiles, removeOldFiles } from './phone/files'
import { synchronise } from './phone/synchronise'
import { worker } from './phone/worker-scope'

/**
 * The phone home: the same app as on the server, in a service worker. A new version takes over at once: what pages it
 * finds open hold nothing but forms, and what was being answered is answered to the end by the old one.
 */
worker.addEventListener('install', (event) => {
  event.waitUntil(keepFiles().then(() => worker.skipWaiting()))
})

worker.addEventListener('activate', (event) => {
  event.waitUntil(removeOldFiles().then(() => worker.clients.claim()))
})

worker.addEventListener('fetch', answer)

worker.addEventListener('sync', (event) => event.waitUntil(synchronise()))

// Whoever opens a page types next: what reads a line is made ready meanwhile.
setTimeout(readPhrases, 1000)
