import { done, type Outcome, type Refusal, type Refused, refused, Stop } from './refusal'

/** What IndexedDB says went wrong, as a refusal; undefined for what is a fault of the program. */
function refusalOf(error: unknown): Refusal | undefined {
  if (!(error instanceof Error)) return undefined
  switch (error.name) {
    case 'QuotaExceededError':
      return { reason: 'disk-full' }
    case 'InvalidStateError':
      return { reason: 'closed' }
    // Browsers that keep nothing (by a setting, or in a private window) say it in different ways.
    case 'SecurityError':
    case 'NotAllowedError':
    case 'UnknownError':
    case 'AbortError':
    case 'TimeoutError':
    case 'NotFoundError':
    case 'NotReadableError':
    case 'DataError':
      return { reason: 'disk-failed', code: error.name }
    default:
      return undefined
  }
}

/** The refusal that an error stands for; an error that stands for none is thrown on, as it is a fault of ours. */
function refusedBy(error: unknown): Refused {
  if (error instanceof Stop) return error.refused
  const refusal = refusalOf(error)
  if (!refusal) throw error
  return refused(refusal)
}

/** Does something to the phone's log; what IndexedDB refuses becomes an outcome. */
export async function attempt<T>(work: () => Promise<T>): Promise<Outcome<T>> {
  try {
    return done(await work())
  } catch (error) {
    return refusedBy(error)
  }
}
