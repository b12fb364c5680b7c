import type { Said } from './commands'

/** Runs a command for the owner's eyes: what it makes nobody else may read, and what goes wrong is one sentence. */
export function tell(command: () => Said): void {
  process.umask(0o077)
  try {
    const { ok, text } = command()
    if (ok) console.info(text)
    else fail(text)
  } catch (error) {
    fail(error instanceof Error ? error.message : String(error))
  }
}

const fail = (text: string): void => {
  console.error(text)
  process.exitCode = 1
}
