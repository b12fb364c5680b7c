import { newId } from '../../../src/jobs/log/identifier'
import type { WriteInput } from '../../../src/jobs/log/job'
import type { Outcome } from '../../../src/jobs/log/refusal'

type Input<K extends WriteInput['kind']> = Extract<WriteInput, { kind: K }>['record']

/** The value of an outcome that must have gone well. */
export function value<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.message)
  return outcome.value
}

/** A moment, so many minutes into a working day. */
export const minute = (minutes: number): string => new Date(Date.UTC(2026, 2, 2, 8, minutes)).toISOString()

export const job = (more: Partial<Input<'job'>> = {}): Input<'job'> => ({
  id: newId(),
  name: 'Glaze bench',
  place: 'Fernhollow Pottery Studio',
  createdAt: minute(0),
  ...more,
})

export const entry = (jobId: string, more: Partial<Input<'entry'>> = {}): Input<'entry'> => ({
  id: newId(),
  jobId,
  at: minute(1),
  said: 'what gauge for forty feet at 24 V, sixty watts',
  reading: { question: 'feed-gauge', inputs: { distance: { value: 12.192, unit: 'm', said: 'forty feet' } } },
  answer: { question: 'feed-gauge', verdict: 'holds', headline: 'Pull 14 AWG.' },
  version: { calculators: '0.1.0', tables: '0.1.0' },
  ...more,
})

export const fact = (jobId: string, more: Partial<Input<'fact'>> = {}): Input<'fact'> => ({
  id: newId(),
  jobId,
  field: 'voltage',
  value: '24 V',
  provenance: { from: 'person', who: 'the electrician' },
  at: minute(2),
  ...more,
})

export const withdrawal = (
  jobId: string,
  factId: string,
  more: Partial<Input<'withdrawal'>> = {},
): Input<'withdrawal'> => ({ id: newId(), jobId, factId, at: minute(3), ...more })

export const change = (
  jobId: string,
  set: Input<'change'>['set'],
  more: Partial<Input<'change'>> = {},
): Input<'change'> => ({ id: newId(), jobId, at: minute(4), set, ...more })

/** An answer about as long as a real one. */
export const longAnswer = (mark: string): Input<'entry'>['answer'] => ({
  headline: mark,
  working: Array.from({ length: 60 }, (_, index) => ({
    label: `${mark} ${index}`,
    formula: 'drop = current × length × loop resistance',
    substituted: `2.5 A × ${index} m × 0.0166 ohm/m`,
  })),
})

/** A job with its history, as the requests that make it. */
export const historyOf = (steps: readonly number[]): WriteInput[] => {
  const begun = job()
  const facts: string[] = []
  const entries: string[] = []
  const writes = steps.map((step, index): WriteInput => {
    const at = minute(step % 5)
    const [entryId, factId] = [entries.at(-1), facts[step % Math.max(1, facts.length)]]
    if (step % 4 === 0) {
      return { kind: 'change', record: change(begun.id, { name: `Name ${index}`, state: 'done' }, { at }) }
    }
    if (step % 4 === 1 && factId) {
      return { kind: 'withdrawal', record: withdrawal(begun.id, factId, { at }) }
    }
    if (step % 4 === 2) {
      const record = entry(begun.id, { at, said: `line ${index}` })
      entries.push(record.id)
      return { kind: 'entry', record }
    }
    const provenance = entryId ? { from: 'answer' as const, entryId } : { from: 'person' as const }
    const record = fact(begun.id, { at, value: `${index} V`, provenance })
    facts.push(record.id)
    return { kind: 'fact', record }
  })
  return [{ kind: 'job', record: begun }, ...writes]
}
