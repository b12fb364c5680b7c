import { newId } from '../jobs/log/identifier'
import type { State } from '../jobs/log/job'
import type { JobPage } from '../jobs/log/job-log'
import { jobSay, moment } from './job-words'
import { Layout } from './layout'

const states: Record<State, string> = {
  open: jobSay('stateOpen'),
  done: jobSay('stateDone'),
  archived: jobSay('stateArchived'),
}

export const stateText = (state: State): string => states[state]

type JobListProps = { page: JobPage; typed?: { name: string; place: string }; fault?: string | undefined }

/** All jobs, what was touched last first; the way to begin one or to bring one in. */
export const JobList = ({ page, typed, fault }: JobListProps) => (
  <Layout title={jobSay('jobs')}>
    <h1>{jobSay('jobs')}</h1>
    {page.jobs.length === 0 ? <p>{jobSay('none')}</p> : null}
    <ul class="ask">
      {page.jobs.map(({ id, name, place, state, entries, touchedAt }) => (
        <li>
          <a href={`/jobs/${id}`}>
            <span>
              <strong>{name}</strong>
              {place ? <span class="why">{place}</span> : null}
              <span class="why">
                {states[state]} · {jobSay('entries', { count: String(entries) })} ·{' '}
                {jobSay('touched', { when: moment(touchedAt) })}
              </span>
            </span>
          </a>
        </li>
      ))}
    </ul>
    {page.next ? (
      <p>
        <a class="plain" href={`/jobs?after=${encodeURIComponent(page.next)}`}>
          {jobSay('older')}
        </a>
      </p>
    ) : null}
    <h2>{jobSay('begin')}</h2>
    <form method="post" action="/jobs">
      <input type="hidden" name="id" value={newId()} />
      <p class="field">
        <label for="name">{jobSay('name')}</label>
        <input
          id="name"
          name="name"
          type="text"
          maxlength={200}
          value={typed?.name}
          placeholder={jobSay('nameExample')}
          aria-describedby={fault ? 'name-fault' : undefined}
          aria-invalid={fault ? 'true' : undefined}
        />
        {fault ? (
          <span class="fault" id="name-fault" role="alert">
            {fault}
          </span>
        ) : null}
      </p>
      <p class="field">
        <label for="place">{jobSay('place')}</label>
        <input id="place" name="place" type="text" maxlength={1000} value={typed?.place} />
      </p>
      <button type="submit">{jobSay('begin')}</button>
    </form>
    <details>
      <summary>{jobSay('bringIn')}</summary>
      <form method="post" action="/jobs/import" enctype="multipart/form-data">
        <p class="field">
          <label for="file">{jobSay('file')}</label>
          <input id="file" name="file" type="file" accept="application/json,.json" />
        </p>
        <button type="submit" class="quiet">
          {jobSay('bringInDo')}
        </button>
      </form>
    </details>
  </Layout>
)
