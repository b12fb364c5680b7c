import { newId } from '../jobs/log/identifier'
import type { Entry } from '../jobs/log/job'
import type { OpenJob } from '../jobs/log/job-view'
import { factLabel, printFact } from '../jobs/memory/fact-book'
import { partsOf } from '../jobs/memory/facts'
import type { Question } from '../questions/common/question'
import { Carried, Composer } from './composer'
import { JobFrame, PartChoice } from './job-frame'
import { jobSay, moment } from './job-words'
import { type Turn, TurnView } from './turn'

/** Something given otherwise than the job knows it, and still to be settled. */
export type OpenContradiction = {
  entry: string
  field: string
  known: string
  knownAt: string | null
  said: string
}

/** One entry of the thread, read for the page. */
export type ThreadTurn = {
  entry: Entry
  turn: Turn
  where: string | null
  contradictions: readonly OpenContradiction[]
}

type JobThreadProps = {
  open: OpenJob
  questions: readonly Question[]
  turns: readonly ThreadTurn[]
  /** The part that the line is about unless another is chosen. */
  where: string | null
  typed?: string | undefined
  fault?: string | undefined
}

/** What was asked in a job, newest at the bottom, what is to be settled, and the line to type into. */
export const JobThread = ({ open, questions, turns, where, typed, fault }: JobThreadProps) => {
  const { job, known } = open
  const newest = turns.length - 1
  const action = `/jobs/${job.id}/ask#newest`
  return (
    <JobFrame job={job} tab="thread">
      <Contested open={open} />
      <ol class="thread with-part">
        {turns.map(({ entry, turn, where: at, contradictions }, index) => (
          <li id={index === newest ? 'newest' : undefined} tabindex={index === newest ? -1 : undefined}>
            <p class="about">
              {at ?? jobSay('wholeJob')}
              {turn.said ? '' : ` · ${jobSay('formFilled')}`}
            </p>
            {contradictions.map((each) => (
              <Contradiction job={job.id} contradiction={each} where={at} />
            ))}
            <TurnView
              turn={turn}
              questions={questions}
              posting={{ action, carried: { id: newId(), ...(at === null ? {} : { where: at }) } }}
              newest={index === newest}
            />
            <p class="why">
              {jobSay('asked', { when: moment(entry.at), version: entry.version.calculators })}
            </p>
          </li>
        ))}
      </ol>
      <Composer action={action} carried={{ id: newId() }} typed={typed} fault={fault}>
        <details class="about-what">
          <summary>
            {jobSay('about')}: {where ?? jobSay('wholeJob')}
          </summary>
          <PartChoice parts={partsOf(known)} where={where} />
        </details>
      </Composer>
    </JobFrame>
  )
}

const Contradiction = ({
  job,
  contradiction: { entry, field, known, knownAt, said },
  where,
}: {
  job: string
  contradiction: OpenContradiction
  where: string | null
}) => (
  <form method="post" action={`/jobs/${job}/settle#newest`} class="settle">
    <p class="reply">
      {jobSay('contradiction', {
        label: factLabel(field),
        known,
        where: knownAt === null ? '' : jobSay('contradictionAt', { where: knownAt }),
        said,
      })}
    </p>
    <Carried carried={{ entry, field }} />
    <div class="quick">
      <button class="quiet" type="submit" name="which" value="new">
        {jobSay('holdsNew', { said })}
      </button>
      {where !== null && knownAt === null ? (
        <button class="quiet" type="submit" name="which" value="here">
          {jobSay('holdsHere', { said, where })}
        </button>
      ) : null}
      <button class="quiet" type="submit" name="which" value="known">
        {jobSay('holdsKnown', { known })}
      </button>
    </div>
  </form>
)

/** Facts of which two stand, since two devices told them apart from each other: one has to be chosen. */
export const Contested = ({ open: { job, known } }: { open: OpenJob }) => (
  <>
    {known
      .filter(({ contested }) => contested.length > 0)
      .map(({ field, where, current, contested }) => {
        const standing = [...(current ? [current] : []), ...contested]
        const texts = [...new Set(standing.map(({ value }) => printFact(field, value)))]
        return (
          <form method="post" action={`/jobs/${job.id}/facts`} class="settle">
            <p class="reply">
              {jobSay('contested', {
                label: `${factLabel(field)}${where === null ? '' : jobSay('contradictionAt', { where })}`,
                values: texts.join(' · '),
              })}
            </p>
            <Carried carried={{ id: newId(), field, ...(where === null ? {} : { where }) }} />
            <div class="quick">
              {standing.map(({ value }, at) =>
                texts.indexOf(printFact(field, value)) === at ? (
                  <button class="quiet" type="submit" name="chosen" value={JSON.stringify(value)}>
                    {jobSay('contestedHolds', { value: printFact(field, value) })}
                  </button>
                ) : null,
              )}
            </div>
          </form>
        )
      })}
  </>
)

/** Where a job's form stands, with what the job fills in. */
export const InJob = ({
  job,
  where,
  filled,
}: {
  job: { id: string; name: string }
  where: string | null
  filled: readonly string[]
}) => (
  <div class="in-job">
    <p>
      <a class="plain" href={`/jobs/${job.id}`}>
        {jobSay('inJob', { name: job.name, where: where ?? jobSay('wholeJob') })}
      </a>
    </p>
    {filled.length === 0 ? null : <p class="why">{jobSay('filled', { facts: filled.join(', ') })}</p>}
  </div>
)

/** Puts a form's answer into the job. */
export const KeepInJob = ({
  job,
  where,
  question,
  typed,
}: {
  job: string
  where: string | null
  question: string
  typed: Readonly<Record<string, string>>
}) => (
  <form method="post" action={`/jobs/${job}/entries#newest`} class="keep">
    <Carried
      carried={{
        id: newId(),
        question,
        inputs: JSON.stringify(typed),
        ...(where === null ? {} : { where }),
      }}
    />
    <button type="submit">{jobSay('keep')}</button>
  </form>
)
