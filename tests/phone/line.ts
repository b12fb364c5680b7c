import { once } from 'node:events'
import { type AddressInfo, connect, createServer, type Socket } from 'node:net'

/** What a line does: carries; refuses; takes requests and never answers; lets requests through and loses the answers. */
export type LineState = 'open' | 'cut' | 'silent' | 'answers lost'

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

/** Opens a line to a server; its address stays the same, whatever happens behind it. */
export async function openLine(serverAddress: string): Promise<Line> {
  let server = new URL(serverAddress)
  let bytes = 0
  const ends = new Set<Socket>()
  const listener = createServer((phone) => {
    ends.add(phone)
    phone.on('close', () => ends.delete(phone)).on('error', () => phone.destroy())
    if (line.state === 'cut') return phone.destroy()
    const far = connect(Number(server.port), server.hostname)
    phone.on('close', () => far.destroy())
    far.on('close', () => phone.destroy()).on('error', () => phone.destroy())
    phone.on('data', (data) => {
      if (line.state === 'cut') phone.destroy()
      else if (line.state !== 'silent') {
        far.write(data)
        line.onSent?.(data)
      }
    })
    far.on('data', (data) => {
      if (line.state === 'answers lost') return phone.destroy()
      bytes += data.length
      phone.write(data)
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
