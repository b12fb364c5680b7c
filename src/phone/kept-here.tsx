import type { PropsWithChildren } from 'hono/jsx'
import type { Clash } from '../jobs/log/idb-clashes'
import type { RefusedMark } from '../jobs/log/idb-database'
import type { UnsentJob } from '../jobs/log/idb-shop'
import { Layout } from '../pages/layout'
import { saidOf } from './said-of'
import { type PhoneState, sentenceOf } from './state'
import { phoneSay, phoneWords } from './words'

const { parts } = phoneWords

type KeptProps = PropsWithChildren<{ state: PhoneState; refused: readonly RefusedMark[] }>

/** What waits on this phone, and what the server would not take. */
export const KeptHere = ({ state, refused, children }: KeptProps) => (
  <Layout title={phoneWords.title}>
    <h1>{phoneWords.title}</h1>
    <p>{sentenceOf(state)}</p>
    {state.waiting + state.refused + state.clashing === 0 ? <p>{parts.nothing}</p> : null}
    {state.waiting > 0 ? (
      <form method="post" action="/phone/send">
        <h2>{parts.waiting}</h2>
        <p>{parts.waitingWhy}</p>
        <button type="submit">{parts.sendNow}</button>
      </form>
    ) : null}
    {refused.length > 0 ? (
      <form method="post" action="/phone/send-again">
        <h2>{parts.refused}</h2>
        <p>{parts.refusedWhy}</p>
        <ul>
          {refused.map(({ message, jobId }) => (
            <li>
              {message} <JobLink id={jobId} />
            </li>
          ))}
        </ul>
        <button type="submit">{parts.sendAgain}</button>
      </form>
    ) : null}
    {children}
  </Layout>
)

const JobLink = ({ id, part = '' }: { id: string; part?: string }) => (
  <a href={`/jobs/${id}${part}`} class="plain">
    {parts.job}
  </a>
)

/** Records that are not the same here and on the server: both of each, and where a person says which holds. */
export const Clashing = ({ clashes }: { clashes: readonly Clash[] }) => (
  <section>
    <h2>{parts.clashes}</h2>
    <p>{parts.clashesWhy}</p>
    <ul>
      {clashes.map(({ here, onServer, jobId, isSeen }) => (
        <li>
          <p>
            {parts.here}: {saidOf(here)}
          </p>
          <p>
            {parts.onServer}: {saidOf(onServer)}
          </p>
          <JobLink id={jobId} part={here.kind === 'fact' ? '/facts' : ''} />
          {isSeen ? null : (
            <form method="post" action="/phone/put-away">
              <input type="hidden" name="kind" value={here.kind} />
              <input type="hidden" name="id" value={here.record.id} />
              <button type="submit">{parts.putAway}</button>
            </form>
          )}
        </li>
      ))}
    </ul>
  </section>
)

/** What the server's refusal means for this phone, and what is on it alone. */
export const ShutOut = ({ state, unsent }: { state: PhoneState; unsent: readonly UnsentJob[] }) => (
  <Layout title={parts.shutOut}>
    <h1>{parts.shutOut}</h1>
    <p>{sentenceOf(state)}</p>
    <p>{parts.shutOutWhy}</p>
    <p>
      <a href="/pair" class="plain">
        {parts.pairAgain}
      </a>
    </p>
    {unsent.length > 0 ? (
      <section>
        <h2>{parts.unsent}</h2>
        <p>{parts.unsentWhy}</p>
        {unsent.map((job) => (
          <UnsentOf job={job} />
        ))}
      </section>
    ) : (
      <p>{parts.nothingUnsent}</p>
    )}
  </Layout>
)

const UnsentOf = ({ job: { id, name, unsent } }: { job: UnsentJob }) => (
  <section>
    <h3>{name}</h3>
    <p>{phoneSay(unsent === 1 ? 'unsent.one' : 'unsent.more', { count: `${unsent}` })}</p>
    <p>
      <JobLink id={id} />
    </p>
    <p>
      <a href={`/jobs/${id}/export`} class="plain">
        {parts.takeOut}
      </a>
    </p>
    <details>
      <summary>{parts.discard}</summary>
      <form method="post" action="/phone/discard">
        <input type="hidden" name="job" value={id} />
        <p>{parts.discardWhy}</p>
        <button type="submit">{parts.discardDo}</button>
      </form>
    </details>
  </section>
)
