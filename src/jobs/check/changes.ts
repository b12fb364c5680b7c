import type { Board, BoardRow } from './row'
import { severityOf } from './rows'

/** A row that stands on two boards. */
export type RowChange = { before: BoardRow; after: BoardRow }

/** What became of a board, in the order of the board after (of the one before for what is gone). */
export type BoardChanges = {
  worse: RowChange[]
  better: RowChange[]
  /** No better and no worse, and yet something else is said. */
  otherwise: RowChange[]
  fresh: BoardRow[]
  gone: BoardRow[]
}

/**
 * What a change of the facts did to the rows: which got worse, which better, which are new and which are gone. What
 * cannot be asked any more counts as worse than what is tight, and better than what fails.
 */
export function changesOf(before: Board, after: Board): BoardChanges {
  const [old, now] = [byId(before), byId(after)]
  const stayed = after.rows.flatMap((row) => {
    const was = old.get(row.id)
    return was ? [{ before: was, after: row }] : []
  })
  const step = (change: RowChange) => severityOf(change.after.state) - severityOf(change.before.state)
  return {
    worse: stayed.filter((change) => step(change) > 0),
    better: stayed.filter((change) => step(change) < 0),
    otherwise: stayed.filter((change) => step(change) === 0 && saysElse(change)),
    fresh: after.rows.filter(({ id }) => !old.has(id)),
    gone: before.rows.filter(({ id }) => !now.has(id)),
  }
}

const byId = ({ rows }: Board): Map<string, BoardRow> => new Map(rows.map((row) => [row.id, row]))

const saysElse = ({ before, after }: RowChange): boolean =>
  before.sentence !== after.sentence || before.state !== after.state
