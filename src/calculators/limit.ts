/** Whether a value keeps to an upper limit; the hair's breadth allowed is for rounding in the last digits. */
export function within(value: number, limit: number): boolean {
  return value <= limit * (1 + 1e-9)
}

/** Whether a value keeps to a lower limit, by the same hair's breadth. */
export function atLeast(value: number, limit: number): boolean {
  return within(limit, value)
}
