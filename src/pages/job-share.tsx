import { newId } from '../jobs/log/identifier'
import type { OpenJob } from '../jobs/log/job-view'
import { type Share, type ShareState, stateOf } from '../jobs/share/share'
import { Carried } from './composer'
import { JobFrame } from './job-frame'
import { shareSay } from './job-share-words'
import { moment } from './job-words'
import { Layout } from './layout'
import { QrCode } from './qr-code'

/** How many hours a link may open, and which of these is proposed. */
export const validHours = [1, 24, 168, 720] as const
export type ValidHours = (typeof validHours)[number]
export const proposedHours: ValidHours = 168

/** A link that was just made, whose address is known this once. */
export type FreshShare = { share: Share; address: string }

type JobShareProps = {
  open: OpenJob
  shares: readonly Share[]
  at: string
  fresh?: FreshShare | undefined
  /** What went otherwise than asked. */
  notice?: string | undefined
}

/** The links of a job: to make one, to see which open, to take one back. */
export const JobShare = ({ open: { job }, shares, at, fresh, notice }: JobShareProps) => (
  <JobFrame job={job} tab="share">
    {notice ? (
      <p class="reply" role="alert">
        {notice}
      </p>
    ) : null}
    {fresh ? <Fresh {...fresh} name={job.name} /> : null}
    <MakeShare jobId={job.id} />
    <section aria-labelledby="links">
      <h2 id="links">{shareSay('links')}</h2>
      {shares.length === 0 ? <p>{shareSay('none')}</p> : null}
      <ul class="ask">
        {shares.map((share) => (
          <ShareEntry share={share} at={at} />
        ))}
      </ul>
    </section>
  </JobFrame>
)

const MakeShare = ({ jobId }: { jobId: string }) => (
  <form method="post" action={`/jobs/${jobId}/shares`}>
    <Carried carried={{ id: newId() }} />
    <p>{shareSay('intro')}</p>
    <p class="field">
      <label for="hours">{shareSay('valid')}</label>
      <select id="hours" name="hours">
        {validHours.map((hours) => (
          <option value={hours} selected={hours === proposedHours}>
            {shareSay(`valid.${hours}`)}
          </option>
        ))}
      </select>
    </p>
    <button type="submit">{shareSay('make')}</button>
  </form>
)

const Fresh = ({ share, address, name }: FreshShare & { name: string }) => (
  <section class="fresh" aria-labelledby="fresh">
    <h2 id="fresh">{shareSay('fresh')}</h2>
    {isOnlyHere(address) ? (
      <p class="fault" role="alert">
        {shareSay('onlyHere')}
      </p>
    ) : null}
    <QrCode text={address} label={shareSay('code', { job: name })} />
    <p>
      <a class="plain" href={address} rel="noreferrer">
        {address}
      </a>
    </p>
    <p>{shareSay('once', { when: moment(share.expiresAt) })}</p>
  </section>
)

/** Whether an address leads nowhere from another machine. */
const isOnlyHere = (address: string): boolean =>
  /^(localhost|.+\.localhost|127\.[\d.]+|\[::1\])$/.test(new URL(address).hostname)

const stateMarks: Record<ShareState, string> = { open: '✓', expired: '–', revoked: '✕' }

const ShareEntry = ({ share, at }: { share: Share; at: string }) => {
  const state = stateOf(share, at)
  const when = moment(state === 'revoked' ? (share.revokedAt ?? at) : share.expiresAt)
  return (
    <li class="share">
      <span>
        <span class="share-mark" aria-hidden="true">
          {stateMarks[state]}
        </span>{' '}
        {shareSay(state, { when })}
        <span class="why">{shareSay('made', { when: moment(share.createdAt) })}</span>
      </span>
      {state === 'open' ? (
        <form method="post" action={`/jobs/${share.jobId}/shares/${share.id}/revoke`}>
          <button class="quiet" type="submit">
            {shareSay('revoke')}
          </button>
        </form>
      ) : null}
    </li>
  )
}

/** What a link shows that opens nothing: the same for one that never was, one that ran out and one taken back. */
export const ShareGone = () => (
  <Layout title={shareSay('gone')} alone>
    <h1>{shareSay('gone')}</h1>
    <p>{shareSay('goneWhy')}</p>
  </Layout>
)
