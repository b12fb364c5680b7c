import * as z from 'zod/mini'
import prompts from '../../../prompts/en/job-check.yaml'
import { choice, type Field, name } from '../../questions/common/fields'
import type { Stage } from '../../questions/common/spec'
import { type FieldWords, faultyPrompts, fieldWords, readPrompts } from '../../questions/common/words'

/** Something that a job remembers and no question asks for. */
export type OwnFact = { id: string; stage: Stage; field: Field; words: FieldWords }

/** How wet a place is, and for which places a thing is listed; the driest first. */
export const wetness = ['dry', 'damp', 'wet'] as const
export type Wetness = (typeof wetness)[number]

const place = () => choice(...wetness)

/** Each fact with the stage of the work at which it comes to be known, and how it is read. */
const declared = {
  surroundings: { stage: 'look', field: place() },
  driverSurroundings: { stage: 'look', field: place() },
  circuit: { stage: 'look', field: name() },
  tapeName: { stage: 'size', field: name() },
  tapeColour: { stage: 'size', field: name() },
  tapeListing: { stage: 'size', field: place() },
  driverName: { stage: 'size', field: name() },
  driverListing: { stage: 'size', field: place() },
  driverPlace: { stage: 'size', field: name() },
  cableName: { stage: 'size', field: name() },
  dimmerName: { stage: 'switch', field: name() },
  channelName: { stage: 'buy', field: name() },
  madeBy: { stage: 'hand-over', field: name() },
  madeOn: { stage: 'hand-over', field: name() },
} as const satisfies Record<string, { stage: Stage; field: Field<Wetness> | Field<string> }>

export type OwnFactId = keyof typeof declared

// The section `check` is read by src/jobs/check/words.ts, which checks it.
const { facts: words } = readPrompts(
  prompts,
  z.strictObject({ facts: z.record(z.string(), fieldWords), check: z.unknown() }),
)
for (const id of Object.keys(words)) {
  if (!Object.hasOwn(declared, id)) throw faultyPrompts(prompts, `facts.${id}`, `facts.${id} is used nowhere`)
}

/** The facts that no question has, in the order of the work. */
export const ownFacts: readonly OwnFact[] = Object.entries(declared).map(([id, { stage, field }]) => {
  const own = words[id]
  if (!own) throw faultyPrompts(prompts, 'facts', `facts.${id} is missing`)
  return { id, stage, field: field as Field, words: own }
})

const byId = new Map(ownFacts.map((fact) => [fact.id, fact]))

/** The fact of this name, where it is one that no question has. */
export const ownFactById = (id: string): OwnFact | undefined => byId.get(id)
