import { openSync, readSync } from 'node:fs'
import { monitorEventLoopDelay, performance } from 'node:perf_hooks'

/**
 * Loaded into a server beside it: tells its parent how long the event loop did not come round since it was last asked,
 * in ms: as a clock saw it, and without the time for which the kernel had the thread wait for a processor, which on a
 * machine that does other things is most of it; and as node's own watch saw it. And how much of a processor the process
 * used meanwhile, in µs.
 */
const tickMs = 1

const nanosecondsPerMs = 1e6

/** Its second number is how long this thread was ready and did not run, in ns (Linux, Documentation/scheduler/sched-stats). */
const schedule = openOr(() => openSync(`/proc/self/task/${process.pid}/schedstat`, 'r'))
const text = Buffer.alloc(64)

function openOr(open: () => number): number | undefined {
  try {
    return open()
  } catch {
    return undefined
  }
}

const waitedMs = (): number => {
  if (schedule === undefined) return 0
  const length = readSync(schedule, text, 0, text.length, 0)
  return Number(text.toString('latin1', 0, length).split(' ')[1]) / nanosecondsPerMs
}

let last = { at: performance.now(), waitedMs: waitedMs() }
let heldUp: { clockMs: number; ownMs: number }[] = []

function tick(): void {
  const now = { at: performance.now(), waitedMs: waitedMs() }
  const clockMs = now.at - last.at - tickMs
  heldUp.push({ clockMs, ownMs: clockMs - (now.waitedMs - last.waitedMs) })
  last = now
  setTimeout(tick, tickMs).unref()
}
tick()

const worst = (times: readonly number[]) => {
  const sorted = [...times].sort((one, other) => other - one)
  return {
    maxMs: Math.max(0, sorted[0] ?? 0),
    p999Ms: Math.max(0, sorted[Math.floor(sorted.length / 1000)] ?? 0),
  }
}

const delay = monitorEventLoopDelay({ resolution: tickMs })
delay.enable()

let used = process.cpuUsage()

process.on('message', () => {
  const all = heldUp
  heldUp = []
  const { user, system } = process.cpuUsage(used)
  process.send?.({
    clock: worst(all.map(({ clockMs }) => clockMs)),
    own: worst(all.map(({ ownMs }) => ownMs)),
    // A histogram of delays, of which each holds the wanted one as well.
    node: {
      maxMs: delay.max / nanosecondsPerMs - tickMs,
      p999Ms: delay.percentile(99.9) / nanosecondsPerMs - tickMs,
    },
    processorUs: user + system,
  })
  delay.reset()
  used = process.cpuUsage()
  // Sorting them held the loop up as well, and is nobody's request.
  last = { at: performance.now(), waitedMs: waitedMs() }
})
process.channel?.unref()
