import type { Child } from 'hono/jsx'
import type { Job } from '../jobs/log/job-view'
import { jobSay } from './job-words'
import { Layout } from './layout'

/** The pages of one job, in the order of its tabs. */
const tabs = ['thread', 'board', 'facts', 'sheet', 'share'] as const
export type JobTab = (typeof tabs)[number]

const paths: Record<JobTab, string> = {
  thread: '',
  board: '/check',
  facts: '/facts',
  sheet: '/sheet',
  share: '/share',
}

type JobFrameProps = { job: Pick<Job, 'id' | 'name' | 'place'>; tab: JobTab; children: Child }

/** What every page of a job stands in: its name, where it is, and the way to its other pages. */
export const JobFrame = ({ job, tab, children }: JobFrameProps) => (
  <Layout title={`${job.name} · ${jobSay(tab)}`}>
    <h1>{job.name}</h1>
    {job.place ? <p class="place">{job.place}</p> : null}
    <nav class="tabs" aria-label={job.name}>
      {tabs.map((each) => (
        <a href={`/jobs/${job.id}${paths[each]}`} aria-current={each === tab ? 'page' : undefined}>
          {jobSay(each)}
        </a>
      ))}
    </nav>
    {children}
  </Layout>
)

type PartChoiceProps = { parts: readonly string[]; where: string | null; name?: string }

/** What a line or a fact is about: the whole job, a part of it, or a part that is named here first. */
export const PartChoice = ({ parts, where, name = 'where' }: PartChoiceProps) => (
  <div class="about-part">
    <label for={name}>{jobSay('about')}</label>
    <select id={name} name={name}>
      <option value="">{jobSay('wholeJob')}</option>
      {parts.map((part) => (
        <option value={part} selected={part === where}>
          {part}
        </option>
      ))}
      {where !== null && !parts.includes(where) ? (
        <option value={where} selected>
          {where}
        </option>
      ) : null}
    </select>
    <label for={`${name}-new`}>{jobSay('newPart')}</label>
    <input
      id={`${name}-new`}
      name="newPart"
      type="text"
      maxlength={200}
      placeholder={jobSay('partExample')}
    />
  </div>
)
