import { join } from 'node:path'
import { describe } from 'vitest'
import { openPhoneLog } from '../../../src/jobs/log/idb-job-log'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { browserStore } from './browser-store'
import { temporaryFolder } from './built'
import { describeJobLog } from './job-log-behaviour'

browserStore()

const folder = temporaryFolder()

describe('the job log in SQLite', () => {
  describeJobLog((name) => openJobLog({ file: join(folder, `${name}.sqlite`) }))
})

describe('the job log in IndexedDB', () => {
  describeJobLog(async (name) => {
    const opened = await openPhoneLog(name)
    return opened.ok ? { ok: true, value: opened.value.log } : opened
  })
})
