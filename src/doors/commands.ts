import { openDeviceBook } from './device-book'
import { readSettings } from './settings'
import { shownCode } from './terminal'
import { say } from './words'

/** What a command says, and whether it did what it was asked. */
export type Said = { ok: boolean; text: string }

type Environment = Readonly<Record<string, string | undefined>>

const folderOf = (environment: Environment): string => {
  // Only where the data is matters here: a command has no door of its own to lock.
  const read = readSettings({ LADDERSIDE_DATA: environment.LADDERSIDE_DATA })
  if (!read.ok) throw new Error(read.message)
  return read.settings.data
}

/** `npm run pair`: makes a pairing code in the data folder; a server that runs there takes it at once. */
export function pairCommand(environment: Environment, now = new Date()): Said {
  const book = openDeviceBook(folderOf(environment))
  try {
    return { ok: true, text: shownCode(book.newCode(now), book.address()) }
  } finally {
    book.close()
  }
}

/** `npm run devices -- list` and `npm run devices -- revoke <id>`. */
export function devicesCommand(
  environment: Environment,
  [deed, id]: readonly string[],
  now = new Date(),
): Said {
  const book = openDeviceBook(folderOf(environment))
  try {
    if (deed === 'list') {
      const lines = book
        .list(now)
        .map(({ id, name, pairedAt, usedOn }) =>
          say('terminal.device', { id, name, paired: pairedAt.slice(0, 10), used: usedOn }),
        )
      return { ok: true, text: lines.join('\n') || say('terminal.none') }
    }
    if (deed === 'revoke' && id) {
      const revoked = book.revoke(id)
      return { ok: revoked, text: say(revoked ? 'terminal.revoked' : 'terminal.noDevice', { id }) }
    }
    return { ok: false, text: say('terminal.usage') }
  } finally {
    book.close()
  }
}
