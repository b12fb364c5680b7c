import type { AnswerTable } from '../../questions/common/answer'
import { inWords } from '../../questions/common/shared-words'
import { cutPlan } from '../../questions/cut-plan'
import { pullPlan } from '../../questions/pull-plan'
import { type CheckedJob, seen } from '../check/checked-job'
import type { Board } from '../check/row'
import type { OpenJob } from '../log/job-view'
import { factLabel, printFact } from '../memory/fact-book'
import { answersOf } from './answers'
import { fittedOf, othersOf } from './fitted'
import { materialsOf } from './materials'
import { placesText } from './places'
import { howToRead, readingsOf } from './readings'
import type { CuttingList, Entry, JobSheet, SheetDrawing, SheetVerdict } from './sheet'
import { placeName, say, sheetWords } from './sheet-words'
import { summed } from './sums'
import { answersTo, type Worked } from './take'
import { countedPlans } from './tape-materials'

/**
 * A job as one record that can be printed: what was fitted and where, how, with what, how to prove it, and the sums
 * behind it. Pure: the same job, board and moment give the same sheet.
 *
 * @param board what the job check says of this very job
 * @param made when the sheet is made (ISO date and time, UTC), and what version of the program makes it
 */
export function jobSheet(opened: OpenJob, board: Board, made: JobSheet['made']): JobSheet {
  const job = seen(opened.known)
  const answers = answersOf(board)
  const worked = { job, answers }
  const { sums, ...said } = summed(answers)
  return {
    format: 'ladderside-job-sheet',
    formatVersion: 1,
    jobId: opened.job.id,
    name: opened.job.name,
    place: opened.job.place,
    made,
    units: job.system,
    paper: job.system === 'metric' ? 'a4' : 'letter',
    block: blockOf(opened, job, made),
    notes: opened.job.notes,
    notReady: notReady(opened, job, board),
    fitted: fittedOf(job, opened.known),
    drawings: drawingsOf(worked),
    materials: materialsOf(worked),
    cutting: cuttingOf(worked),
    readings: readingsOf(worked),
    howToRead: howToRead(job),
    verdicts: board.rows.map(verdictOf),
    sums: sums.map((sum, at) => ({ ...sum, where: placesText(answers[at]?.places ?? [null], job) })),
    ...said,
  }
}

/** The title block. What is to be written by hand has an empty text. */
function blockOf(
  { job: { id, name, place, state } }: OpenJob,
  job: CheckedJob,
  made: JobSheet['made'],
): Entry[] {
  const { block, states } = sheetWords
  return [
    { label: block.job, text: name },
    { label: block.place, text: place },
    { label: block.circuit, text: toldAnywhere('circuit', job) },
    { label: block.madeBy, text: toldAnywhere('madeBy', job) },
    { label: block.date, text: toldAnywhere('madeOn', job) || made.at.slice(0, 10) },
    { label: block.state, text: states[state] },
    { label: block.version, text: say('madeWith', { version: made.version }) },
    { label: block.number, text: id },
  ]
}

/** What the whole job says, and with its name each part that says otherwise. */
function toldAnywhere(field: string, job: CheckedJob): string {
  const told = job.places.flatMap((place) => {
    const fact = job.own(place).get(field)
    return fact ? [{ place, text: printFact(field, fact.value, job.system) }] : []
  })
  const texts = new Set(told.map(({ text }) => text))
  if (texts.size < 2) return [...texts].join('')
  return told
    .map(({ place, text }) => (place === null ? text : say('places', { where: place, text })))
    .join('; ')
}

/** Every check that fails, and everything of which two things are said. */
function notReady({ known }: OpenJob, job: CheckedJob, { rows }: Board): string[] {
  const failing = rows
    .filter(({ state }) => state === 'fails')
    .map(({ title, where }) => say('reason.fails', { title, where: placeName(where) }))
  const contested = known
    .filter((each) => othersOf(each, job.system).length > 0)
    .map(({ field, where }) => say('reason.contested', { field: factLabel(field), where: placeName(where) }))
  return [...failing, ...contested]
}

const drawn = Object.keys(sheetWords.drawings) as (keyof typeof sheetWords.drawings)[]

/** The drawings of what is there, the plan of the tape first. How far a tape could run is not what was fitted. */
function drawingsOf(worked: Worked): SheetDrawing[] {
  const { job, answers } = worked
  const plans = countedPlans(worked)
  const shown = answers.filter((answer) => answer.question !== cutPlan.id || plans.includes(answer))
  const found = drawn.flatMap((kind) =>
    shown.flatMap(({ question, number, places, answer: { picture, headline } }) =>
      picture && question === kind ? [{ kind, sum: number, places, picture, headline }] : [],
    ),
  )
  return found.map(({ kind, sum, places, picture, headline }, at) => ({
    caption: say('caption', {
      number: String(at + 1),
      what: sheetWords.drawings[kind],
      where: placesText(places, job),
    }),
    sum,
    says: headline,
    picture,
  }))
}

/** The tables by which tape, channel and cable are cut. */
const cuttingOf = (worked: Worked): CuttingList[] =>
  [...countedPlans(worked), ...answersTo(worked, pullPlan.id)].flatMap(
    ({ question, number, places, answer: { table } }) =>
      table ? [cuttingList(question, number, placesText(places, worked.job), table)] : [],
  )

function cuttingList(
  question: string,
  sum: number,
  where: string,
  { columns, rows }: AnswerTable,
): CuttingList {
  const what = say(question === cutPlan.id ? 'cutting.tape' : 'cutting.cable', {})
  return {
    title: say('titled', { what, where }),
    sum,
    columns,
    rows: rows.map((row) => row.map(String)),
  }
}

const verdictOf = ({ state, title, where, sentence }: Board['rows'][number]): SheetVerdict => ({
  state,
  stateText: sheetWords.rowStates[state],
  title,
  where: placeName(where),
  says: sentence,
})

/** Why a sheet may not be handed over, as one sentence; none where nothing speaks against it. */
export const notReadyText = ({ notReady }: JobSheet): string =>
  notReady.length === 0 ? '' : say('notReady', { reasons: notReady.join('; ') })

/** "1, 3 and 4", for the sums that something rests on. */
export const sumsText = (sums: readonly number[]): string =>
  sums.length === 0 ? '' : say(sums.length === 1 ? 'sum' : 'sums', { numbers: inWords(sums.map(String)) })
