/** The parts of a service worker's global scope that are used; the types of a page and of a worker do not go together. */
type ExtendableEvent = Event & { waitUntil(work: Promise<unknown>): void }

export type FetchEvent = ExtendableEvent & {
  readonly request: Request
  respondWith(response: Promise<Response> | Response): void
}

type WorkerEvents = {
  install: ExtendableEvent
  activate: ExtendableEvent
  fetch: FetchEvent
  sync: ExtendableEvent
}

type WorkerScope = {
  addEventListener<K extends keyof WorkerEvents>(type: K, listener: (event: WorkerEvents[K]) => void): void
  skipWaiting(): Promise<void>
  readonly location: Location
  readonly clients: {
    claim(): Promise<void>
    matchAll(): Promise<readonly { postMessage(message: unknown): void }[]>
  }
  readonly registration: {
    /** Only some browsers can call a worker back when there is a signal again. */
    readonly sync?: { register(tag: string): Promise<void> }
  }
}

export const worker = globalThis as unknown as WorkerScope
