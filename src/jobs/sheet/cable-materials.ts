import { type ConductorSize, printConductorSize } from '../../quantities/conductor-size'
import { alongTheTape } from '../../questions/along-the-tape'
import { printValue } from '../../questions/common/printing'
import { unflatten } from '../../questions/common/read-inputs'
import { inWords } from '../../questions/common/shared-words'
import { feedGauge } from '../../questions/feed-gauge'
import { pullPlan } from '../../questions/pull-plan'
import { type CheckedJob, type Place, read } from '../check/checked-job'
import { fieldOf } from '../check/runs'
import { printFact } from '../memory/fact-book'
import { figureText, numberOf, type SheetAnswer } from './answers'
import { say } from './sheet-words'
import { answersTo, belongsTo, grouped, type Take, type Worked } from './take'
import { named } from './tape-materials'

/** Cable of the routes that were planned: to the tape, or between boxes. */
export const cableByPlan = (worked: Worked): Take[] =>
  answersTo(worked, pullPlan.id).flatMap((answer) => {
    const legs = legsOf(answer)
    const toTape = legs.filter(goesToTape)
    const between = legs.filter((leg) => !goesToTape(leg))
    const where = belongsTo(answer, worked.job, ['legs'])
    const take = (what: string, quantity: number | undefined, note?: string): Take[] =>
      quantity === undefined
        ? []
        : [{ what, quantity, unit: 'm', ...where, answer, ...(note ? { note } : {}) }]
    const cable = (some: readonly Leg[]) =>
      some.length === legs.length ? numberOf(answer, 'cable') : pulledM(some, answer.inputs)
    const { what, note } = cableAt(worked, where.place)
    return [
      ...(toTape.length > 0
        ? take(what, cable(toTape), [note, spoolNote(answer)].filter(Boolean).join(' '))
        : []),
      ...(between.length > 0 ? take(say('material.cableToBox', {}), cable(between), spoolNote(answer)) : []),
    ]
  })

type Leg = { length: string; from?: string; to?: string }

/** The legs of a route as they were typed; a bare length goes from a box to the tape. */
function legsOf({ inputs }: SheetAnswer): Leg[] {
  const { legs } = unflatten(inputs)
  const all = Array.isArray(legs) ? (legs as (string | Leg)[]) : [String(legs)]
  return all.map((leg) => (typeof leg === 'string' ? { length: leg } : leg))
}

const goesToTape = ({ from = 'box', to = 'tape' }: Leg): boolean => from === 'tape' || to === 'tape'

/** What these legs come to with the slack of the others, m. */
function pulledM(legs: readonly Leg[], inputs: Readonly<Record<string, string>>): number | undefined {
  const { legs: _, spool: __, ...rest } = unflatten(inputs)
  const answered = pullPlan.answer({ ...rest, legs })
  const value = answered.ok ? answered.answer.figures.find(({ id }) => id === 'cable')?.value : undefined
  return typeof value === 'number' ? value : undefined
}

function spoolNote(answer: SheetAnswer): string {
  const count = figureText(answer, 'spools')
  const spool = answer.answer.inputs.spool?.text
  return count && spool ? say('note.spools', { count, spool }) : ''
}

/** Cable of the feeds of every run of tape, by their sizes. */
export const cableByFeeds = (worked: Worked): Take[] => {
  const answers = answersTo(worked, alongTheTape.id)
  const isByPart = answers.some(({ places }) => places.some((place) => place !== null))
  return answers.flatMap((answer) =>
    answer.places
      // Where parts have runs of their own, a run of the whole job is not one more.
      .filter((place) => place !== null || !isByPart)
      .flatMap((place) =>
        [...grouped(feedCables(answer), ({ gauge }) => gauge && printConductorSize(gauge))].flatMap(
          ([size, cables]) =>
            cableTake(
              worked,
              place,
              cables.map(({ distance }) => distance),
              size,
              answer,
            ),
        ),
      ),
  )
}

type FeedCable = { distance: number; gauge?: ConductorSize }

function feedCables({ answer: { inputs } }: SheetAnswer): FeedCable[] {
  const told = [inputs.feeds, inputs.trunk].filter((input) => input && input.from !== 'assumed')
  const cables = told.flatMap((input) => input?.value as FeedCable | FeedCable[])
  return cables.filter(({ distance }) => distance > 0)
}

/** Cable of one distance, where neither a route nor a run of tape is known well enough. */
export const cableByDistance = (worked: Worked): Take[] => {
  const { job } = worked
  const parts = job.parts.filter((part) => fedBy.some((field) => job.own(part).has(field)))
  return (parts.length > 0 ? parts : [null]).flatMap((place) => {
    const distances = fedBy.flatMap(
      (field) => read(fieldOf<number>(feedGauge, 'distance'), job.at(place).get(field), job) ?? [],
    )
    const answer = answersTo(worked, feedGauge.id).find(({ places }) => places.includes(place))
    return cableTake(
      worked,
      place,
      distances.filter((distance) => distance > 0),
      undefined,
      answer,
    )
  })
}

const fedBy = ['feedDistance', 'farFeedDistance']

/** Cable for distances along the way, with the usual slack. */
function cableTake(
  worked: Worked,
  place: Place,
  distancesM: readonly number[],
  size: string | undefined,
  answer: SheetAnswer | undefined,
): Take[] {
  if (distancesM.length === 0) return []
  const { system } = worked.job
  const legs = distancesM.map((distanceM) => ({ length: `${distanceM} m` }))
  const quantity = pulledM(legs, { units: system })
  if (quantity === undefined) return []
  const { what, note } = cableAt(worked, place, size)
  const alongM = distancesM.reduce((sum, distanceM) => sum + distanceM, 0)
  const slack = say('note.withSlack', { distance: printValue(alongM, 'm', system, 'up') })
  return [
    {
      what,
      quantity,
      unit: 'm',
      place,
      own: place !== null,
      ...(answer ? { answer } : {}),
      note: [slack, note].filter(Boolean).join(' '),
    },
  ]
}

/** The cable at a place: its sizes as told there, else the least that does it, else not known yet. */
function cableAt(worked: Worked, place: Place, said?: string): { what: string; note: string } {
  const told = said === undefined ? sizesTold(worked, place) : [said]
  const least = told.length === 0 ? sizeWorkedOut(worked, place) : undefined
  const sizes = least === undefined ? told : [least]
  const what =
    sizes.length > 0
      ? say('material.cableOf', { size: inWords([...sizes].sort()) })
      : say('material.cable', {})
  return { what: named(what, worked.job, place, 'cableName'), note: sizeNote(told, least) }
}

function sizeNote(told: readonly string[], least: string | undefined): string {
  if (told.length > 1) return say('note.sizes', {})
  if (told.length === 1) return ''
  return least ? say('note.leastSize', {}) : say('note.noSize', { question: feedGauge.words.title })
}

/** The size told at a place; for a route of the whole job, of which no size was told, those of its parts. */
function sizesTold(worked: Worked, place: Place): string[] {
  const here = sizeTold(worked.job, place) ?? sizeOfFeeds(worked, place)
  if (here !== undefined || place !== null) return here === undefined ? [] : [here]
  const parts = worked.job.parts.map((part) => sizeTold(worked.job, part) ?? sizeOfFeeds(worked, part))
  return [...new Set(parts.filter((size) => size !== undefined))]
}

function sizeTold(job: CheckedJob, place: Place): string | undefined {
  const gauge = job.at(place).get('gauge')
  return gauge && printFact('gauge', gauge.value, job.system)
}

/** The size of the feeds at a place, where all are of one. */
function sizeOfFeeds(worked: Worked, place: Place): string | undefined {
  const answers = answersTo(worked, alongTheTape.id).filter(({ places }) => places.includes(place))
  const gauges = answers.flatMap(feedCables).map(({ gauge }) => gauge && printConductorSize(gauge))
  return new Set(gauges).size === 1 ? gauges[0] : undefined
}

const sizeWorkedOut = (worked: Worked, place: Place): string | undefined => {
  const answers = answersTo(worked, feedGauge.id)
  const here =
    answers.find(({ places }) => places.includes(place)) ??
    answers.find(({ places }) => places.includes(null))
  return here && figureText(here, 'gauge')
}
