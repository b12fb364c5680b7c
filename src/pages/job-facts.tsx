import { newId } from '../jobs/log/identifier'
import type { Fact, FactValue } from '../jobs/log/job'
import type { Known, OpenJob } from '../jobs/log/job-view'
import { type FactKind, factKind, factKinds, factLabel, printFact } from '../jobs/memory/fact-book'
import { partsOf } from '../jobs/memory/facts'
import type { Field } from '../questions/common/fields'
import { flattenInputs } from '../questions/common/question'
import type { FieldWords } from '../questions/common/words'
import { addressOf } from './address'
import { Carried } from './composer'
import { JobFrame, PartChoice } from './job-frame'
import { stateText } from './job-list'
import { Contested } from './job-thread'
import { jobSay, moment } from './job-words'

/** A fact that was told and could not be read: what was typed, and why not. */
export type FaultyFact = { field: string; where: string | null; typed: string; message: string }

type JobFactsProps = { open: OpenJob; faulty?: FaultyFact | undefined }

/** A fact that more questions than this use belongs to none of them. */
const questionsOfOne = 10

const isTypedInABox = ({ kind, item }: Field): boolean => kind !== 'rows' && item?.kind !== 'rows'

/** What is known of a job, part by part, with how it came to be known; each may be changed or taken back. */
export const JobFacts = ({ open, faulty }: JobFactsProps) => {
  const { job, known } = open
  const standing = known.filter(({ current }) => current !== null)
  const units = standing.find(({ field }) => field === 'units')?.current?.value === 'metric' ? 'metric' : 'us'
  return (
    <JobFrame job={job} tab="facts">
      <Contested open={open} />
      {standing.length === 0 ? <p>{jobSay('nothingKnown')}</p> : null}
      {[null, ...partsOf(known)].map((part) => {
        const here = standing.filter(({ where }) => where === part)
        return here.length === 0 ? null : (
          <section>
            <h2>{jobSay('known', { where: part ?? jobSay('wholeJob') })}</h2>
            <ul class="known">
              {here.map((each) => (
                <KnownFact open={open} known={each} units={units} faulty={faulty} />
              ))}
            </ul>
          </section>
        )
      })}
      <Tell open={open} faulty={faulty} />
      <Describe open={open} />
    </JobFrame>
  )
}

type KnownFactProps = JobFactsProps & { known: Known; units: 'us' | 'metric' }

const KnownFact = ({ open, known, units, faulty }: KnownFactProps) => {
  const { field, where, current, history } = known
  if (!current) return null
  const own = faulty?.field === field && faulty.where === where ? faulty : undefined
  const id = `fact-${history[0]?.id}`
  const before = history.filter((fact) => fact.id !== current.id)
  return (
    <li id={id}>
      <div class="told">
        <span>{factLabel(field)}</span>
        <strong>{printFact(field, current.value, units)}</strong>
      </div>
      <span class="why">{toldBy(open, current)}</span>
      <details open={own !== undefined}>
        <summary>{jobSay('change')}</summary>
        {isTypable(current.value) ? (
          <ChangeFact open={open} known={known} faulty={own} />
        ) : (
          <p>
            <a class="plain" href={formOf(open, known)}>
              {jobSay('asRows')}
            </a>
          </p>
        )}
        <form method="post" action={`/jobs/${open.job.id}/forget`}>
          <Carried carried={{ field, ...(where === null ? {} : { where }) }} />
          <button class="quiet" type="submit">
            {jobSay('forget')}
          </button>
        </form>
        {before.length === 0 ? null : (
          <>
            <p>{jobSay('history')}:</p>
            <ul>
              {before.map((fact) => (
                <li>
                  {printFact(field, fact.value, units)}{' '}
                  <span class="why">
                    {toldBy(open, fact)}
                    {fact.withdrawnAt ? `, ${jobSay('withdrawn', { when: moment(fact.withdrawnAt) })}` : ''}
                  </span>
                </li>
              ))}
            </ul>
          </>
        )}
      </details>
    </li>
  )
}

/** How a fact came to be known. */
function toldBy({ thread }: OpenJob, { provenance, at }: Fact): string {
  const when = moment(at)
  if (provenance.from === 'import') return jobSay('fromImport', { when })
  const entry = thread.find(({ id }) => id === provenance.entryId)
  if (!entry) return jobSay('fromPerson', { when })
  return entry.said === '' ? jobSay('fromForm', { when }) : jobSay('fromAnswer', { said: entry.said, when })
}

/** A value that fits into a box: one, or several of which each takes a line. */
const isTypable = (value: FactValue): boolean =>
  typeof value === 'string' || (Array.isArray(value) && value.every((item) => typeof item === 'string'))

const linesOf = (value: FactValue): string =>
  typeof value === 'string' ? value : (value as readonly string[]).join('\n')

/** The form of the first question that uses a fact of rows, with the rows in it. */
function formOf({ job }: OpenJob, { field, where, current }: Known): string {
  const way = factKind(field)?.ways[0]
  if (!way?.question || !current) return `/jobs/${job.id}`
  const rows = flattenInputs({ [way.input]: current.value })
  const about = { job: job.id, ...(where === null ? {} : { where }) }
  return addressOf(way.question.id, { ...about, ...rows, open: way.input }, `#${way.input}`)
}

const ChangeFact = ({
  open,
  known: { field, where, current },
  faulty,
}: {
  open: OpenJob
  known: Known
  faulty: FaultyFact | undefined
}) => {
  const words = factKind(field)?.words
  const name = `value-${field}-${where ?? ''}`
  return (
    <form method="post" action={`/jobs/${open.job.id}/facts`}>
      <Carried carried={{ id: newId(), field, ...(where === null ? {} : { where }) }} />
      <ValueBox
        id={name.replaceAll(/\s/g, '-')}
        label={factLabel(field)}
        words={words}
        value={faulty?.typed ?? (current ? linesOf(current.value) : '')}
        fault={faulty?.message}
      />
      <button type="submit">{jobSay('change')}</button>
    </form>
  )
}

type ValueBoxProps = {
  id: string
  label: string
  words: FieldWords | undefined
  value: string
  fault: string | undefined
}

const ValueBox = ({ id, label, words, value, fault }: ValueBoxProps) => {
  const choices = Object.entries(words?.choices ?? {})
  const aria = {
    'aria-describedby': fault ? `${id}-fault` : undefined,
    'aria-invalid': fault ? ('true' as const) : undefined,
  }
  return (
    <p class="field">
      <label for={id}>{label}</label>
      {choices.length > 0 ? (
        <select id={id} name="value" {...aria}>
          {choices.map(([choice, text]) => (
            <option value={choice} selected={choice === value}>
              {text}
            </option>
          ))}
        </select>
      ) : (
        <textarea id={id} name="value" rows={Math.max(1, value.split('\n').length)} {...aria}>
          {value}
        </textarea>
      )}
      {fault ? (
        <span class="fault" id={`${id}-fault`} role="alert">
          <span aria-hidden="true">✕ </span>
          {fault}
        </span>
      ) : null}
    </p>
  )
}

/** What may be told in a box, under the question that first uses it. */
const tellableGroups: [string, FactKind[]][] = (() => {
  const groups = new Map<string, FactKind[]>()
  for (const kind of factKinds) {
    if (kind.ways.every(({ field }) => !isTypedInABox(field))) continue
    const group =
      kind.ways.length > questionsOfOne
        ? jobSay('everywhere')
        : (kind.ways[0]?.question?.words.title ?? jobSay('forTheSheet'))
    groups.set(group, [...(groups.get(group) ?? []), kind])
  }
  return [...groups]
})()

/** Tells the job something that nobody has asked about yet. */
const Tell = ({ open: { job, known }, faulty }: JobFactsProps) => {
  const isNew = faulty && !known.some(({ field, where }) => field === faulty.field && where === faulty.where)
  return (
    <section>
      <h2>{jobSay('tell')}</h2>
      <form method="post" action={`/jobs/${job.id}/facts`}>
        <Carried carried={{ id: newId() }} />
        <p class="field">
          <label for="field">{jobSay('tellWhat')}</label>
          <select id="field" name="field">
            {tellableGroups.map(([group, kinds]) => (
              <optgroup label={group}>
                {kinds.map(({ field, words }) => (
                  <option value={field} selected={isNew && field === faulty.field}>
                    {words.label}
                  </option>
                ))}
              </optgroup>
            ))}
          </select>
        </p>
        <p class="field">
          <label for="value">{jobSay('tellValue')}</label>
          <span class="hint" id="value-hint">
            {jobSay('tellValueHint')}
          </span>
          <textarea
            id="value"
            name="value"
            rows={1}
            aria-describedby={isNew ? 'value-hint value-fault' : 'value-hint'}
            aria-invalid={isNew ? 'true' : undefined}
          >
            {isNew ? faulty.typed : ''}
          </textarea>
          {isNew ? (
            <span class="fault" id="value-fault" role="alert">
              <span aria-hidden="true">✕ </span>
              {faulty.message}
            </span>
          ) : null}
        </p>
        <PartChoice parts={partsOf(known)} where={isNew ? faulty.where : null} />
        <button type="submit">{jobSay('tellDo')}</button>
      </form>
    </section>
  )
}

/** The job's name, place, notes and state; each may change, and the log keeps what it was. */
const Describe = ({ open: { job } }: JobFactsProps) => (
  <section>
    <h2>{jobSay('describe')}</h2>
    <form method="post" action={`/jobs/${job.id}/changes`}>
      <Carried carried={{ id: newId() }} />
      <p class="field">
        <label for="name">{jobSay('name')}</label>
        <input id="name" name="name" type="text" maxlength={200} value={job.name} />
      </p>
      <p class="field">
        <label for="place">{jobSay('place')}</label>
        <input id="place" name="place" type="text" maxlength={1000} value={job.place} />
      </p>
      <p class="field">
        <label for="notes">{jobSay('notes')}</label>
        <textarea id="notes" name="notes" rows={3}>
          {job.notes}
        </textarea>
      </p>
      <p class="field">
        <label for="state">{jobSay('state')}</label>
        <select id="state" name="state">
          {(['open', 'done', 'archived'] as const).map((state) => (
            <option value={state} selected={state === job.state}>
              {stateText(state)}
            </option>
          ))}
        </select>
      </p>
      <button type="submit">{jobSay('save')}</button>
    </form>
    <p>
      <a class="plain" href={`/jobs/${job.id}/export`}>
        {jobSay('takeOut')}
      </a>
    </p>
  </section>
)
