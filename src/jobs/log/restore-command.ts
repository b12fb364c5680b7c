import { restore } from './backup'
import { jobLogFile } from './sqlite-file'

const log = jobLogFile(process.env)
const backup = process.argv[2]

if (backup === undefined) {
  console.error('Which backup? npm run restore -- <backup file>')
  process.exitCode = 1
} else {
  const restored = await restore(backup, log)
  if (restored.ok) {
    const { setAside } = restored.value
    console.info(
      `The job log is restored; links to its jobs have to be made anew.${setAside ? ` The one before is kept as ${setAside}` : ''}`,
    )
  } else {
    console.error(restored.message)
    process.exitCode = 1
  }
}
