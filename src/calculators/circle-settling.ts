import { at, Descent, type DescentLimits } from './descent'

/** Weights of an overlap against the radius, rising: the first lets circles slip past each other, the last hardly. */
const overlapWeights = [3, 50, 3_000, 1_000_000]
/** For the last of the best start, which is worth more steps than the others. */
const lastWeights = [30_000, 300_000, 3_000_000, 30_000_000]
/** Against the root of the sum of all squared radii. */
const usualLimits: DescentLimits = { steps: 60, longestMove: 0.3, leastGain: 1e-5 }
const lastLimits: DescentLimits = { ...usualLimits, leastGain: 1e-12 }
/** For each circle and step, what the descent does beside measuring distances. */
const workBeside = 10
/** Of what the overlaps cost at a weight: so much the radius without them lies above the cost, at least. */
const certainRise = 0.9

/** Places (x, y of each circle, then the radius around them) at which no circles overlap, and that radius. */
export type Settled = { radius: number; places: Float64Array }

export const better = (one: Settled, other: Settled): Settled => (other.radius < one.radius ? other : one)

/**
 * Lets circles of given radii settle from places that they start at: the fewest overlaps at the smallest radius, by a
 * penalty method (Nocedal and Wright, *Numerical Optimization*, 2006, algorithm 17.1). What overlap is left is drawn
 * apart, so that the circle given back truly holds them all.
 */
export class Settling {
  /** Done so far, in distances between circles. */
  work = 0
  private readonly workOfAStep: number
  private readonly descent: Descent

  /** @param radii the sum of their squares is 1 */
  constructor(private readonly radii: Float64Array) {
    this.workOfAStep = (radii.length * (radii.length - 1)) / 2 + workBeside * radii.length
    this.descent = new Descent(2 * radii.length + 1)
  }

  /**
   * Lets the places settle. The least cost rises with the weight towards the radius without overlaps, from below it by
   * about as much as the overlaps cost (Nocedal and Wright, theorem 17.2), so that a start is given up as soon as it
   * can be told to end above the best radius so far.
   */
  settle(places: Float64Array, best = Number.POSITIVE_INFINITY): Settled {
    for (const weight of overlapWeights) {
      const value = this.descend(places, weight, usualLimits)
      const overlapsCost = value - at(places, 2 * this.radii.length)
      if (value + certainRise * overlapsCost >= best) return { radius: Number.POSITIVE_INFINITY, places }
    }
    return this.drawApart(places)
  }

  /** The same packing with the last hair taken out of it. */
  polish(found: Settled): Settled {
    const places = found.places.slice()
    for (const weight of lastWeights) this.descend(places, weight, lastLimits)
    return better(found, this.drawApart(places))
  }

  /** Stretches the places from the centre until no two circles overlap. */
  drawApart(places: Float64Array): Settled {
    const { radii } = this
    const count = radii.length
    let stretch = 0
    for (let i = 0; i < count; i++)
      for (let j = 0; j < i; j++) {
        const apart = fromCentre(
          at(places, 2 * i) - at(places, 2 * j),
          at(places, 2 * i + 1) - at(places, 2 * j + 1),
        )
        stretch = Math.max(stretch, (at(radii, i) + at(radii, j)) / apart)
      }
    if (!Number.isFinite(stretch)) return { radius: Number.POSITIVE_INFINITY, places }
    // A hair more than touching, so that a sum in floating point never finds them overlapping.
    const stretched = places.map((place) => place * stretch * (1 + 1e-12))
    let radius = 0
    for (let i = 0; i < count; i++)
      radius = Math.max(radius, fromCentre(at(stretched, 2 * i), at(stretched, 2 * i + 1)) + at(radii, i))
    stretched[2 * count] = radius
    return { radius, places: stretched }
  }

  /** Moves the places to where the cost with this weight is least nearby, and gives that cost. */
  private descend(places: Float64Array, weight: number, limits: DescentLimits): number {
    const costOf = (tried: Float64Array, slope: Float64Array): number => {
      this.work += this.workOfAStep
      return cost(this.radii, tried, weight, slope)
    }
    return this.descent.run(places, costOf, limits)
  }
}

/**
 * How far a place is from the centre. Nothing here is worked out by `Math.hypot`, sines or their like: in the last digit
 * they differ from one machine to the next, and a search that begins a hair otherwise may end in another packing.
 */
export const fromCentre = (x: number, y: number): number => Math.sqrt(x * x + y * y)

/** The radius around the circles plus the weighted squares of all overlaps; writes its slope. */
function cost(radii: Float64Array, places: Float64Array, weight: number, slope: Float64Array): number {
  const count = radii.length
  const around = at(places, 2 * count)
  let overlaps = 0
  slope.fill(0)
  for (let i = 0; i < count; i++) {
    const x = at(places, 2 * i)
    const y = at(places, 2 * i + 1)
    const radius = at(radii, i)
    const outside = fromCentre(x, y) + radius - around
    if (outside > 0) {
      const push = (2 * weight * outside) / (outside + around - radius || 1)
      overlaps += outside * outside
      slope[2 * i] = at(slope, 2 * i) + push * x
      slope[2 * i + 1] = at(slope, 2 * i + 1) + push * y
      slope[2 * count] = at(slope, 2 * count) - 2 * weight * outside
    }
    for (let j = 0; j < i; j++) {
      const dx = x - at(places, 2 * j)
      const dy = y - at(places, 2 * j + 1)
      const touching = radius + at(radii, j)
      const square = dx * dx + dy * dy
      if (square >= touching * touching) continue
      const apart = Math.sqrt(square) || 1e-12
      const overlap = touching - apart
      const push = (-2 * weight * overlap) / apart
      overlaps += overlap * overlap
      slope[2 * i] = at(slope, 2 * i) + push * dx
      slope[2 * i + 1] = at(slope, 2 * i + 1) + push * dy
      slope[2 * j] = at(slope, 2 * j) - push * dx
      slope[2 * j + 1] = at(slope, 2 * j + 1) - push * dy
    }
  }
  slope[2 * count] = at(slope, 2 * count) + 1
  return around + weight * overlaps
}
