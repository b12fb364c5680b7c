/** So many requests begin in one turn of the event loop: timers, sockets and the others have their say in between. */
const mostBegunInATurn = 4

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

/** Lets requests begin one after the other, in the order in which they came, a few at a time. */
export type Admission = { arrive(arrival: Arrival): void; waiting(): number }

/** Backpressure: a server that has too much to do stays answerable, does what it can, and says no to the rest. */
export function openAdmission(now: () => number = () => performance.now()): Admission {
  const queue: { arrival: Arrival; cameMs: number }[] = []
  let begun = 0
  let isTurnSet = false

  const setTurn = () => {
    if (isTurnSet) return
    isTurnSet = true
    setImmediate(turn)
  }
  const begin = (arrival: Arrival) => {
    begun += 1
    setTurn()
    arrival.begin()
  }
  const turn = () => {
    isTurnSet = false
    begun = 0
    while (begun < mostBegunInATurn) {
      const next = queue.shift()
      if (!next) return
      if (next.arrival.isGone()) continue
      if (now() - next.cameMs > mostWaitMs) next.arrival.turnAway()
      else begin(next.arrival)
    }
  }

  return {
    arrive(arrival) {
      if (begun < mostBegunInATurn && queue.length === 0) return begin(arrival)
      if (queue.length >= mostWaiting) return arrival.turnAway()
      queue.push({ arrival, cameMs: now() })
      setTurn()
    },
    waiting: () => queue.length,
  }
}
