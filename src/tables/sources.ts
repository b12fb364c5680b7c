import * as z from 'zod/mini'
import building from '../../data/sources-building.json'
import common from '../../data/sources-common.json'
import light from '../../data/sources-light.json'
import lightQuestions from '../../data/sources-light-questions.json'
import lineSide from '../../data/sources-line-side.json'
import meter from '../../data/sources-meter.json'
import sizing from '../../data/sources-sizing.json'
import tape from '../../data/sources-tape.json'
import way from '../../data/sources-way.json'

const Source = z.strictObject({
  id: z.string().check(z.regex(/^[a-z0-9]+(-[a-z0-9]+)*$/)),
  text: z.string().check(z.minLength(1)),
  kind: z.enum(['published', 'common practice', 'from memory']),
})

/** One entry of the bibliography: the edition stands in `text`, and `kind` says how far it may be trusted. */
export type Source = z.infer<typeof Source>

/** Checks lists of entries and merges them by id. Throws when an entry is malformed or an id comes twice. */
export function mergeSources(lists: readonly unknown[]): ReadonlyMap<string, Source> {
  const merged = new Map<string, Source>()
  for (const entry of lists.flatMap((list) => z.array(Source).parse(list))) {
    if (merged.has(entry.id)) throw new Error(`The source "${entry.id}" is listed twice.`)
    merged.set(entry.id, entry)
  }
  return merged
}

const byId = mergeSources([building, common, lineSide, sizing, light, lightQuestions, tape, way, meter])

/** The whole bibliography, in the order of its files. */
export const allSources: readonly Source[] = [...byId.values()]

/** The entry with this id. Throws on an unknown id: ids are written by us, so that is a fault of ours. */
export function source(id: string): Source {
  const found = byId.get(id)
  if (!found) throw new Error(`There is no source "${id}".`)
  return found
}

/** The `source` of a row in a data file: refused, when the table is loaded, unless the bibliography has it. */
export const sourceId = z
  .string()
  .check(z.refine((id) => byId.has(id), { error: 'is not in the bibliography' }))
