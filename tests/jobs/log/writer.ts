import { writeSync } from 'node:fs'
import { newId } from '../../../src/jobs/log/identifier'
import type { JobLog } from '../../../src/jobs/log/job-log'
import type { Outcome } from '../../../src/jobs/log/refusal'
import { openJobLog } from '../../../src/jobs/log/sqlite-job-log'
import { change, entry, fact, job, longAnswer, withdrawal } from './samples'

/**
 * Writes to a log as fast as it can and prints what was acknowledged, one line each: `<kind> <id>`.
 * What could not be written is printed as `refused <reason>`, and ends it.
 *
 * node writer.mjs <file> <how many rounds at most>
 */
const [file = '', rounds = '0'] = process.argv.slice(2)
const say = (line: string): void => {
  // Straight into the pipe: what is printed is out, even if the process is killed right after.
  writeSync(1, `${line}\n`)
}
const now = (): string => new Date().toISOString()

/** Ends the writer at the first thing that is refused. */
function keptOrOut<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value
  say(`refused ${outcome.reason}`)
  process.exit()
}

async function writeRound(log: JobLog, jobId: string, round: number): Promise<void> {
  const id = newId()
  const made = entry(jobId, { id, at: now(), said: id, answer: longAnswer(id) })
  const provenance = { from: 'answer' as const, entryId: id }
  const facts = ['voltage', 'distance'].map((field) =>
    fact(jobId, { field, at: now(), provenance, value: id }),
  )
  const withFacts = facts.map((record) => ({ kind: 'fact' as const, record }))
  keptOrOut(await log.write([{ kind: 'entry', record: made }, ...withFacts]))
  say(`entry ${id}`)
  const renamed = keptOrOut(await log.changeJob(change(jobId, { name: `Round ${round}` }, { at: now() })))
  say(`change ${renamed.id}`)
  const factId = facts[0]?.id ?? ''
  keptOrOut(await log.withdrawFact(withdrawal(jobId, factId, { at: now() })))
  say(`withdrawal ${factId}`)
}

const log = keptOrOut(await openJobLog({ file }))
const begun = keptOrOut(await log.createJob(job({ createdAt: now() })))
say(`job ${begun.id}`)
for (let round = 0; round < Number(rounds); round += 1) await writeRound(log, begun.id, round)
await log.close()
say('done')
