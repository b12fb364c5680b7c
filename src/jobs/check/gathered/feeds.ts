import { printLength } from '../../../quantities/print'
import { alongTheTape } from '../../../questions/along-the-tape'
import { tapeReach } from '../../../questions/tape-reach'
import type { FactValue } from '../../log/job'
import type { KnownFact } from '../../memory/facts'
import { type Gathered, nothingGathered } from '../ask'
import { type CheckedJob, type Place, read, typed, typedList } from '../checked-job'
import { fieldOf, runsOf } from '../runs'
import { say } from '../words'

const fields = {
  feedDistance: fieldOf<number>(tapeReach, 'feedDistance'),
  farFeedDistance: fieldOf<number>(tapeReach, 'farFeedDistance'),
  feeds: fieldOf<{ at: number }[]>(alongTheTape, 'feeds'),
  feed: fieldOf<'one-end' | 'both-ends' | 'middle'>(tapeReach, 'feed'),
}

/** The way to a tape whose driver sits beside it. */
export const noCable = '0 m'

/** Whether the feeds of a place are told one by one, and not only the way to a part of it. */
export function tellsFeeds(job: CheckedJob, place: Place): boolean {
  const [feeds, distance] = [job.at(place).get('feeds'), job.at(place).get('feedDistance')]
  return feeds !== undefined && (distance === undefined || feeds.where === place || distance.where !== place)
}

/** The one cable that feeds a tape at its start, as typed; `distance` is left out where there is none. */
export type OnlyFeed = { distance?: FactValue; gauge?: FactValue; fact: KnownFact }

/** The only feed of a place, where its feeds are told and that is what they come to. */
export function onlyFeed(job: CheckedJob, place: Place): OnlyFeed | undefined {
  const fact = tellsFeeds(job, place) ? job.at(place).get('feeds') : undefined
  const [feed, ...further] = read(fields.feeds, fact, job) ?? []
  const [said] = typedList(fact)
  if (!fact || !feed || feed.at > 0 || further.length > 0) return undefined
  const { distance, gauge } = typeof said === 'object' && !Array.isArray(said) ? (said as Cable) : {}
  return { ...(distance ? { distance } : {}), ...(gauge ? { gauge } : {}), fact }
}

type Cable = { distance?: FactValue; gauge?: FactValue }

/** That feed as a question takes it that asks for the way to the tape and its cable. */
export function asOneCable(job: CheckedJob, place: Place): Gathered {
  const only = onlyFeed(job, place)
  if (!only) return nothingGathered
  const { distance = noCable, gauge, fact } = only
  return { given: { feedDistance: distance, ...(gauge ? { gauge } : {}) }, sources: [fact] }
}

/** How the tape of a place is fed: where that was not told, at one end, unless a way to its far end was. */
export function feedPlace(job: CheckedJob, place: Place): 'one-end' | 'both-ends' | 'middle' {
  const facts = job.at(place)
  const told = read(fields.feed, facts.get('feed'), job)
  return told ?? (facts.has('farFeedDistance') ? 'both-ends' : 'one-end')
}

/** The feeds of `along-the-tape`, put together of the way to the tape, its cable and where it is fed. */
export function feedsOf(job: CheckedJob, place: Place): Gathered {
  const facts = job.at(place)
  const distance = facts.get('feedDistance')
  const distanceM = read(fields.feedDistance, distance, job)
  if (!distance || distanceM === undefined || tellsFeeds(job, place)) return nothingGathered
  const [lengthM, ...further] = runsOf(job).find((run) => run.place === place && !run.isRest)?.lengthsM ?? []
  const feed = feedPlace(job, place)
  const placed = lengthM !== undefined && further.length === 0 ? lengthM : undefined
  if (feed !== 'one-end' && placed === undefined) return nothingGathered
  const gauge = facts.get('gauge')
  const cable = (cableM: number) => ({
    distance: typed(cableM, 'm'),
    ...(gauge ? { gauge: gauge.value } : {}),
  })
  const farM = read(fields.farFeedDistance, facts.get('farFeedDistance'), job) ?? distanceM + (placed ?? 0)
  const near = { at: typed(feed === 'middle' ? (placed ?? 0) / 2 : 0, 'm'), ...cable(distanceM) }
  const far = feed === 'both-ends' ? [{ at: typed(placed ?? 0, 'm'), ...cable(farM) }] : []
  const text = {
    distance: printLength(distanceM, job.system, 'up'),
    far: printLength(farM, job.system, 'up'),
    gauge: gauge ? String(gauge.value) : say('gathered.feed.usual', {}),
  }
  return {
    given: { feeds: [near, ...far] },
    said: [say(`gathered.feed.${feed}`, text)],
    sources: ['feedDistance', 'gauge', 'feed', 'farFeedDistance'].flatMap((field) => facts.get(field) ?? []),
  }
}
