import { printValue } from '../../../questions/common/printing'
import { inWords } from '../../../questions/common/shared-words'
import { driverSize } from '../../../questions/driver-size'
import type { Gathered } from '../ask'
import { type CheckedJob, typed } from '../checked-job'
import { fieldOf, partRuns, type Run, runsOf, type Told, wholeRun } from '../runs'
import { say } from '../words'

/** A run as it is called in a sentence, by its place. */
export const runName = ({ place, isRest }: Run): string =>
  isRest ? say('rest', {}) : (place ?? say('wholeJob', {}))

/** "Long hall 52.8 W and stairs 35.2 W" */
export const runsText = (runs: readonly Run[], job: CheckedJob): string =>
  inWords(
    runs.map((run) =>
      run.watts === undefined || runs.length === 1
        ? runName(run)
        : say('run', { place: runName(run), amount: printValue(run.watts, 'W', job.system, 'up') }),
    ),
  )

export const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)

const isSame = (one: number, other: number): boolean => Math.abs(one - other) <= 1e-9 * Math.abs(one)

/** What is the same in every run; `undefined` where they differ or one does not say. */
export const agreed = (told: readonly (Told | undefined)[]): Told | undefined =>
  told.reduce((one, other) => (one && other && isSame(one.value, other.value) ? one : undefined))

/** Watts that were told and tape that takes more or less than they say, by more than a rounding. */
export const isAtOdds = ({ loadW, tapeW }: Run): boolean =>
  loadW !== undefined && tapeW !== undefined && Math.abs(loadW - tapeW) > 0.01 * tapeW

/** Which of both is counted, where the watts that were told are not those of the tape. */
export const loadSaid = (runs: readonly Run[], job: CheckedJob): string[] =>
  runs.filter(isAtOdds).map((run) => {
    const { loadW = 0, tapeW = 0 } = run
    const print = (watts: number) => printValue(watts, 'W', job.system, 'up')
    return say('gathered.larger', { place: runName(run), load: print(loadW), tape: print(tapeW) })
  })

/** How what was told of the whole job is counted beside its parts, and how to settle it where that is wrong. */
export function wholeSaid(job: CheckedJob): string[] {
  const { watts } = wholeRun(job) ?? {}
  if (watts === undefined || partRuns(job).length === 0) return []
  const isMore = runsOf(job).some(({ isRest }) => isRest)
  const amount = printValue(watts, 'W', job.system, 'up')
  return [say(isMore ? 'gathered.whole.more' : 'gathered.whole.less', { amount })]
}

/** Watts of all these runs; `instead` says of which it is not known. */
export function loadOf(
  runs: readonly Run[],
): { loadW: number } | { instead: NonNullable<Gathered['instead']> } {
  const unknown = runs.filter(({ watts }) => watts === undefined)
  if (unknown.length === 0) return { loadW: sum(runs.map(({ watts = 0 }) => watts)) }
  const label = driverSize.words.fields.tapePower?.label ?? ''
  const labels = unknown.map((run) => say('missing.at', { label, place: runName(run) }))
  return {
    instead: {
      state: 'not-asked',
      sentence: say('missing', { labels: labels.join('; ') }),
      missing: labels.map((each) => ({ field: 'tapePower', label: each })),
    },
  }
}

/** More runs than the question takes one by one are told as watts. */
const mostRuns = fieldOf<number[]>(driverSize, 'tapeLength').range?.max ?? 0

/** Several runs as the inputs of one driver: their lengths where all are of the same tape, else their watts. */
export function tapeOf(
  runs: readonly Run[],
  job: CheckedJob,
): { given: Record<string, unknown> } | { instead: NonNullable<Gathered['instead']> } {
  const told = runs.flatMap(({ voltage }) => voltage ?? [])
  const [voltage] = told
  if (voltage && !agreed(told)) {
    const voltages = inWords([...new Set(told.map(({ value }) => printValue(value, 'V', job.system)))])
    return { instead: { state: 'fails', sentence: say('voltages.differ', { voltages }) } }
  }
  const load = loadOf(runs)
  if ('instead' in load) return load
  const tapePower = agreed(runs.map((run) => run.tapePower))
  const tapeLength = runs.flatMap(({ lengths }) => lengths)
  const byLength = runs.every(({ lengths, lengthsM = [], watts = 0 }) => {
    const tapeW = (tapePower?.value ?? 0) * sum(lengthsM)
    return lengths.length > 0 && isSame(tapeW, watts)
  })
  const tape =
    tapePower && byLength && tapeLength.length <= mostRuns
      ? { tapePower: tapePower.typed, tapeLength }
      : { load: typed(load.loadW, 'W') }
  return { given: { ...(voltage ? { voltage: voltage.typed } : {}), ...tape } }
}
