import { execFileSync, spawn, spawnSync } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { backUp, restore } from '../../../src/jobs/log/backup'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { built, temporaryFolder } from './built'
import { entry, job, value } from './samples'

const folder = temporaryFolder()

/** A log with one job, closed. */
async function withOneJob(name: string): Promise<{ file: string; id: string }> {
  const file = join(folder, name, 'jobs.sqlite')
  const log = value(await openJobLog({ file }))
  const { id } = value(await log.createJob(job()))
  await log.close()
  return { file, id }
}

const idsIn = async (file: string): Promise<string[]> => {
  const log = value(await openJobLog({ file }))
  const { jobs } = value(await log.listJobs())
  await log.close()
  return jobs.map(({ id }) => id)
}

describe('a backup', () => {
  it('of a log that is written to has all that was acknowledged before, in one file', async () => {
    const file = join(folder, 'busy', 'jobs.sqlite')
    const writer = await built('writer.ts', folder)
    const child = spawn(process.execPath, [writer, file, '1000000'], { stdio: ['ignore', 'pipe', 'inherit'] })
    let printed = ''
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      printed += text
    })
    while (printed.split('\n').length < 40) await once(child.stdout, 'data')
    const before = printed.split('\n').slice(0, -1)
    const to = join(folder, 'backups', 'one.sqlite')
    expect(await backUp(file, to)).toEqual({ ok: true, value: { file: to } })
    expect(child.exitCode).toBeNull()
    child.kill('SIGKILL')
    await once(child, 'close')
    expect(readdirSync(dirname(to))).toEqual(['one.sqlite'])
    const restored = join(folder, 'elsewhere', 'jobs.sqlite')
    expect(await restore(to, restored)).toEqual({ ok: true, value: { setAside: null } })
    expect(readdirSync(dirname(restored))).toEqual(['jobs.sqlite'])
    const log = value(await openJobLog({ file: restored }))
    const open = value(await log.readJob(before[0]?.split(' ')[1] ?? ''))
    const acknowledged = before.filter((line) => line.startsWith('entry')).map((line) => line.split(' ')[1])
    expect(open.thread.map(({ id }) => id)).toEqual(expect.arrayContaining(acknowledged))
    await log.close()
  })

  it('overwrites nothing, and is made of a whole log only', async () => {
    const { file } = await withOneJob('careful')
    const taken = join(folder, 'taken.sqlite')
    writeFileSync(taken, 'mine')
    expect(await backUp(file, taken)).toMatchObject({ ok: false, reason: 'exists' })
    expect(readFileSync(taken, 'utf8')).toBe('mine')
    const to = join(folder, 'never.sqlite')
    expect(await backUp(join(folder, 'none.sqlite'), to)).toMatchObject({ ok: false, reason: 'no-log' })
    expect(await backUp(taken, to)).toMatchObject({ ok: false, reason: 'corrupt' })
    expect(await backUp(file, join(taken, 'x', 'y.sqlite'))).toMatchObject({
      ok: false,
      reason: 'disk-failed',
    })
    expect(existsSync(to)).toBe(false)
  })
})

describe('restoring', () => {
  it('sets the log that was there aside, whole', async () => {
    const { file, id } = await withOneJob('first')
    const to = join(folder, 'first-backup.sqlite')
    value(await backUp(file, to))
    const log = value(await openJobLog({ file }))
    const later = value(await log.createJob(job()))
    await log.close()
    const { setAside } = value(await restore(to, file))
    expect(await idsIn(file)).toEqual([id])
    expect(await idsIn(setAside ?? '')).toEqual(expect.arrayContaining([id, later.id]))
  })

  it('sets a damaged log aside byte for byte, with what belongs to it', async () => {
    const { file, id } = await withOneJob('second')
    const to = join(folder, 'second-backup.sqlite')
    value(await backUp(file, to))
    writeFileSync(file, 'no longer a log')
    writeFileSync(`${file}-wal`, 'nor this')
    const { setAside } = value(await restore(to, file))
    expect(readFileSync(setAside ?? '', 'utf8')).toBe('no longer a log')
    expect(readFileSync(`${setAside}-wal`, 'utf8')).toBe('nor this')
    expect(await idsIn(file)).toEqual([id])
  })

  it('does not touch a log that is in use', async () => {
    const { file, id } = await withOneJob('third')
    const to = join(folder, 'third-backup.sqlite')
    value(await backUp(file, to))
    const log = value(await openJobLog({ file }))
    expect(await restore(to, file)).toMatchObject({ ok: false, reason: 'busy' })
    value(await log.addEntry(entry(id)))
    expect(value(await log.readJob(id)).thread).toHaveLength(1)
    await log.close()
    expect(readdirSync(dirname(file))).toEqual(['jobs.sqlite'])
  })

  it('takes no damaged backup, and leaves the log as it was', async () => {
    const { file, id } = await withOneJob('fourth')
    const bad = join(folder, 'bad-backup.sqlite')
    writeFileSync(bad, readFileSync(file).subarray(0, 9000))
    expect(await restore(bad, file)).toMatchObject({ ok: false, reason: 'corrupt' })
    expect(await restore(join(folder, 'none.sqlite'), file)).toMatchObject({ ok: false, reason: 'no-log' })
    expect(await idsIn(file)).toEqual([id])
  })
})

describe('the commands', () => {
  it('back up and restore the log of this machine', async () => {
    const scripts = join(folder, 'scripts')
    const backupCommand = await built('../../../src/jobs/log/backup-command.ts', scripts)
    const restoreCommand = await built('../../../src/jobs/log/restore-command.ts', scripts)
    const { file, id } = await withOneJob('commands')
    const run = (script: string, ...rest: string[]) =>
      execFileSync(process.execPath, [script, ...rest], {
        encoding: 'utf8',
        env: { ...process.env, LADDERSIDE_DATA: dirname(file) },
      })
    expect(run(backupCommand)).toContain('backed up to')
    const [made = ''] = readdirSync(join(dirname(file), 'backups'))
    const log = value(await openJobLog({ file }))
    value(await log.createJob(job()))
    await log.close()
    expect(run(restoreCommand, join(dirname(file), 'backups', made))).toContain('is restored')
    expect(await idsIn(file)).toEqual([id])
    expect(readdirSync(dirname(file)).some((name) => name.startsWith(`${basename(file)}.replaced-`))).toBe(
      true,
    )
    const failed = spawnSync(process.execPath, [restoreCommand], { encoding: 'utf8' })
    expect([failed.status, failed.stderr]).toEqual([1, expect.stringContaining('Which backup?')])
  })
})
