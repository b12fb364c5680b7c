import { spawnSync } from 'node:child_process'
import { chmodSync, mkdirSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { built, temporaryFolder } from './built'
import { job, value } from './samples'

const folder = temporaryFolder()
let writer = ''
beforeAll(async () => {
  writer = await built('writer.ts', folder)
})

/** A folder of its own with a log in it that holds one job. */
async function withOneJob(name: string): Promise<{ place: string; file: string; id: string }> {
  const place = join(folder, name)
  const file = join(place, 'jobs.sqlite')
  const log = value(await openJobLog({ file }))
  const { id } = value(await log.createJob(job()))
  await log.close()
  return { place, file, id }
}

/** What a writer prints, run by a shell command in which `$write` runs it. */
function printedBy(command: string, place: string): string[] {
  const write = `"${process.execPath}" "${writer}"`
  const shell = command.replaceAll('$write', write).replaceAll('$place', `"${place}"`)
  const { stdout, stderr } = spawnSync('sh', ['-c', shell], { encoding: 'utf8' })
  expect(stderr).toBe('')
  return stdout.trim().split('\n')
}

/** Every id that a writer was told was kept is in the log, and so is the job that was there before. */
async function expectKept(file: string, before: string, printed: readonly string[]): Promise<void> {
  const log = value(await openJobLog({ file }))
  expect(value(await log.readJob(before)).job.name).toBe('Glaze bench')
  const acknowledged = (kind: string) =>
    printed.filter((line) => line.startsWith(kind)).map((line) => line.split(' ')[1] ?? '')
  const [begun = ''] = acknowledged('job')
  const thread = value(await log.readJob(begun)).thread.map(({ id }) => id)
  expect(acknowledged('entry').length).toBeGreaterThan(3)
  expect(thread).toEqual(expect.arrayContaining(acknowledged('entry')))
  value(await log.createJob(job()))
  await log.close()
}

/** Whether this machine lets a test have a small disk of its own. */
const canMount =
  spawnSync('unshare', ['-rm', 'sh', '-c', 'mount -t tmpfs -o size=64k tmpfs /mnt']).status === 0

describe('a full disk', () => {
  it('keeps what was there and says that it is full', async () => {
    const { place, file, id } = await withOneJob('full')
    // Where no small disk may be mounted, a limit on the size of files stands in: it too makes writes fail
    // half-way, but is not told from a failing disk.
    const onSmallDisk = `unshare -rm sh -c 'mount -t tmpfs -o size=600k tmpfs /mnt && cp $place/* /mnt &&
      $write /mnt/jobs.sqlite 100000; cp /mnt/jobs.sqlite* $place'`
    const limited = `ulimit -f 800; $write $place/jobs.sqlite 100000`
    const printed = printedBy(canMount ? onSmallDisk : limited, place)
    expect(printed.at(-1)).toBe(canMount ? 'refused disk-full' : 'refused disk-failed')
    await expectKept(file, id, printed)
  })

  it('keeps what was there where files may not grow', async () => {
    const { place, file, id } = await withOneJob('limited')
    const printed = printedBy(`ulimit -f 800; $write $place/jobs.sqlite 100000`, place)
    expect(printed.at(-1)).toBe('refused disk-failed')
    await expectKept(file, id, printed)
  })

  it('leaves no half-made log behind', () => {
    const place = join(folder, 'nothing')
    mkdirSync(place)
    expect(printedBy(`ulimit -f 8; $write $place/jobs.sqlite 1`, place)).toEqual(['refused disk-failed'])
    expect(readdirSync(place)).toEqual([])
  })
})

/** Root may write anywhere, so root's writer goes without that power; anyone else's has none. */
const asAnyone = process.getuid?.() === 0 ? 'setpriv --bounding-set=-dac_override,-dac_read_search ' : ''

describe('a read-only disk', () => {
  it('keeps what was there and says that it is read-only, where nothing in the folder may be written', async () => {
    const { place, file } = await withOneJob('read-only-folder')
    const before = readFileSync(file)
    chmodSync(file, 0o444)
    chmodSync(place, 0o555)
    expect(printedBy(`${asAnyone}$write $place/jobs.sqlite 1`, place)).toEqual(['refused read-only'])
    expect(printedBy(`${asAnyone}$write $place/other.sqlite 1`, place)).toEqual(['refused read-only'])
    chmodSync(place, 0o755)
    expect(readdirSync(place)).toEqual(['jobs.sqlite'])
    expect(readFileSync(file).equals(before)).toBe(true)
  })

  it('keeps what was there and says that it is read-only, where the file may not be written', async () => {
    const { place, file } = await withOneJob('read-only-file')
    const before = readFileSync(file)
    chmodSync(file, 0o444)
    expect(printedBy(`${asAnyone}$write $place/jobs.sqlite 1`, place)).toEqual(['refused read-only'])
    expect(readFileSync(file).equals(before)).toBe(true)
  })
})

describe('a place that cannot be', () => {
  it('is refused by name', async () => {
    const { file } = await withOneJob('file-as-folder')
    const within = await openJobLog({ file: join(file, 'jobs.sqlite') })
    expect(within).toMatchObject({ ok: false, reason: 'disk-failed', code: 'EEXIST' })
  })
})
