import { openShares } from '../../../src/jobs/share/sqlite-shares'

/**
 * Another process on a log's links: makes one for a job and prints its token, or prints whether a token opens anything.
 *
 * node opener.mjs <file> create <job> | open <token>
 */
const [file = '', deed, about = ''] = process.argv.slice(2)
const shares = await openShares({ file })
if (!shares.ok) throw new Error(shares.message)
if (deed === 'create') {
  const made = await shares.value.create(about, { expiresAt: '2099-01-01T00:00:00.000Z' })
  console.info(made.ok ? made.value.token : made.message)
} else {
  const opened = await shares.value.open(about)
  console.info(opened.ok && opened.value ? opened.value.jobId : 'nothing')
}
await shares.value.close()
