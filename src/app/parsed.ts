/** Parsed JSON; what is none is `undefined`, and whoever reads it by its schema says what is wrong. */
export function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
