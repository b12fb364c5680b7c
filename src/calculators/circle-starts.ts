import { at } from './descent'

/** The same sequence each time (mulberry32), so that an answer can be worked out again. */
export function randomNumbers(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}

/** Places (x, y of each circle, then the radius around them) strewn over a disc. */
export function scattered(radii: Float64Array, random: () => number): Float64Array {
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
export function disturbed(places: Float64Array, radii: Float64Array, random: () => number): Float64Array {
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
