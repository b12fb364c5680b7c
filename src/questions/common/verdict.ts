import type { Verdict } from './answer'

/** One value against one limit that is hard, or that the person gave; `id` names the limit or the figure. */
export type Judged = { id: string; value: number; limit: number; sense: 'at-most' | 'at-least'; unit: string }

/** How much of a limit is used: above 1 it is broken. Infinite when the limit leaves nothing. */
export function use({ value, limit, sense }: Judged): number {
  const [used, allowed] = sense === 'at-most' ? [value, limit] : [limit, value]
  if (used <= 0) return 0
  return allowed > 0 ? used / allowed : Number.POSITIVE_INFINITY
}

/** Whether a limit holds; a billionth is forgiven, because a sum in floating point may miss by that much. */
export const holds = (judged: Judged): boolean => use(judged) <= 1 + 1e-9

const severity: Record<Verdict, number> = { info: 0, holds: 1, tight: 2, fails: 3 }

/** The verdict of one judged limit: `tight` with less than 10 % room. */
export const verdictOfOne = (judged: Judged): 'holds' | 'tight' | 'fails' => {
  if (!holds(judged)) return 'fails'
  return use(judged) > 0.9 * (1 + 1e-9) ? 'tight' : 'holds'
}

/** The worst of several verdicts. */
export const worst = <V extends Verdict>(verdicts: readonly V[]): V | 'info' =>
  verdicts.reduce<V | 'info'>(
    (most, verdict) => (severity[verdict] > severity[most] ? verdict : most),
    'info',
  )

/** Whether `then` is a worse verdict than `now`. */
export const isWorse = (then: Verdict, now: Verdict): boolean => severity[then] > severity[now]

/** The verdict of all judged limits together; `info` when nothing is judged. */
export const verdictOf = (judged: readonly Judged[]): Verdict => worst(judged.map(verdictOfOne))
