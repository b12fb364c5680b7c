import { inWords } from '../../questions/common/shared-words'
import type { CheckedJob, Place } from '../check/checked-job'
import { placeName } from './sheet-words'

/** The parts that something is for: the whole job says it all. */
export const placesText = (places: readonly Place[], { parts }: Pick<CheckedJob, 'parts'>): string =>
  places.includes(null) || (parts.length > 1 && parts.every((part) => places.includes(part)))
    ? placeName(null)
    : inWords(places.map(placeName))
