/** Circles side by side in the smallest circle found around them; positions are from its centre, one unit for all. */
export type PackedCircles = { radius: number; positions: Place[] }

/** Weights of an overlap against the radius, rising: the first lets circles slip past each other, the last hardly. */
const overlapWeights = [3, 50, 3_000, 1_000_000]
/** For the last of the best start, which is worth more steps than the others. */
const lastWeights = [30_000, 300_000, 3_000_000, 30_000_000]
const stepsForEachWeight = 60
const smallestGain = 1e-5
const smallestLastGain = 1e-12
/** Of a circle in one step, against the root of the sum of all squared radii. */
const longestMove = 0.3
/** Work for one packing at most, in distances between circles: what decides the time it takes. */
const mostWork = 1_000_000
/** For each circle and step, what the descent does beside measuring distances. */
const workBeside = 10
const startsForEachPair = 6
/** From a packing that is nearly right already. */
const startsForEachCircleNear = 2
const mostWorkNear = 60_000
const remembered = 4
/** Of what the overlaps cost at a weight: so much the radius without them lies above the cost, at least. */
const certainRise = 0.9
/** One more than is remembered, so that a step that is not kept never spoils one that is. */
const slots = remembered + 1

/** Where the middle of a circle is. */
type Place = { x: number; y: number }

/**
 * The smallest circle around circles of given radii, by search: from many starts, each the fewest overlaps at the
 * smallest radius by a penalty method (L-BFGS; Nocedal and Wright, *Numerical Optimization*, 2006, algorithms 7.4
 * and 17.1), half of them from the best so far with two circles exchanged or one moved (basin hopping; Wales and
 * Doye, 1997). What overlap is left is then drawn apart, so the circle given back truly holds them all.
 *
 * No search proves that nothing is smaller, so it errs to the wide side: within 0.5 % of the packings known for up to
 * 30 equal circles; for four to eight unlike ones within 2 % of what six times as many starts find, and within 0.5 %
 * more than nine times in ten; for nine to 30 unlike ones within 2.5 % of what four times the work finds, 0.6 % on
 * average. Two are packed exactly, and three to a millionth.
 * It always gives the same answer for the same radii and places.
 *
 * @param radii each > 0, up to about 30 of them
 * @param near places in a packing of nearly the same circles, in their order, where there is one: a short search
 *   from there then does
 *
 * @example packCircles([1, 1, 1]).radius // 2.1547
 */
export function packCircles(radii: readonly number[], near?: readonly (Place | undefined)[]): PackedCircles {
  const [first = 0, second, third] = radii
  if (second === undefined) return { radius: first, positions: radii.map(() => ({ x: 0, y: 0 })) }
  if (third === undefined) return pair(first, second)
  const scale = Math.sqrt(radii.reduce((sum, radius) => sum + radius * radius, 0))
  const scaled = Float64Array.from(radii, (radius) => radius / scale)
  const descent = new Descent(scaled)
  const found = near ? searchNear(scaled, descent, near, scale) : searchAll(scaled, descent)
  const { places } = polished(scaled, descent, found)
  const positions = radii.map((_, i) => ({
    x: at(places, 2 * i) * scale,
    y: at(places, 2 * i + 1) * scale,
  }))
  return { radius: enclosing(positions, radii), positions }
}

const pair = (one: number, other: number): PackedCircles => ({
  radius: one + other,
  positions: [
    { x: -other, y: 0 },
    { x: one, y: 0 },
  ],
})

function searchAll(radii: Float64Array, descent: Descent): Settled {
  const random = randomNumbers(radii.length)
  const pairs = (radii.length * (radii.length - 1)) / 2
  const enough = leastConceivable(radii) * (1 + 1e-6)
  let best = settle(radii, descent, scattered(radii, random))
  const starts = startsForEachPair * pairs
  for (let start = 1; start < starts && best.radius > enough && descent.work < mostWork; start++) {
    const from = start % 2 === 0 ? scattered(radii, random) : disturbed(best.places, radii, random)
    best = better(best, settle(radii, descent, from, best.radius))
  }
  return best
}

/**
 * A radius below which no circle holds them, by the three largest: the third lies beside the two others where these lie
 * side by side, or else all touch each other and the circle around them (both by Descartes' theorem).
 */
function leastConceivable(radii: Float64Array): number {
  const [first = 0, second = 0, third = 0] = [...radii].sort((one, other) => other - one)
  const [one, two, three] = [1 / first, 1 / second, 1 / third]
  const sideBySide = first + second
  if (three >= one + two - 1 / sideBySide) return sideBySide
  return 1 / (2 * Math.sqrt(one * two + two * three + three * one) - one - two - three)
}

function searchNear(
  radii: Float64Array,
  descent: Descent,
  near: readonly (Place | undefined)[],
  scale: number,
): Settled {
  const random = randomNumbers(radii.length)
  const places = scattered(radii, random)
  for (let i = 0; i < radii.length; i++) {
    const known = near[i]
    if (known) places.set([known.x / scale, known.y / scale], 2 * i)
  }
  let best = drawnApart(radii, places)
  best = better(best, settle(radii, descent, places))
  const starts = startsForEachCircleNear * radii.length
  const enough = leastConceivable(radii) * (1 + 1e-6)
  for (let start = 1; start < starts && best.radius > enough && descent.work < mostWorkNear; start++)
    best = better(best, settle(radii, descent, disturbed(best.places, radii, random), best.radius))
  return best
}

function polished(radii: Float64Array, descent: Descent, found: Settled): Settled {
  const places = found.places.slice()
  for (const weight of lastWeights) descent.run(places, weight, smallestLastGain)
  return better(found, drawnApart(radii, places))
}

const better = (one: Settled, other: Settled): Settled => (other.radius < one.radius ? other : one)

/** Places of the circles, and the radius of the circle around them. */
type Settled = { radius: number; places: Float64Array }

const at = (values: Float64Array, index: number): number => values[index] as number

/**
 * How far a place is from the centre. Nothing here is worked out by `Math.hypot`, sines or their like: in the last digit
 * they differ from one machine to the next, and a search that begins a hair otherwise may end in another packing.
 */
const fromCentre = (x: number, y: number): number => Math.sqrt(x * x + y * y)

function enclosing(positions: readonly Place[], radii: readonly number[]): number {
  return Math.max(...positions.map(({ x, y }, i) => fromCentre(x, y) + (radii[i] ?? 0)))
}

/** The same sequence each time (mulberry32), so that an answer can be worked out again. */
function randomNumbers(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}

/** Places (x, y of each circle, then the radius around them) strewn over a disc. */
function scattered(radii: Float64Array, random: () => number): Float64Array {
  const places = new Float64Array(2 * radii.length + 1)
  for (let i = 0; i < radii.length; i++) placeAnywhere(places, i, random)
  places[2 * radii.length] = 1.2
  return places
}

function placeAnywhere(places: Float64Array, circle: number, random: () => number): void {
  let x = 1
  let y = 1
  while (x * x + y * y > 1) {
    x = 2 * random() - 1
    y = 2 * random() - 1
  }
  places[2 * circle] = x
  places[2 * circle + 1] = y
}

/** The same places with two circles of different sizes exchanged, or with one put elsewhere. */
function disturbed(places: Float64Array, radii: Float64Array, random: () => number): Float64Array {
  const changed = places.slice()
  const one = Math.floor(random() * radii.length)
  const other = random() < 0.6 ? ofAnotherSize(radii, one, random) : one
  if (other === one) placeAnywhere(changed, one, random)
  else
    for (const axis of [0, 1]) {
      changed[2 * one + axis] = at(places, 2 * other + axis)
      changed[2 * other + axis] = at(places, 2 * one + axis)
    }
  return changed
}

/** Any circle of another size; the circle itself when all are alike. */
function ofAnotherSize(radii: Float64Array, one: number, random: () => number): number {
  const others = [...radii.keys()].filter((i) => radii[i] !== radii[one])
  return others[Math.floor(random() * others.length)] ?? one
}

/**
 * Lets the places settle. The least cost rises with the weight towards the radius without overlaps, from below it by
 * about as much as the overlaps cost (Nocedal and Wright, theorem 17.2), so that a start is given up as soon as it can
 * be told to end above the best radius so far.
 */
function settle(
  radii: Float64Array,
  descent: Descent,
  places: Float64Array,
  best = Number.POSITIVE_INFINITY,
): Settled {
  for (const weight of overlapWeights) {
    const value = descent.run(places, weight)
    const overlapsCost = value - at(places, 2 * radii.length)
    if (value + certainRise * overlapsCost >= best) return { radius: Number.POSITIVE_INFINITY, places }
  }
  return drawnApart(radii, places)
}

/** Stretches the places from the centre until no two circles overlap. */
function drawnApart(radii: Float64Array, places: Float64Array): Settled {
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

/** Minimises the cost by L-BFGS with a backtracking line search; its buffers are made once for all descents. */
class Descent {
  /** Done so far, in distances between circles. */
  work = 0
  private readonly workOfAStep: number
  private readonly size: number
  private readonly slope: Float64Array
  private readonly next: Float64Array
  private readonly nextSlope: Float64Array
  private readonly direction: Float64Array
  private readonly moved: Float64Array[]
  private readonly bent: Float64Array[]
  private readonly curvature = new Float64Array(slots)
  private readonly share = new Float64Array(slots)

  constructor(private readonly radii: Float64Array) {
    this.size = 2 * radii.length + 1
    this.workOfAStep = (radii.length * (radii.length - 1)) / 2 + workBeside * radii.length
    const buffer = () => new Float64Array(this.size)
    this.slope = buffer()
    this.next = buffer()
    this.nextSlope = buffer()
    this.direction = buffer()
    this.moved = Array.from({ length: slots }, buffer)
    this.bent = Array.from({ length: slots }, buffer)
  }

  /** Moves the places to where the cost with this weight is least nearby, and gives that cost. */
  run(places: Float64Array, weight: number, leastGain = smallestGain): number {
    const { slope, next, nextSlope, direction } = this
    let value = this.costAt(places, weight, slope)
    let kept = 0
    for (let round = 0; round < stepsForEachWeight; round++) {
      this.turn(kept)
      const descent = dot(direction, slope)
      if (descent > -1e-14) return value
      let stride = Math.min(1, longestMove / largestOf(direction))
      advance(next, places, direction, stride)
      let nextValue = this.costAt(next, weight, nextSlope)
      while (nextValue > value + 1e-4 * stride * descent && stride > 1e-9) {
        stride /= 2
        advance(next, places, direction, stride)
        nextValue = this.costAt(next, weight, nextSlope)
      }
      if (nextValue >= value) return value
      if (this.remember(kept, places)) kept++
      places.set(next)
      slope.set(nextSlope)
      const gain = value - nextValue
      value = nextValue
      if (gain < leastGain) return value
    }
    return value
  }

  private costAt(places: Float64Array, weight: number, slope: Float64Array): number {
    this.work += this.workOfAStep
    return cost(this.radii, places, weight, slope)
  }

  /** Keeps the last step and how the slope bent over it; false where it does not bend upwards. */
  private remember(kept: number, places: Float64Array): boolean {
    const slot = kept % slots
    const moved = this.moved[slot] as Float64Array
    const bent = this.bent[slot] as Float64Array
    advance(moved, this.next, places, -1)
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
