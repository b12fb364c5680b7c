import { boxFill } from '../../questions/box-fill'
import { printValue } from '../../questions/common/printing'
import { dimmerFit } from '../../questions/dimmer-fit'
import { driverSize } from '../../questions/driver-size'
import { framingHole } from '../../questions/framing-hole'
import { holeFit } from '../../questions/hole-fit'
import type { Place } from '../check/checked-job'
import { driversOf } from '../check/runs'
import { printFact } from '../memory/fact-book'
import { figureText, numberOf, type SheetAnswer } from './answers'
import { say } from './sheet-words'
import { answersTo, belongsTo, type Take, type Worked } from './take'
import { named } from './tape-materials'

const answerAt = (worked: Worked, question: string, place: Place): SheetAnswer | undefined =>
  answersTo(worked, question).find(({ places }) => places.includes(place))

/** The check divides the job's tape among its drivers: what is at one place is at no other. */
const at = (place: Place): Pick<Take, 'place' | 'own'> => ({ place, own: true })

/** Drivers of the ratings that somebody told. */
export const driversTold = (worked: Worked): Take[] =>
  driversOf(worked.job).flatMap(({ place, ratingsW }) =>
    ratingsW.map((rating) => driverTake(worked, at(place), rating, answerAt(worked, driverSize.id, place))),
  )

/** Drivers as they hang on a dimmer, where their ratings were told with it alone. */
export const driversOnDimmer = (worked: Worked): Take[] =>
  answersTo(worked, dimmerFit.id).flatMap((answer) => {
    const { drivers } = answer.answer.inputs
    const where = belongsTo(answer, worked.job, ['drivers'])
    const isTold = worked.job.at(where.place).has('drivers')
    return isTold ? ratingsOf(drivers?.value).map((rating) => driverTake(worked, where, rating, answer)) : []
  })

const ratingsOf = (value: unknown): number[] =>
  Array.isArray(value) ? value.filter((each) => typeof each === 'number') : []

/** Drivers of the size that was worked out. */
export const driversWorkedOut = (worked: Worked): Take[] =>
  driversOf(worked.job).flatMap(({ place }) => {
    const answer = answerAt(worked, driverSize.id, place)
    const rating = answer && numberOf(answer, 'rating')
    if (!answer || rating === undefined) return []
    const outputs = numberOf(answer, 'classTwoOutputs') ?? 1
    if (outputs < 2) return [driverTake(worked, at(place), rating, answer)]
    const power = answer.answer.inputs.classTwoNameplate?.text ?? ''
    const what = named(say('material.outputs', { power }), worked.job, place, 'driverName')
    return [{ what, quantity: outputs, unit: 'output', ...at(place), answer, note: say('note.outputs', {}) }]
  })

function driverTake(
  { job }: Worked,
  where: Pick<Take, 'place' | 'own' | 'gathered'>,
  ratingW: number,
  answer: SheetAnswer | undefined,
): Take {
  const { place } = where
  const voltage = job.at(place).get('voltage')
  const power = [
    ...(voltage ? [printFact('voltage', voltage.value, job.system)] : []),
    printValue(ratingW, 'W', job.system),
  ].join(', ')
  const what = named(say('material.driverOf', { power }), job, place, 'driverName')
  return { what, quantity: 1, unit: 'piece', ...where, ...(answer ? { answer } : {}) }
}

/** A dimmer wherever one was described. */
export const dimmers = (worked: Worked): Take[] =>
  told(worked, ['dimmerKind', 'dimmerRating', 'dimmerName'], dimmerFit.id, (text, place) => {
    const kind = text('dimmerKind')
    const isSwitch = worked.job.at(place).get('dimmerKind')?.value === 'switch'
    const plain = kind ? say('material.dimmerOf', { kind }) : say('material.dimmer', {})
    const rating = text('dimmerRating')
    return {
      what: named(isSwitch ? say('material.switch', {}) : plain, worked.job, place, 'dimmerName'),
      ...(rating ? { note: say('note.dimmable', { rating }) } : {}),
    }
  })

/** A box wherever one was described. */
export const boxes = (worked: Worked): Take[] =>
  told(worked, ['box'], boxFill.id, (text) => ({ what: say('material.boxOf', { box: text('box') ?? '' }) }))

/** One piece for each place that tells any of these facts of itself. */
function told(
  worked: Worked,
  fields: readonly string[],
  question: string,
  described: (text: (field: string) => string | undefined, place: Place) => Pick<Take, 'what' | 'note'>,
): Take[] {
  const { job } = worked
  return job.places
    .filter((place) => fields.some((field) => job.own(place).has(field)))
    .map((place) => {
      const text = (field: string) => {
        const fact = job.at(place).get(field)
        return fact && printFact(field, fact.value, job.system)
      }
      const answer = answerAt(worked, question, place)
      // Each place has a thing of its own: the whole job's is not the part's.
      return {
        quantity: 1,
        unit: 'piece',
        place,
        own: true,
        ...(answer ? { answer } : {}),
        ...described(text, place),
      }
    })
}

/** Plates over the holes and notches that need them. */
export const plates = (worked: Worked): Take[] =>
  answersTo(worked, framingHole.id).flatMap((answer) => {
    const quantity = numberOf(answer, 'platesNeeded')
    if (quantity === undefined) return []
    const where = belongsTo(answer, worked.job, ['holeDiameter', 'notchDepth', 'edgeDistance', 'memberUse'])
    const note = quantity > 0 ? { note: say('note.eachHole', {}) } : {}
    return [{ what: say('material.plate', {}), quantity, unit: 'piece', ...where, answer, ...note }]
  })

/** One bit of each size, however many holes it bores. */
export const bits = (worked: Worked): Take[] => {
  const sizes = new Map<string, Take>()
  for (const answer of answersTo(worked, holeFit.id)) {
    const size = figureText(answer, 'bit')
    if (size === undefined || sizes.has(size)) continue
    const what = say('material.bitOf', { size })
    const where = belongsTo(answer, worked.job, ['bundle'])
    sizes.set(size, { what, quantity: 1, unit: 'piece', ...where, answer })
  }
  return [...sizes.values()]
}
