import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import autocannon from 'autocannon'
import { gaugeRequests as requests } from './gauge-requests'
import { type Measured, median } from './measured'

const seconds = 4
const rounds = 3
const connections = 20

async function started(script: string, port: number): Promise<ChildProcess> {
  const child = spawn(process.execPath, [script], {
    env: { ...process.env, PORT: String(port), HOST: '127.0.0.1' },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  if (child.stdout) await once(child.stdout, 'data')
  return child
}

async function requestsPerSecond(port: number, duration: number): Promise<number> {
  const result = await autocannon({ url: `http://127.0.0.1:${port}`, connections, duration, requests })
  if (result.non2xx > 0 || result.errors > 0) throw new Error(`${result.non2xx} answers were not 200`)
  return result.requests.average
}

/** Requests per second of `feed-gauge` against a bare route, each server in a process of its own, in turn. */
export async function benchQuestionsApi(): Promise<Measured[]> {
  const [whole, bare] = [
    await started('dist/server.js', 3161),
    await started('dist/bench/bare-server.js', 3162),
  ]
  try {
    const ratios: number[] = []
    for (const port of [3161, 3162]) await requestsPerSecond(port, 2)
    for (let round = 0; round < rounds; round += 1) {
      const ours = await requestsPerSecond(3161, seconds)
      const theirs = await requestsPerSecond(3162, seconds)
      console.info(`  ${Math.round(ours)} against ${Math.round(theirs)} requests per second`)
      ratios.push(ours / theirs)
    }
    return [
      { name: 'feed-gauge by the API / a bare route', ratio: median(ratios), target: 0.5, is: 'at least' },
    ]
  } finally {
    whole.kill()
    bare.kill()
  }
}
