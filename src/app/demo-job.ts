import * as z from 'zod/mini'
import type { JobLog } from '../jobs/log/job-log'
import type { OpenJob } from '../jobs/log/job-view'
import type { Outcome } from '../jobs/log/refusal'
import { askInJob, type Deed, openContradictions, settle, tell } from './job-deeds'

/** A demo job: what is told and asked in it, step by step, as a person would. */
const demoSchema = z.strictObject({
  job: z.strictObject({
    name: z.string(),
    place: z.string(),
    notes: z.string(),
    createdAt: z.iso.datetime(),
  }),
  steps: z.array(
    z.union([
      z.strictObject({ where: z.optional(z.string()), tell: z.record(z.string(), z.string()) }),
      z.strictObject({ where: z.optional(z.string()), ask: z.string() }),
    ]),
  ),
})
type Demo = z.infer<typeof demoSchema>

/** Minutes between one step and the next. */
const pace = 4

/** Ids and times that are the same on every run, so that loading the demo twice changes nothing. */
function stepsOf({ job }: Demo): (step: number, part?: number) => { id: string; at: string } {
  const start = Date.parse(job.createdAt)
  return (step, part = 0) => {
    const ms = start + step * pace * 60_000 + part
    const time = ms.toString(16).padStart(12, '0')
    return {
      id: `${time.slice(0, 8)}-${time.slice(8)}-7000-8000-000000000000`,
      at: new Date(ms).toISOString(),
    }
  }
}

const valueIn = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.message)
  return outcome.value
}

/** Loads a demo job by the same deeds that a person's lines go through. */
export async function loadDemo(log: JobLog, raw: unknown): Promise<string> {
  const demo = demoSchema.parse(raw)
  const stamp = stepsOf(demo)
  const { id } = stamp(0)
  valueIn(await log.createJob({ id, ...demo.job }))
  const open = async (): Promise<OpenJob> => valueIn(await log.readJob(id))
  for (const [index, step] of demo.steps.entries()) {
    const where = step.where ?? null
    if ('ask' in step) {
      const deed: Deed = { ...stamp(index + 1), where }
      const entry = valueIn(await askInJob(log, await open(), step.ask, deed))
      const opened = await open()
      const which = where === null ? 'new' : 'here'
      for (const { field } of openContradictions(opened, entry))
        valueIn(await settle(log, opened, { entry: entry.id, field, which }, deed.at))
    } else {
      for (const [part, [field, value]] of Object.entries(step.tell).entries())
        valueIn(await tell(log, await open(), { field, value }, { ...stamp(index + 1, part), where }))
    }
  }
  return id
}
