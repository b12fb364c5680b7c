import { dirname, join } from 'node:path'
import { backUp } from './backup'
import { jobLogFile } from './sqlite-file'

const log = jobLogFile(process.env)
const moment = new Date().toISOString().replaceAll(':', '-')
const to = process.argv[2] ?? join(dirname(log), 'backups', `jobs-${moment}.sqlite`)

const backed = await backUp(log, to)
if (backed.ok) console.info(`The job log is backed up to ${backed.value.file}`)
else {
  console.error(backed.message)
  process.exitCode = 1
}
