/** How long the server may take to begin its answer before this phone answers by itself, in ms. */
export const patienceMs = 3000
/** The same where something is sent: over a poor signal that takes longer than anyone waits for a page. */
export const transferMs = 30_000
/** How long one failure counts, in ms: nobody waits for the same dead signal at every page. */
const lostForMs = 10_000

let lostAt = Number.NEGATIVE_INFINITY

/** Whether it is any use to ask the server. */
export const hasSignal = (): boolean => navigator.onLine && Date.now() - lostAt > lostForMs

/** Whether a gate answered in the place of a server that is gone: the server itself says what is wrong. */
const isGone = ({ status, headers }: Response): boolean =>
  [502, 503, 504].includes(status) && !headers.get('content-type')?.startsWith('application/problem+json')

/**
 * Asks the server.
 *
 * @param waitMs how long it may take to begin its answer, in ms
 * @throws where there is no signal, or no server behind it
 */
export async function askServer(
  request: RequestInfo,
  waitMs: number,
  options: RequestInit = {},
): Promise<Response> {
  const patience = new AbortController()
  const timer = setTimeout(() => patience.abort(), waitMs)
  try {
    const response = await fetch(request, { ...options, signal: patience.signal })
    if (isGone(response)) throw new Error(`The server is gone: ${response.status}`)
    lostAt = Number.NEGATIVE_INFINITY
    return response
  } catch (error) {
    lostAt = Date.now()
    throw error
  } finally {
    clearTimeout(timer)
  }
}
