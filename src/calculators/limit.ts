/** Whether a value keeps to an upper limit; the hair's breadth allowed is for rounding in the last digits. */
export function within(value: number, limit: number): boolean {
  return value <= limit * (1 + 1e-9)
}

/** Whether a value keeps to a lower limit, by the same hair's breadth. */
export function atLeast(value: number, limit: number): boolean {
  return within(limit, value)
}

/** How much of an upper limit a value leaves, hair's breadth and all: it keeps to the limit from 0 up. */
export function spareBelow(value: number, limit: number): number {
  return limit * (1 + 1e-9) - value
}

/** How far a value is above its lower limit, hair's breadth and all: it keeps to the limit from 0 up. */
export function spareAbove(value: number, limit: number): number {
  return spareBelow(limit, value)
}
