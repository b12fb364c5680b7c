import { prometheus } from '@hono/prometheus'
import type { Handler, MiddlewareHandler } from 'hono'
import { Counter, collectDefaultMetrics, Gauge, Registry } from 'prom-client'

/** What is counted, in the Prometheus text format; labels are route patterns, never what was asked. */
export type Metrics = {
  /** Counts and times each request. */
  count: MiddlewareHandler
  /** `GET /metrics`. */
  show: Handler
  /** One request or connection that was not taken, and why. */
  turnedAway(why: 'too-many-connections' | 'too-many-requests'): void
  /** Tells where to read how many requests wait. */
  watchWaiting(read: () => number): void
}

/** Most of what is answered takes below a millisecond, the longest sums a few tens. */
const requestDuration = {
  help: 'Time from a request to its answer, in seconds',
  buckets: [0.0005, 0.001, 0.0025, 0.005, 0.01, 0.02, 0.05, 0.1, 0.25, 1, 5],
}

/**
 * @param ofProcess whether the process's own figures (memory, event loop, garbage collection) are collected too
 */
export function openMetrics(ofProcess: boolean): Metrics {
  const registry = new Registry()
  const prefix = 'ladderside_'
  if (ofProcess) collectDefaultMetrics({ register: registry, prefix })
  const { printMetrics, registerMetrics } = prometheus({
    registry,
    prefix,
    metricOptions: { requestDuration },
  })
  const refusals = new Counter({
    name: `${prefix}turned_away_total`,
    help: 'Requests and connections that were not taken, since there were too many',
    labelNames: ['why'],
    registers: [registry],
  })
  return {
    count: registerMetrics,
    show: printMetrics,
    turnedAway: (why) => refusals.inc({ why }),
    watchWaiting(read) {
      new Gauge({
        name: `${prefix}waiting_requests`,
        help: 'Requests that were taken and have not begun',
        registers: [registry],
        collect() {
          this.set(read())
        },
      })
    },
  }
}
