const counterBits = 12
const largestCounter = 2 ** counterBits - 1

let lastMs = 0
let counter = 0

const hex = (value: number, digits: number): string => value.toString(16).padStart(digits, '0')

/**
 * Makes an id that no other device makes, and that sorts after the ids made before it on this device.
 *
 * @param nowMs the time, in ms since 1970; where the clock stands still or falls back, the ids still go up
 * @returns a version 7 UUID in lower case; RFC 9562, 5.7 and 6.2 (method 1: a counter beside the time)
 *
 * @example
 * newId() // '01999c3e-5d2b-7a01-9c3e-0b1f6a7d4e55'
 */
export function newId(nowMs: number = Date.now()): string {
  const random = crypto.getRandomValues(new Uint8Array(10))
  const [high = 0, low = 0, variant = 0, ...rest] = random
  if (nowMs > lastMs) {
    lastMs = nowMs
    // Starts in the lower half, so that at least 2048 ids fit into one millisecond.
    counter = ((high << 8) | low) >>> 5
  } else if (counter < largestCounter) counter += 1
  else {
    lastMs += 1
    counter = 0
  }
  const time = hex(lastMs, 12)
  const tail = rest.map((byte) => hex(byte, 2)).join('')
  const third = hex(0x7000 | counter, 4)
  const fourth = hex(0x80 | (variant & 0x3f), 2) + tail.slice(0, 2)
  return `${time.slice(0, 8)}-${time.slice(8)}-${third}-${fourth}-${tail.slice(2)}`
}
