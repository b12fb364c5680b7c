/** The last moment that can be written so that the text sorts as the time does. */
const lastMoment = '9999-12-31T23:59:59.999Z'

/**
 * The time of something new in a job: now, but after all that is in it already. One clock that is wrong, here or on
 * another device, then never makes what is told last count as told before.
 *
 * @param touchedAt the time of the job's newest record; none where the job is only begun
 * @param nowMs the clock, in ms since 1970
 * @returns UTC to the millisecond, as records have it
 */
export function momentAfter(touchedAt?: string, nowMs: number = Date.now()): string {
  const after = touchedAt === undefined ? nowMs : Math.max(nowMs, Date.parse(touchedAt) + 1)
  return after < Date.parse(lastMoment) ? new Date(after).toISOString() : lastMoment
}
