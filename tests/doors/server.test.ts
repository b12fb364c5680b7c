import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { once } from 'node:events'
import { mkdirSync, readdirSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import autocannon from 'autocannon'
import { afterEach, describe, expect, it } from 'vitest'
import { temporaryFolder } from '../jobs/log/built'

/** The built server as a process of its own. */

const folder = temporaryFolder()
let count = 0
const processes: ChildProcess[] = []

afterEach(() => {
  for (const child of processes.splice(0)) child.kill('SIGKILL')
})

type Running = {
  child: ChildProcess
  address: string
  data: string
  said: () => string
  ended: Promise<number | null>
}

async function running(environment: Record<string, string> = {}): Promise<Running> {
  count += 1
  const data = environment.LADDERSIDE_DATA ?? join(folder, String(count))
  const child = spawn(process.execPath, ['dist/server.js'], {
    env: { ...process.env, PORT: '0', HOST: '127.0.0.1', LADDERSIDE_DATA: data, ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  processes.push(child)
  let said = ''
  for (const stream of [child.stdout, child.stderr]) stream?.on('data', (text) => (said += text))
  const ended = once(child, 'exit').then(([code]) => code as number | null)
  while (!/http:\/\/\S+/.test(said) && child.exitCode === null) await pause(20)
  return { child, address: /http:\/\/\S+/.exec(said)?.[0] ?? '', data, said: () => said, ended }
}

/** Begins a job named "Long hall"; its id. */
async function newJob(address: string): Promise<string> {
  const created = await fetch(`${address}/api/jobs`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ name: 'Long hall' }),
  })
  expect(created.status).toBe(201)
  return ((await created.json()) as { job: { id: string } }).job.id
}

const refusing = (environment: Record<string, string>) => {
  const { status, stderr, stdout } = spawnSync(process.execPath, ['dist/server.js'], {
    env: { ...process.env, PORT: '0', LADDERSIDE_DATA: join(folder, 'refused'), ...environment },
    encoding: 'utf8',
    timeout: 20_000,
  })
  return { status, stdout, stderr }
}

describe('a server that should not start', () => {
  it.each([
    [{ HOST: '0.0.0.0' }, /LADDERSIDE_LOCKED=1/],
    [{ HOST: '::' }, /LADDERSIDE_LOCKED=1/],
    [{ HOST: '127.0.0.1', LADDERSIDE_PROXY: '1' }, /LADDERSIDE_LOCKED=1/],
    [{ PORT: 'x' }, /PORT cannot be used/],
    [{ HOST: '203.0.113.7', LADDERSIDE_LOCKED: '1' }, /cannot be listened on \(EADDRNOTAVAIL\)/],
  ])('%j says what to do in a sentence, without a stack, and ends with 1', (environment, sentence) => {
    const { status, stdout, stderr } = refusing(environment)
    expect([status, stdout]).toEqual([1, ''])
    expect(stderr).toMatch(sentence)
    expect(stderr.trim().split('\n')).toHaveLength(1)
  })

  it('says so where its list of devices is damaged, and leaves it as it is', () => {
    const data = join(folder, 'broken')
    mkdirSync(data)
    writeFileSync(join(data, 'doors.sqlite'), 'broken')
    const { status, stderr } = refusing({ HOST: '0.0.0.0', LADDERSIDE_LOCKED: '1', LADDERSIDE_DATA: data })
    expect(status).toBe(1)
    expect(stderr).toMatch(/^The list of devices at .* cannot be used/)
  })
})

describe('a server that others can reach', () => {
  it('answers nobody who is not paired, keeps everything to its owner, and shows no code where nobody looks', async () => {
    const { address, data, said, child, ended } = await running({ HOST: '0.0.0.0', LADDERSIDE_LOCKED: '1' })
    const at = address.replace('0.0.0.0', '127.0.0.1')
    expect((await fetch(`${at}/api/questions`)).status).toBe(401)
    expect((await fetch(`${at}/healthz`)).status).toBe(200)
    for (const name of readdirSync(data)) {
      expect([name, (statSync(join(data, name)).mode & 0o777).toString(8)]).toEqual([name, '600'])
    }
    expect((statSync(data).mode & 0o777).toString(8)).toBe('700')
    expect(said()).toContain('npm run pair')
    expect(said()).not.toMatch(/[0-9A-Z]{4}-[0-9A-Z]{4}/)
    const command = spawnSync(process.execPath, ['dist/pair.js'], {
      env: { ...process.env, LADDERSIDE_DATA: data },
      encoding: 'utf8',
    })
    const code = /[0-9A-Z]{4}-[0-9A-Z]{4}/.exec(command.stdout)?.[0] ?? ''
    const paired = await fetch(`${at}/pair`, {
      method: 'POST',
      headers: { origin: at },
      body: new URLSearchParams({ code, name: 'Phone' }),
      redirect: 'manual',
    })
    const cookie = (paired.headers.get('set-cookie') ?? '').split(';')[0] ?? ''
    expect((await fetch(`${at}/api/questions`, { headers: { cookie } })).status).toBe(200)
    child.kill('SIGTERM')
    expect(await ended).toBe(0)
    const lines = said()
      .split('\n')
      .filter((line) => line.startsWith('{'))
      .map((line) => JSON.parse(line))
    expect(lines).toContainEqual(
      expect.objectContaining({ route: '/api/questions', status: 200, method: 'GET' }),
    )
    expect(said()).not.toMatch(/127\.0\.0\.1|Phone/)
    const again = await running({ HOST: '0.0.0.0', LADDERSIDE_LOCKED: '1', LADDERSIDE_DATA: data })
    const there = again.address.replace('0.0.0.0', '127.0.0.1')
    expect((await fetch(`${there}/api/questions`, { headers: { cookie } })).status).toBe(200)
    expect(again.said()).not.toContain('npm run pair')
  })

  it('knows its devices by a secret from the environment as well, and then keeps none', async () => {
    const { data } = await running({
      HOST: '0.0.0.0',
      LADDERSIDE_LOCKED: '1',
      LADDERSIDE_SECRET: 'the secret of a test, and of nothing else',
    })
    expect(readdirSync(data)).not.toContain('doors.key')
  })
})

describe('a server that works', () => {
  it('says what is wrong with its log, answers questions all the same, and its health tells it', async () => {
    const data = join(folder, 'no-log')
    mkdirSync(data)
    writeFileSync(join(data, 'jobs.sqlite'), 'broken')
    const { address, said } = await running({ LADDERSIDE_DATA: data })
    expect(said()).toContain('Questions are answered all the same')
    const health = await fetch(`${address}/healthz`)
    expect([health.status, await health.json()]).toEqual([
      503,
      expect.objectContaining({ status: 'failing', reasons: ['log-corrupt'] }),
    ])
    expect((await fetch(`${address}/q/feed-gauge`)).status).toBe(200)
    for (const path of ['/api/jobs', '/api/jobs/writes', '/jobs', '/jobs/import']) {
      const jobs = await fetch(address + path)
      expect([jobs.status, await jobs.text()]).toEqual([
        503,
        expect.stringContaining('The server keeps no jobs now'),
      ])
    }
  })

  it.each(['SIGTERM', 'SIGINT'] as const)(
    'stops at %s under load without cutting a request off, with its log closed',
    async (signal) => {
      const { address, child, ended, data } = await running()
      const resets: string[] = []
      const done = new Promise<autocannon.Result>((resolve) => {
        const load = autocannon(
          {
            url: `${address}/q/feed-gauge?distance=40%20ft&voltage=24%20V&load=60%20W`,
            connections: 20,
            duration: 30,
            bailout: 20,
          },
          (_, result) => resolve(result),
        )
        load.on('reqError', (error: NodeJS.ErrnoException) => resets.push(String(error.code)))
      })
      await pause(1500)
      child.kill(signal)
      expect(await ended).toBe(0)
      const { non2xx, '2xx': answered } = await done
      expect([non2xx, answered > 0]).toEqual([0, true])
      // A connection that comes too late is refused; one that was taken is answered before it is let go.
      expect(new Set(resets)).toEqual(new Set(['ECONNREFUSED']))
      expect(readdirSync(data)).toEqual(['jobs.sqlite'])
    },
  )

  it('stops though it has printed a sheet, in a thread that would print more', async () => {
    const { address, child, ended } = await running()
    const job = await newJob(address)
    const sheet = await fetch(`${address}/jobs/${job}/sheet.pdf`)
    expect((await sheet.arrayBuffer()).byteLength).toBeGreaterThan(1000)
    child.kill('SIGTERM')
    expect(await ended).toBe(0)
  })

  it('does what was written before it was killed', async () => {
    const { address, child, ended, data } = await running()
    await newJob(address)
    child.kill('SIGKILL')
    await ended
    const again = await running({ LADDERSIDE_DATA: data })
    expect(await (await fetch(`${again.address}/api/jobs`)).text()).toContain('Long hall')
  })
})

/** Whether this machine lets a test have a small disk of its own. */
const canMount =
  spawnSync('unshare', ['-rm', 'sh', '-c', 'mount -t tmpfs -o size=64k tmpfs /mnt']).status === 0

describe('the health on a disk that is full', () => {
  it.runIf(canMount)('is told, and told again when there is room', async () => {
    const place = join(folder, 'full')
    mkdirSync(place)
    const script = `mount -t tmpfs -o size=2m tmpfs "${place}" && exec "${process.execPath}" dist/server.js`
    const child = spawn('unshare', ['-rm', 'sh', '-c', script], {
      env: { ...process.env, PORT: '0', HOST: '127.0.0.1', LADDERSIDE_DATA: place },
      stdio: ['ignore', 'pipe', 'inherit'],
    })
    processes.push(child)
    const [line] = await once(child.stdout, 'data')
    const address = /http:\/\/\S+/.exec(String(line))?.[0] ?? ''
    const inside = (command: string) =>
      spawnSync('nsenter', [
        '-t',
        String(child.pid),
        '-U',
        '-m',
        '--preserve-credentials',
        'sh',
        '-c',
        command,
      ])
    expect((await fetch(`${address}/healthz`)).status).toBe(200)
    inside(`dd if=/dev/zero of="${place}/filling" bs=4k count=1000`)
    await pause(5200)
    const full = await fetch(`${address}/healthz`)
    expect([full.status, ((await full.json()) as { reasons: string[] }).reasons]).toEqual([
      503,
      ['disk-enospc'],
    ])
    inside(`rm "${place}/filling"`)
    await pause(5200)
    expect((await fetch(`${address}/healthz`)).status).toBe(200)
  })
})
