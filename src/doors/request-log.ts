import type { MiddlewareHandler } from 'hono'
import { routePath } from 'hono/route'
import { type DestinationStream, destination, type Logger, pino, stdTimeFunctions } from 'pino'
import type { Settings } from './settings'

/** Lines of JSON, of which none names a person, a job, an address or what was asked. */
export type Log = Logger

/** When nobody takes the lines, so much is kept before lines are dropped: a log must not stop or fill the server. */
const mostWaitingBytes = 1024 * 1024

/** Lines are written together, at latest after so many ms. */
const flushEveryMs = 1000

/**
 * The log on the standard output.
 *
 * @param level `requests`: a line for each request; `faults`: only what went wrong
 */
export function openLog(level: Settings['log']): { log: Log; flush: () => void } {
  const out = destination({ fd: 1, sync: false, minLength: 4096, maxLength: mostWaitingBytes })
  const timer = setInterval(() => out.flush(), flushEveryMs)
  timer.unref()
  return { log: logTo(out, level), flush: () => out.flushSync() }
}

/** The log on any stream. */
export const logTo = (stream: DestinationStream, level: Settings['log']): Log =>
  pino(
    {
      // Neither the process nor the machine's name.
      base: null,
      timestamp: stdTimeFunctions.isoTime,
      level: level === 'requests' ? 'info' : 'warn',
      formatters: { level: (label) => ({ level: label }) },
    },
    stream,
  )

/** A line for each request: the route's pattern and never the address, which may hold a whole question. */
export const requestLog =
  (log: Log): MiddlewareHandler =>
  async (context, next) => {
    const began = performance.now()
    await next()
    const ms = Math.round((performance.now() - began) * 10) / 10
    log.info({ method: context.req.method, route: routePath(context), status: context.res.status, ms })
  }

/** A fault of ours: its kind and where it arose. Not its message, into which a person's words may have gone. */
export const reportTo =
  (log: Log) =>
  (fault: unknown): void => {
    const { name, stack, code } = fault instanceof Error ? (fault as NodeJS.ErrnoException) : {}
    const at = stack?.split('\n').filter((line) => /^\s+at /.test(line))
    log.error({ event: 'fault', kind: name ?? typeof fault, code, at: at?.map((line) => line.trim()) })
  }
