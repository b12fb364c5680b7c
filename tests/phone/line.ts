import { once } from 'node:events'
import { type AddressInfo, connect, createServer, type Socket } from 'node:net'

/** What a line does: carries; refuses; takes requests and never answers; lets requests through and loses the answers. */
export type LineState = 'open' | 'cut' | 'silent' | 'answers lost'

/** How slow a line is: the time there and back, in ms, and how much comes to the phone, in bytes per second. */
export type Slowness = { roundTripMs: number; bytesPerSecond: number }

/** A line between a phone and the server that can be cut, and behind which the server may come and go. */
export type Line = {
  address: string
  state: LineState
  /** Where the server is now. */
  leadTo(address: string): void
  /** Bytes that came to the phone so far. */
  bytes(): number
  /** Called with what the phone sends, as it goes through. */
  onSent: ((data: Buffer) => void) | undefined
  close(): void
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, Math.max(0, ms)))

/** Opens a line to a server; its address stays the same, whatever happens behind it. */
export async function openLine(serverAddress: string, slow?: Slowness): Promise<Line> {
  let server = new URL(serverAddress)
  let bytes = 0
  let busyUntil = 0
  /** One way of one connection: what goes in comes out in its order, when it would have come through. */
  const way = (): ((size: number, waitMs: number, work: () => void) => void) => {
    let before = Promise.resolve()
    return (size, waitMs, work) => {
      if (!slow) return work()
      const now = performance.now()
      if (size > 0) busyUntil = Math.max(busyUntil, now) + (1000 * size) / slow.bytesPerSecond
      const due = Math.max(now, busyUntil) + slow.roundTripMs / 2 + waitMs
      before = before.then(() => pause(due - performance.now())).then(work)
    }
  }
  const ends = new Set<Socket>()
  const listener = createServer((phone) => {
    ends.add(phone)
    phone.on('close', () => ends.delete(phone)).on('error', () => phone.destroy())
    if (line.state === 'cut') return phone.destroy()
    const far = connect(Number(server.port), server.hostname)
    const [up, down] = [way(), way()]
    let isNew = true
    phone.on('close', () => far.destroy())
    far.on('close', () => down(0, 0, () => phone.destroy())).on('error', () => phone.destroy())
    phone.on('data', (data) => {
      if (line.state === 'cut') phone.destroy()
      else if (line.state !== 'silent') {
        // A new connection is only there after a time there and back.
        up(0, isNew ? (slow?.roundTripMs ?? 0) : 0, () => far.write(data))
        isNew = false
        line.onSent?.(data)
      }
    })
    far.on('data', (data) => {
      if (line.state === 'answers lost') return phone.destroy()
      bytes += data.length
      down(data.length, 0, () => phone.write(data))
    })
  })
  listener.listen(0, '127.0.0.1')
  await once(listener, 'listening')
  const line: Line & { now: LineState } = {
    address: `http://127.0.0.1:${(listener.address() as AddressInfo).port}`,
    now: 'open',
    onSent: undefined,
    get state() {
      return this.now
    },
    set state(state) {
      this.now = state
      if (state === 'cut') for (const end of ends) end.destroy()
    },
    leadTo(address) {
      server = new URL(address)
    },
    bytes: () => bytes,
    close() {
      for (const end of ends) end.destroy()
      listener.close()
    },
  }
  return line
}
