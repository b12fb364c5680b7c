import type { BoardChanges } from '../jobs/check/changes'
import { stages } from '../jobs/check/order'
import type { Board, BoardRow, RowState } from '../jobs/check/row'
import type { Job } from '../jobs/log/job-view'
import { sharedWords } from '../questions/common/shared-words'
import { addressOf } from './address'
import { FigureRows } from './answer'
import { JobFrame } from './job-frame'
import { jobSay } from './job-words'
import { StateMark } from './state-mark'

/** A fact that was just told, and what that did to the board. */
export type JustTold = { label: string; value: string; changes: BoardChanges }

type JobBoardProps = { job: Job; board: Board; told?: JustTold | undefined }

/** From what stops the work to what is fine. */
const order: readonly RowState[] = ['fails', 'tight', 'not-asked', 'info', 'holds']

/** All that is checked of a job, in the order of the work: what holds, is tight, fails, was not asked yet. */
export const JobBoard = ({ job, board, told }: JobBoardProps) => (
  <JobFrame job={job} tab="board">
    {told ? <Told told={told} job={job} /> : null}
    <ul class="counts">
      {order.map((state) =>
        board.counts[state] === 0 ? null : (
          <li>
            <StateMark
              state={state}
              text={jobSay(`count.${state}`, { count: String(board.counts[state]) })}
            />
          </li>
        ),
      )}
    </ul>
    {board.rows.every(({ state }) => state === 'not-asked') ? <p>{jobSay('boardEmpty')}</p> : null}
    {stages.map((stage) => {
      const rows = board.rows.filter((row) => row.stage === stage && row.state !== 'not-asked')
      return rows.length === 0 ? null : (
        <section>
          <h2>{sharedWords.stages[stage]}</h2>
          <ul class="board">
            {rows.map((row) => (
              <Row row={row} job={job} />
            ))}
          </ul>
        </section>
      )
    })}
    {board.counts['not-asked'] === 0 ? null : (
      <details class="not-asked" open={board.rows.length === board.counts['not-asked']}>
        <summary>{jobSay('count.not-asked', { count: String(board.counts['not-asked']) })}</summary>
        <ul class="board">
          {board.rows
            .filter(({ state }) => state === 'not-asked')
            .map((row) => (
              <Row row={row} job={job} />
            ))}
        </ul>
      </details>
    )}
  </JobFrame>
)

type RowProps = { row: BoardRow; job: Job; how?: string }

/** One row; `how` it came to stand where it does. */
const Row = ({ row, job, how }: RowProps) => (
  <li class={row.state}>
    <StateMark state={row.state} text={`${jobSay(`state.${row.state}`)}${how ? ` (${how})` : ''}`} />
    <p>
      {row.question === undefined ? (
        <strong>{titleOf(row)}</strong>
      ) : (
        <a class="plain" href={linkOf(row, job)}>
          {titleOf(row)}
        </a>
      )}
    </p>
    <p>{row.sentence}</p>
    {row.figures?.length ? (
      <dl class="figures">
        <FigureRows figures={row.figures} />
      </dl>
    ) : null}
  </li>
)

const titleOf = ({ title, where }: BoardRow): string => (where === null ? title : `${where}: ${title}`)

/** The question in the job: what the job knows fills itself in, what was gathered for it goes along. */
function linkOf({ question = '', where, inputs, answer, state }: BoardRow, { id }: Job): string {
  const gathered = state === 'not-asked' || !answer ? inputs : gatheredOf(inputs, answer.inputs)
  return addressOf(question, { job: id, ...(where === null ? {} : { where }), ...gathered })
}

/** The inputs that are no fact of the job as they stand. */
const gatheredOf = (
  inputs: Readonly<Record<string, string>>,
  answered: NonNullable<BoardRow['answer']>['inputs'],
): Record<string, string> =>
  Object.fromEntries(
    Object.entries(inputs).filter(([key]) => answered[key.split('.')[0] ?? '']?.from !== 'job'),
  )

const Told = ({ told: { label, value, changes }, job }: { told: JustTold; job: Job }) => {
  const { worse, better, otherwise, fresh, gone } = changes
  const quiet = [worse, better, otherwise, fresh, gone].every((list) => list.length === 0)
  return (
    <section class="just-told" aria-labelledby="just-told">
      <h2 id="just-told">{jobSay('whatChanged')}</h2>
      <p>{jobSay('nowKnown', { label, value })}</p>
      {quiet ? <p>{jobSay('nothingChanged')}</p> : null}
      <ul class="board">
        {worse.map(({ before, after }) => (
          <Row row={after} job={job} how={jobSay('got.worse', { before: jobSay(`state.${before.state}`) })} />
        ))}
        {better.map(({ before, after }) => (
          <Row
            row={after}
            job={job}
            how={jobSay('got.better', { before: jobSay(`state.${before.state}`) })}
          />
        ))}
        {fresh.map((row) => (
          <Row row={row} job={job} how={jobSay('got.new')} />
        ))}
        {gone.map((row) => (
          <Row row={row} job={job} how={jobSay('got.gone')} />
        ))}
      </ul>
      {otherwise.length === 0 ? null : (
        <p class="why">{jobSay('got.otherwise', { count: String(otherwise.length) })}</p>
      )}
    </section>
  )
}
