import type { Write } from '../jobs/log/job'
import { factLabel, printFact } from '../jobs/memory/fact-book'
import { moment } from '../pages/job-words'
import { phoneSay } from './words'

/** A record of a job in the words of a person, so that two of the same id can be told apart. */
export function saidOf({ kind, record }: Write): string {
  switch (kind) {
    case 'job':
      return phoneSay('of.job', { name: record.name, place: record.place || record.notes || record.state })
    case 'change':
      return phoneSay('of.change', { set: Object.values(record.set).join(', ') })
    case 'entry':
      return record.said
        ? phoneSay('of.entry', { said: record.said, when: moment(record.at) })
        : phoneSay('of.entryByForm', { when: moment(record.at) })
    case 'fact': {
      const about = record.where === null ? '' : ` (${record.where})`
      const label = `${factLabel(record.field)}${about}`
      return phoneSay('of.fact', {
        label,
        value: printFact(record.field, record.value),
        when: moment(record.at),
      })
    }
    case 'withdrawal':
      return phoneSay('of.withdrawal', { when: moment(record.at) })
  }
}
