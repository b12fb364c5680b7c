import { openBrowser } from '../browser'
import { type Mishap, mishaps, openDrill } from '../phone/drill'
import type { Measured } from './measured'

const rounds = 100

/** A job made without a signal, a hundred times, with something going wrong in the middle of its sending each time. */
export async function benchPhoneDrill(): Promise<Measured[]> {
  const browser = await openBrowser()
  const drill = await openDrill(browser)
  const done = new Map<Mishap, number>()
  let kept = 0
  try {
    for (let round = 0; round < rounds; round += 1) {
      // Most often the server: half of all rounds kill it.
      const mishap = mishaps[Math.floor(round / 2) % (round % 2 === 0 ? 2 : mishaps.length)] ?? 'none'
      try {
        await drill.round(mishap)
        kept += 1
      } catch (error) {
        console.error(`  round ${round}, ${mishap}: ${String(error)}`)
      }
      done.set(mishap, (done.get(mishap) ?? 0) + 1)
    }
  } finally {
    await drill.close()
    await browser.close()
  }
  for (const [mishap, times] of done) console.info(`  ${times} times: ${mishap}`)
  return [
    { name: 'jobs on the server exactly once / jobs made', ratio: kept / rounds, target: 1, is: 'at least' },
  ]
}
