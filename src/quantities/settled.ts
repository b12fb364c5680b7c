/** Far more digits than anything here is known to, and fewer than those in which machines differ. */
const significantDigits = 12

/**
 * A number as every machine has it. Sines, logarithms and their like may differ in the last digits from one machine to
 * the next (ECMA-262, 21.3.2: "implementation-approximated"), and an answer must not.
 */
export const settledNumber = (value: number): number =>
  Number.isInteger(value) ? value : Number(value.toPrecision(significantDigits))

/** The same for all numbers in a piece of data, however deep. */
export function settled<T>(data: T): T {
  if (typeof data === 'number') return settledNumber(data) as T
  if (Array.isArray(data)) return data.map(settled) as T
  if (typeof data !== 'object' || data === null) return data
  const copy: Record<string, unknown> = {}
  for (const key in data) copy[key] = settled(data[key])
  return copy as T
}
