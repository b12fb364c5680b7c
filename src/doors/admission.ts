/**
 * So many requests begin together in one turn of the event loop, where they are short: timers, sockets and the others
 * have their say in between. One by one each would cost a quarter more.
 */
const mostTogether = 4

/** After a turn that worked for longer than this, in ms, one begins alone; and slowly more again after shorter ones. */
const mostMsOfATurn = 8
const moreAfterAShortOne = 0.1

/** Requests that wait to begin, at most. With more than that nobody at the end would still be there. */
const mostWaiting = 1000

/** Who waited for longer than this, in ms, is told to come again: the sum would be done for nobody. */
const mostWaitMs = 5000

/** One request at the door. */
export type Arrival = {
  begin: () => void
  turnAway: () => void
  /** Whether whoever asked has left. */
  isGone: () => boolean
}

/** Lets requests begin one after the other, in the order in which they came, few at a time and not for long. */
export type Admission = { arrive(arrival: Arrival): void; waiting(): number }

/** Backpressure: a server that has too much to do stays answerable, does what it can, and says no to the rest. */
export function openAdmission(now: () => number = () => performance.now()): Admission {
  const queue: { arrival: Arrival; cameMs: number }[] = []
  let together = mostTogether
  let begun = 0
  let turnBeganMs = 0
  let isTurnSet = false

  const setTurn = () => {
    if (isTurnSet) return
    isTurnSet = true
    setImmediate(turn)
    // Between two immediates node runs all that the first has set going, so this one knows how long that took.
    setImmediate(judge)
  }
  const judge = () => {
    if (begun === 0) return
    const isShort = now() - turnBeganMs <= mostMsOfATurn
    together = isShort ? Math.min(mostTogether, together + moreAfterAShortOne) : 1
  }
  const hasRoom = () => begun === 0 || (begun + 1 <= together && now() - turnBeganMs <= mostMsOfATurn)
  const begin = (arrival: Arrival) => {
    if (begun === 0) turnBeganMs = now()
    begun += 1
    setTurn()
    arrival.begin()
  }
  const turn = () => {
    isTurnSet = false
    begun = 0
    while (hasRoom()) {
      const next = queue.shift()
      if (!next) return
      if (next.arrival.isGone()) continue
      if (now() - next.cameMs > mostWaitMs) next.arrival.turnAway()
      else begin(next.arrival)
    }
  }

  return {
    arrive(arrival) {
      if (queue.length === 0 && hasRoom()) return begin(arrival)
      if (queue.length >= mostWaiting) return arrival.turnAway()
      queue.push({ arrival, cameMs: now() })
      setTurn()
    },
    waiting: () => queue.length,
  }
}
