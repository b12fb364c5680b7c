import { writeSync } from 'node:fs'
import { newId } from '../../src/jobs/identifier'
import { openJobLog } from '../../src/jobs/sqlite-job-log'
import { change, entry, fact, job, longAnswer, value, withdrawal } from './samples'

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

async function write(): Promise<void> {
  const opened = await openJobLog({ file })
  if (!opened.ok) return say(`refused ${opened.reason}`)
  const log = opened.value
  const begun = job({ createdAt: now() })
  const created = await log.createJob(begun)
  if (!created.ok) return say(`refused ${created.reason}`)
  say(`job ${begun.id}`)
  for (let round = 0; round < Number(rounds); round += 1) {
    const entryId = newId()
    const made = entry(begun.id, { id: entryId, at: now(), said: entryId, answer: longAnswer(entryId) })
    const provenance = { from: 'answer' as const, entryId }
    const facts = ['voltage', 'distance'].map((field) =>
      fact(begun.id, { field, at: now(), provenance, value: entryId }),
    )
    const withFacts = await log.write([
      { kind: 'entry', record: made },
      ...facts.map((record) => ({ kind: 'fact' as const, record })),
    ])
    if (!withFacts.ok) return say(`refused ${withFacts.reason}`)
    say(`entry ${entryId}`)
    const renamed = change(begun.id, { name: `Round ${round}` }, { at: now() })
    value(await log.changeJob(renamed))
    say(`change ${renamed.id}`)
    const taken = withdrawal(begun.id, facts[0]?.id ?? '', { at: now() })
    value(await log.withdrawFact(taken))
    say(`withdrawal ${taken.factId}`)
  }
  await log.close()
  say('done')
}

await write()
