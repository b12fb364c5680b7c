import type { System } from '../../quantities/systems'
import { printValue } from '../../questions/common/printing'
import type { CheckedJob, Place } from '../check/checked-job'
import type { SheetAnswer } from './answers'
import { placeName, say } from './sheet-words'

/** What a quantity counts; `m` is metres. */
export type Unit = 'm' | 'reel' | 'length' | 'piece' | 'output'

/** A quantity of one material that one part of the job, or the whole of it, takes. */
export type Take = {
  /** The same for the same material, wherever it goes. */
  what: string
  quantity: number
  unit: Unit
  place: Place
  /** Whether the part itself told it; else it may be the whole job's, seen from a part. */
  own: boolean
  /** Put together from its parts, and told by nobody: that it says the same again goes without saying. */
  gathered?: boolean
  /** What tells whether the whole job's figure holds those of the parts, where that is not the quantity. */
  extent?: number
  /** The answer that it comes from; none where it was told as it is. */
  answer?: SheetAnswer
  note?: string
}

/** What the ways of working out a material are given. */
export type Worked = { job: CheckedJob; answers: readonly SheetAnswer[] }

/** The answers to one question. */
export const answersTo = ({ answers }: Worked, question: string): SheetAnswer[] =>
  answers.filter((answer) => answer.question === question)

/**
 * Where an answer belongs: to the part that tells one of these facts of itself, else to the whole job.
 *
 * @param fields the facts that say how much there is
 */
export function belongsTo(
  { places }: SheetAnswer,
  job: CheckedJob,
  fields: readonly string[],
): Pick<Take, 'place' | 'own' | 'gathered'> {
  const told = places.find((place) => place !== null && fields.some((field) => job.own(place).has(field)))
  if (told !== undefined) return { place: told, own: true }
  const gathered = !fields.some((field) => job.own(null).has(field))
  return { place: places[0], own: false, gathered }
}

/** A quantity as it is printed; lengths go up. */
export function quantityText(quantity: number, unit: Unit, system: System): string {
  if (unit === 'm') return printValue(quantity, 'm', system, 'up')
  if (quantity === 0) return say('unit.none', {})
  return quantity === 1 ? say(`unit.${unit}.one`, {}) : say(`unit.${unit}.many`, { count: String(quantity) })
}

/** One material with all that takes it: what is there twice is counted once. */
export type Merged = {
  what: string
  quantity: number
  unit: Unit
  text: string
  where: string
  answers: SheetAnswer[]
  notes: string[]
}

/** Puts the takes of the same material together. */
export function merged(takes: readonly Take[], system: System): Merged[] {
  const kinds = grouped(takes, ({ what, unit }) => `${unit} ${what}`)
  return [...kinds.values()].map((same) => mergedKind(same, system))
}

function mergedKind(takes: readonly Take[], system: System): Merged {
  const [first] = takes as [Take, ...Take[]]
  const counted = countedOf(takes)
  const quantity = sumOf(counted, (take) => take.quantity)
  const isBoth = takes.some(({ own }) => own) && takes.some(({ own, gathered }) => !own && !gathered)
  const covers = isBoth ? [say(counted[0]?.own ? 'note.byPart' : 'note.byWhole', {})] : []
  return {
    what: first.what,
    quantity,
    unit: first.unit,
    text: quantityText(quantity, first.unit, system),
    where: whereText(counted, system),
    answers: [...new Set(counted.flatMap(({ answer }) => answer ?? []))],
    notes: [...new Set([...counted.flatMap(({ note }) => note ?? []), ...covers])],
  }
}

const sumOf = (takes: readonly Take[], of: (take: Take) => number): number =>
  takes.reduce((sum, take) => sum + of(take), 0)

/**
 * What parts tell of themselves adds up. A figure of the whole job may hold theirs, so that it is not added: the
 * greater of the two counts.
 */
function countedOf(takes: readonly Take[]): Take[] {
  const extentOf = ({ extent, quantity }: Take) => extent ?? quantity
  const own = takes.filter((take) => take.own)
  const shared = grouped(
    takes.filter((take) => !take.own),
    ({ place }) => place,
  )
  const [whole] = [...shared.values()].sort((one, other) => sumOf(other, extentOf) - sumOf(one, extentOf))
  return whole && sumOf(whole, extentOf) >= sumOf(own, extentOf) * (1 - 1e-9) ? whole : own
}

/** The places; with how much goes where, if there are several. */
function whereText(takes: readonly Take[], system: System): string {
  const byPlace = grouped(takes, ({ place }) => placeName(place))
  if (byPlace.size < 2) return [...byPlace.keys()].join('')
  return [...byPlace]
    .map(([where, here]) => {
      const quantity = here.reduce((sum, each) => sum + each.quantity, 0)
      return say('places', { where, text: quantityText(quantity, here[0]?.unit ?? 'piece', system) })
    })
    .join(', ')
}

/**
 * The takes of the way that is known best; another way only adds the places of which the ways before it know nothing.
 *
 * @param ways each with its takes, the best known first
 */
export function firstKnown(ways: readonly (readonly Take[])[], parts: readonly string[]): Take[] {
  const known: Take[] = []
  for (const way of ways) {
    const before = [...known]
    known.push(...way.filter((take) => !isCovered(take, before, parts)))
  }
  return known
}

const isCovered = (take: Take, known: readonly Take[], parts: readonly string[]): boolean =>
  known.some(({ own, place }) => !own || place === take.place) ||
  (!take.own && parts.length > 0 && parts.every((part) => known.some(({ place }) => place === part)))

/** Groups in the order in which each begins. */
export function grouped<T, K>(all: readonly T[], keyOf: (one: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>()
  for (const one of all) {
    const key = keyOf(one)
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  return groups
}
