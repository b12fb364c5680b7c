import fernhollow from '../data/demo/fernhollow.json'
import { loadDemo } from './app/demo-job'
import { jobLogFile } from './jobs/log/sqlite-file'
import { openJobLog } from './jobs/log/sqlite-job-log'

const opened = await openJobLog({ file: jobLogFile(process.env) })
if (!opened.ok) {
  console.error(opened.message)
  process.exit(1)
}
const id = await loadDemo(opened.value, fernhollow)
await opened.value.close()
console.info(`The job ${fernhollow.job.name} is loaded. Run npm start and open /jobs/${id}`)
