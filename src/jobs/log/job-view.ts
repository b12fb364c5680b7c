import { byTime, type Change, contentOf, type Entry, type Fact, type JobRecords, type State } from './job'

/** A job as it stands now. */
export type Job = {
  id: string
  name: string
  place: string
  notes: string
  state: State
  createdAt: string
  touchedAt: string
}

/** What is known of one input at one place, with how it came to be known. */
export type Known = {
  field: string
  where: string | null
  /** The newest fact that was not withdrawn; none where all were. */
  current: Fact | null
  /** Other facts that still stand and say something else: one of them should be withdrawn. */
  contested: Fact[]
  /** Every fact ever given, the oldest first; `withdrawnAt` where it was taken back. */
  history: (Fact & { withdrawnAt: string | null })[]
}

/** A job with its facts and its thread. */
export type OpenJob = {
  job: Job
  changes: Change[]
  known: Known[]
  thread: Entry[]
}

/** A job's state after its changes: for each part the newest change holds, whatever order they came in. */
function jobOf({ created, changes, entries, facts, withdrawals }: JobRecords): Job {
  const changed = Object.assign({}, ...[...changes].sort(byTime).map(({ set }) => set)) as Change['set']
  const moments = [...changes, ...entries, ...facts, ...withdrawals].map(({ at }) => at)
  const touchedAt = [created.createdAt, ...moments].sort().at(-1) ?? created.createdAt
  return { ...created, ...changed, touchedAt }
}

/** What is known, input by input, in the order in which each was first told. */
function knownOf({ facts, withdrawals }: JobRecords): Known[] {
  const withdrawnAt = new Map<string, string>()
  for (const { factId, at } of [...withdrawals].sort(byTime).reverse()) withdrawnAt.set(factId, at)
  const groups = new Map<string, Known['history']>()
  for (const fact of [...facts].sort(byTime)) {
    const about = JSON.stringify([fact.field, fact.where])
    const history = groups.get(about) ?? []
    history.push({ ...fact, withdrawnAt: withdrawnAt.get(fact.id) ?? null })
    groups.set(about, history)
  }
  return [...groups.values()].flatMap(knownFrom)
}

/** What one history comes to; nothing where it is empty. */
function knownFrom(history: Known['history']): Known[] {
  const [first] = history
  if (!first) return []
  const standing = history.filter((fact) => fact.withdrawnAt === null).map(asFact)
  const current = standing.at(-1) ?? null
  const contested = standing.filter((fact) => current && contentOf(fact.value) !== contentOf(current.value))
  return [{ field: first.field, where: first.where, current, contested, history }]
}

/** What was known just before a moment (UTC to the millisecond, as the log writes it). */
export const knownBefore = (known: readonly Known[], moment: string): Known[] =>
  known.flatMap(({ history }) =>
    knownFrom(
      history
        .filter(({ at }) => at < moment)
        .map((fact) => ({
          ...fact,
          withdrawnAt: fact.withdrawnAt !== null && fact.withdrawnAt < moment ? fact.withdrawnAt : null,
        })),
    ),
  )

const asFact = ({ withdrawnAt: _, ...fact }: Known['history'][number]): Fact => fact

/**
 * Puts a job's records together into the job as it stands.
 *
 * @param records what the log has of the job, in any order: the result is the same for each
 */
export const viewOf = (records: JobRecords): OpenJob => ({
  job: jobOf(records),
  changes: [...records.changes].sort(byTime),
  known: knownOf(records),
  thread: [...records.entries].sort(byTime),
})
