import type { System } from '../../quantities/systems'
import type { Field } from '../../questions/common/fields'
import type { FactValue } from '../log/job'
import type { Known } from '../log/job-view'
import { type Facts, factsAt, type KnownFact, partsOf } from '../memory/facts'

/** A part of the job; null: the whole of it. */
export type Place = string | null

/** A job as the check looks at it. */
export type CheckedJob = {
  readonly parts: readonly string[]
  /** The whole job first, then its parts. */
  readonly places: readonly Place[]
  /** How a comma in a number is read. */
  readonly system: System
  /** What is known at a place: its own facts before the whole job's. */
  at(place: Place): Facts
  /** What was said of this very place. */
  own(place: Place): Facts
}

/** Looks at what is known of a job; every place is put together once. */
export function seen(known: readonly Known[]): CheckedJob {
  const parts = partsOf(known)
  const places = [null, ...parts]
  const all = new Map(places.map((place) => [place, factsAt(known, place)]))
  const own = new Map(places.map((place) => [place, saidOf(place, all.get(place))]))
  const none: Facts = new Map()
  return {
    parts,
    places,
    system: all.get(null)?.get('units')?.value === 'metric' ? 'metric' : 'us',
    at: (place) => all.get(place) ?? none,
    own: (place) => own.get(place) ?? none,
  }
}

const saidOf = (place: Place, facts: Facts = new Map()): Facts =>
  new Map([...facts].filter(([, { where }]) => where === place))

/** What a fact says to a field; a list of one stands for what it holds. `undefined` where it says nothing to it. */
export function read<T>(field: Field<T>, fact: KnownFact | undefined, { system }: CheckedJob): T | undefined {
  if (!fact) return undefined
  const parsed = field.schema(system).safeParse(single(field, fact.value))
  return parsed.success ? parsed.data : undefined
}

const single = (field: Field<never> | Field, value: FactValue): FactValue => {
  const items = field.kind !== 'list' && Array.isArray(value) && value.length === 1 ? value : undefined
  return items?.[0] ?? value
}

/** A fact's values one by one, as typed: one where it is no list. */
export const typedList = (fact: KnownFact | undefined): FactValue[] =>
  fact === undefined ? [] : isList(fact.value) ? [...fact.value] : [fact.value]

const isList = (value: FactValue): value is readonly FactValue[] => Array.isArray(value)

/** A number as it may be typed with its unit, without the noise of floating point. */
export const typed = (value: number, unit: string): string => `${Number(value.toPrecision(12))} ${unit}`

/** The same work for the same job is done once. */
export function oncePerJob<T>(work: (job: CheckedJob) => T): (job: CheckedJob) => T {
  const done = new WeakMap<CheckedJob, { result: T }>()
  return (job) => {
    const known = done.get(job) ?? { result: work(job) }
    done.set(job, known)
    return known.result
  }
}
