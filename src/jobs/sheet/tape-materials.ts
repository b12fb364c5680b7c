import { cutPlan } from '../../questions/cut-plan'
import type { CheckedJob, Place } from '../check/checked-job'
import { partRuns, wholeRun } from '../check/runs'
import { printFact } from '../memory/fact-book'
import { numberOf, type SheetAnswer } from './answers'
import { say } from './sheet-words'
import { answersTo, belongsTo, merged, type Take, type Worked } from './take'

/** Reels of tape, as cut. */
export const tapeByPlan = (worked: Worked): Take[] =>
  answersTo(worked, cutPlan.id).flatMap((answer) => {
    const quantity = numberOf(answer, 'reels')
    const where = belongsTo(answer, worked.job, ['openings'])
    const length = answer.answer.inputs.reelLength?.text ?? ''
    const extent = openedM(answer)
    const tape = tapeText(worked.job, where.place)
    const what = named(say('material.tapeOnReels', { tape, length }), worked.job, where.place, 'tapeName')
    return quantity === undefined ? [] : [{ what, quantity, unit: 'reel', ...where, extent, answer }]
  })

/** Lengths of channel, as cut. */
export const channelByPlan = (worked: Worked): Take[] =>
  answersTo(worked, cutPlan.id).flatMap((answer) => {
    const quantity = numberOf(answer, 'channels')
    const where = belongsTo(answer, worked.job, ['openings'])
    const length = answer.answer.inputs.channelLength?.text ?? ''
    const extent = openedM(answer)
    const what = named(say('material.channelOf', { length }), worked.job, where.place, 'channelName')
    return quantity === undefined ? [] : [{ what, quantity, unit: 'length', ...where, extent, answer }]
  })

/** All openings of a plan together, m: the more of them, the more of the job it covers. */
const openedM = ({ answer }: SheetAnswer): number => {
  const openings = answer.inputs.openings?.value
  return Array.isArray(openings) ? openings.reduce<number>((sum, each) => sum + Number(each), 0) : 0
}

/** The plans by which tape and channel are cut; one that says again what others say is not among them. */
export const countedPlans = (worked: Worked): SheetAnswer[] => {
  const takes = [...tapeByPlan(worked), ...channelByPlan(worked)]
  return [...new Set(merged(takes, worked.job.system).flatMap(({ answers }) => answers))].sort(
    (one, other) => one.number - other.number,
  )
}

/** Tape by its length, where nobody planned the cuts. What was told of the whole job is all of it. */
export const tapeByLength = ({ job }: Worked): Take[] =>
  [wholeRun(job), ...partRuns(job)]
    .flatMap((run) => run ?? [])
    .flatMap(({ place, lengthsM }) => {
      if (!lengthsM || lengthsM.length === 0) return []
      const quantity = lengthsM.reduce((sum, lengthM) => sum + lengthM, 0)
      const what = named(say('material.tapeOf', { tape: tapeText(job, place) }), job, place, 'tapeName')
      const note = say('note.noReels', { question: cutPlan.words.title })
      return [{ what, quantity, unit: 'm', place, own: place !== null, note }]
    })

/** Volts, watts and colour of the tape at a place, as far as they are known. */
function tapeText(job: CheckedJob, place: Place): string {
  const facts = job.at(place)
  const told = ['voltage', 'tapePower', 'tapeColour'].flatMap((field) => {
    const fact = facts.get(field)
    return fact ? [printFact(field, fact.value, job.system)] : []
  })
  return told.join(', ')
}

/** A material with the name that somebody gave it. */
export function named(what: string, job: CheckedJob, place: Place, field: string): string {
  const name = job.at(place).get(field)
  return name ? say('material.named', { what, name: printFact(field, name.value, job.system) }) : what
}
