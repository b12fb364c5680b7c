import { monitorEventLoopDelay } from 'node:perf_hooks'

/** Loaded into a server beside it: tells its parent how long the event loop was held up since it was last asked. */
const tickMs = 1
const delays = monitorEventLoopDelay({ resolution: tickMs })
delays.enable()

process.on('message', () => {
  const heldUpMs = (percentile: number) => Math.max(0, delays.percentile(percentile) / 1e6 - tickMs)
  process.send?.({ maxMs: Math.max(0, delays.max / 1e6 - tickMs), p999Ms: heldUpMs(99.9) })
  delays.reset()
})
process.channel?.unref()
