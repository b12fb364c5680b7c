/** What is minimised: its value at a place, and its slope there, which it writes. */
export type Objective = (place: Float64Array, slope: Float64Array) => number

export type DescentLimits = {
  steps: number
  /** Of any coordinate in one step. */
  longestMove: number
  /** A step that gains less than this is the last. */
  leastGain: number
}

const remembered = 4
/** One more than is remembered, so that a step that is not kept never spoils one that is. */
const slots = remembered + 1

/** The number at an index that is there. */
export const at = (values: Float64Array, index: number): number => values[index] as number

/**
 * Minimises functions of many numbers by L-BFGS with a backtracking line search (Nocedal and Wright, *Numerical
 * Optimization*, 2006, algorithms 3.1 and 7.4); its buffers are made once for all descents.
 */
export class Descent {
  private readonly slope: Float64Array
  private readonly next: Float64Array
  private readonly nextSlope: Float64Array
  private readonly direction: Float64Array
  private readonly moved: Float64Array[]
  private readonly bent: Float64Array[]
  private readonly curvature = new Float64Array(slots)
  private readonly share = new Float64Array(slots)

  /** @param size how many numbers a place has */
  constructor(private readonly size: number) {
    const buffer = () => new Float64Array(size)
    this.slope = buffer()
    this.next = buffer()
    this.nextSlope = buffer()
    this.direction = buffer()
    this.moved = Array.from({ length: slots }, buffer)
    this.bent = Array.from({ length: slots }, buffer)
  }

  /** Moves a place to where the objective is least nearby, and gives its value there. */
  run(place: Float64Array, objective: Objective, { steps, longestMove, leastGain }: DescentLimits): number {
    const { slope, next, nextSlope, direction } = this
    let value = objective(place, slope)
    let kept = 0
    for (let step = 0; step < steps; step++) {
      this.turn(kept)
      const descent = dot(direction, slope)
      if (descent > -1e-14) return value
      let stride = Math.min(1, longestMove / largestOf(direction))
      advance(next, place, direction, stride)
      let nextValue = objective(next, nextSlope)
      while (nextValue > value + 1e-4 * stride * descent && stride > 1e-9) {
        stride /= 2
        advance(next, place, direction, stride)
        nextValue = objective(next, nextSlope)
      }
      if (nextValue >= value) return value
      if (this.remember(kept, place)) kept++
      place.set(next)
      slope.set(nextSlope)
      const gain = value - nextValue
      value = nextValue
      if (gain < leastGain) return value
    }
    return value
  }

  /** Keeps the last step and how the slope bent over it; false where it does not bend upwards. */
  private remember(kept: number, place: Float64Array): boolean {
    const slot = kept % slots
    const moved = this.moved[slot] as Float64Array
    const bent = this.bent[slot] as Float64Array
    advance(moved, this.next, place, -1)
    advance(bent, this.nextSlope, this.slope, -1)
    this.curvature[slot] = dot(moved, bent)
    return at(this.curvature, slot) > 1e-16
  }

  /** The two-loop recursion: minus the slope, through the curvature that the last steps showed. */
  private turn(kept: number): void {
    const { direction, curvature, share } = this
    for (let i = 0; i < this.size; i++) direction[i] = -at(this.slope, i)
    const oldest = Math.max(0, kept - remembered)
    for (let step = kept - 1; step >= oldest; step--) {
      const slot = step % slots
      share[slot] = dot(this.moved[slot] as Float64Array, direction) / at(curvature, slot)
      advance(direction, direction, this.bent[slot] as Float64Array, -at(share, slot))
    }
    if (kept > 0) {
      const last = (kept - 1) % slots
      const bent = this.bent[last] as Float64Array
      const scale = at(curvature, last) / dot(bent, bent)
      for (let i = 0; i < this.size; i++) direction[i] = at(direction, i) * scale
    }
    for (let step = oldest; step < kept; step++) {
      const slot = step % slots
      const back = dot(this.bent[slot] as Float64Array, direction) / at(curvature, slot)
      advance(direction, direction, this.moved[slot] as Float64Array, at(share, slot) - back)
    }
  }
}

function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0
  for (let i = 0; i < one.length; i++) sum += at(one, i) * at(other, i)
  return sum
}

function largestOf(values: Float64Array): number {
  let largest = 0
  for (let i = 0; i < values.length; i++) largest = Math.max(largest, Math.abs(at(values, i)))
  return largest
}

function advance(to: Float64Array, from: Float64Array, direction: Float64Array, stride: number): void {
  for (let i = 0; i < to.length; i++) to[i] = at(from, i) + stride * at(direction, i)
}
