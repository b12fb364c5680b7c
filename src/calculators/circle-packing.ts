import { better, fromCentre, type Settled, Settling } from './circle-settling'
import { disturbed, randomNumbers, scattered } from './circle-starts'
import { at } from './descent'
import { aroundThree, placesOfThree } from './three-circles'

/** Circles side by side in the smallest circle found around them; positions are from its centre, one unit for all. */
export type PackedCircles = { radius: number; positions: Place[] }

/** Work for one packing at most, in distances between circles: what decides the time it takes. */
const mostWork = 1_000_000
const startsForEachPair = 6
/** From a packing that is nearly right already. */
const startsForEachCircleNear = 2
const mostWorkNear = 60_000

/** Where the middle of a circle is. */
type Place = { x: number; y: number }

/**
 * The smallest circle around circles of given radii, by search: from many starts, which settle each (see
 * {@link Settling}), half of them from the best so far with two circles exchanged or one moved (basin hopping; Wales
 * and Doye, 1997).
 *
 * No search proves that nothing is smaller, so it errs to the wide side: within 0.5 % of the packings known for up to
 * 30 equal circles; for four to eight unlike ones within 2 % of what six times as many starts find, and within 0.5 %
 * more than nine times in ten; for nine to 30 unlike ones within 3 % of what four times the work finds, 0.8 % on
 * average. Two and three are packed exactly.
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
  const settling = new Settling(scaled)
  const { places } =
    radii.length === 3
      ? settling.drawApart(touching(scaled))
      : settling.polish(near ? searchNear(scaled, settling, near, scale) : searchAll(scaled, settling))
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

/** Places of three circles, packed as close as they go. */
function touching(radii: Float64Array): Float64Array {
  const [first = 0, second = 0, third = 0] = [...radii.keys()].sort((i, j) => at(radii, j) - at(radii, i))
  const found = placesOfThree([at(radii, first), at(radii, second), at(radii, third)])
  const places = new Float64Array(2 * radii.length + 1)
  for (const [rank, circle] of [first, second, third].entries())
    places.set([found[rank]?.x ?? 0, found[rank]?.y ?? 0], 2 * circle)
  return places
}

function searchAll(radii: Float64Array, settling: Settling): Settled {
  const random = randomNumbers(radii.length)
  const pairs = (radii.length * (radii.length - 1)) / 2
  const enough = leastConceivable(radii) * (1 + 1e-6)
  let best = settling.settle(scattered(radii, random))
  const starts = startsForEachPair * pairs
  for (let start = 1; start < starts && best.radius > enough && settling.work < mostWork; start++) {
    const from = start % 2 === 0 ? scattered(radii, random) : disturbed(best.places, radii, random)
    best = better(best, settling.settle(from, best.radius))
  }
  return best
}

/** A radius below which no circle holds them: that of the smallest around the three largest. */
function leastConceivable(radii: Float64Array): number {
  const [first = 0, second = 0, third = 0] = [...radii].sort((one, other) => other - one)
  return aroundThree([first, second, third])
}

function searchNear(
  radii: Float64Array,
  settling: Settling,
  near: readonly (Place | undefined)[],
  scale: number,
): Settled {
  const random = randomNumbers(radii.length)
  const places = scattered(radii, random)
  for (let i = 0; i < radii.length; i++) {
    const known = near[i]
    if (known) places.set([known.x / scale, known.y / scale], 2 * i)
  }
  let best = settling.drawApart(places)
  best = better(best, settling.settle(places))
  const starts = startsForEachCircleNear * radii.length
  const enough = leastConceivable(radii) * (1 + 1e-6)
  for (let start = 1; start < starts && best.radius > enough && settling.work < mostWorkNear; start++)
    best = better(best, settling.settle(disturbed(best.places, radii, random), best.radius))
  return best
}

function enclosing(positions: readonly Place[], radii: readonly number[]): number {
  return Math.max(...positions.map(({ x, y }, i) => fromCentre(x, y) + (radii[i] ?? 0)))
}
