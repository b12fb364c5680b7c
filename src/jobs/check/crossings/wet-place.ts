import type { Field } from '../../../questions/common/fields'
import { driverSize } from '../../../questions/driver-size'
import type { Facts, KnownFact } from '../../memory/facts'
import { ownFactById, type Wetness, wetness } from '../../memory/own-facts'
import { type CheckedJob, type Place, read } from '../checked-job'
import type { RowState } from '../row'
import { worstState } from '../rows'
import { driversOf, runsOf } from '../runs'
import { say } from '../words'
import { type Crossing, type Finding, missingFacts } from './crossing'

/** What may get wet: the facts of where it is, and of what it is listed for. */
const things = [
  { id: 'tape', place: 'surroundings', listing: 'tapeListing' },
  { id: 'driver', place: 'driverSurroundings', listing: 'driverListing' },
] as const

type Thing = (typeof things)[number]
type Judged = { state: RowState; sentence: string; missing: string[]; uses: KnownFact[] }

const told = (facts: Facts, { place, listing }: Thing): boolean => facts.has(place) || facts.has(listing)

/** Where a thing is, each place once: its part where something of its own is told there, else the whole job. */
function placesOf(thing: Thing, job: CheckedJob): Place[] {
  const at = (thing.id === 'tape' ? runsOf(job) : driversOf(job)).map(({ place }) => place)
  const own = job.places.filter((place) => told(job.own(place), thing))
  return [...new Set([...at.map((place) => (told(job.own(place), thing) ? place : null)), ...own])]
}

const wordOf = (id: string, choice: Wetness): string => ownFactById(id)?.words.choices?.[choice] ?? choice

/** Listed for at least what the place is; what is not known is never taken to hold, but in a dry place anything does. */
function judge(thing: Thing, place: Place, job: CheckedJob): Judged {
  const facts = job.at(place)
  const wetnessOf = (id: string) => read(ownFactById(id)?.field as Field<Wetness>, facts.get(id), job)
  const [surroundings, listing] = [wetnessOf(thing.place), wetnessOf(thing.listing)]
  const uses = [thing.place, thing.listing].flatMap((field) => facts.get(field) ?? [])
  const what = say(`wet-place.${thing.id}`, {})
  const known = {
    what,
    surroundings: surroundings ? wordOf(thing.place, surroundings) : '',
    listing: listing ? wordOf(thing.listing, listing) : '',
  }
  const found = (
    state: RowState,
    key: Parameters<typeof say>[0] & `wet-place.${string}`,
    missing: string[] = [],
  ) => ({
    state,
    sentence: say(key, known),
    missing,
    uses,
  })
  if (surroundings === 'dry' || listing === 'wet') {
    return listing && surroundings ? found('holds', 'wet-place.holds') : found('holds', 'wet-place.any')
  }
  if (!surroundings) return found('not-asked', 'wet-place.noPlace', [thing.place])
  if (!listing) return found('not-asked', 'wet-place.noListing', [thing.listing])
  const does = wetness.indexOf(listing) >= wetness.indexOf(surroundings)
  return does ? found('holds', 'wet-place.holds') : found('fails', 'wet-place.fails')
}

function findings(job: CheckedJob): Finding[] {
  const places = new Map(things.map((thing) => [thing, placesOf(thing, job)]))
  return job.places.flatMap((place) => {
    const judged = things
      .filter((thing) => places.get(thing)?.includes(place))
      .map((thing) => judge(thing, place, job))
    if (judged.length === 0) return []
    const missing = missingFacts(judged.flatMap((each) => each.missing))
    return [
      {
        place,
        state: worstState(judged.map(({ state }) => state)),
        sentences: judged.map(({ sentence }) => sentence),
        question: driverSize.id,
        inputs: {},
        uses: judged.flatMap(({ uses }) => uses),
        ...(missing.length > 0 ? { missing } : {}),
      },
    ]
  })
}

/** The listing of tape and driver against how wet their places are. */
export const wetPlace: Crossing = { id: 'wet-place', stage: 'look', findings }
