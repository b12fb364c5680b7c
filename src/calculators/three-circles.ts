/** Largest first. */
type Three = readonly [first: number, second: number, third: number]

/**
 * The radius of the smallest circle around three: the third lies beside the two others where these lie side by side, or
 * else all touch each other and the circle around them (both by Descartes' theorem).
 *
 * @param radii each > 0, largest first
 */
export function aroundThree([first, second, third]: Three): number {
  const [one, two, three] = [1 / first, 1 / second, 1 / third]
  const sideBySide = first + second
  if (three >= one + two - 1 / sideBySide) return sideBySide
  return 1 / (2 * Math.sqrt(one * two + two * three + three * one) - one - two - three)
}

/**
 * Where three circles that touch each other are, from the centre of the smallest circle around them.
 *
 * @param radii each > 0, largest first
 */
export function placesOfThree(radii: Three): { x: number; y: number }[] {
  const [first, second, third] = radii
  const around = aroundThree(radii)
  // The first at the origin, the second on the x axis, the third by its distances from both (Heron).
  const base = first + second
  const x = first + (third * (first - second)) / base
  const y = (2 * Math.sqrt(first * second * third * (base + third))) / base
  // The centre by the squares of its distances from the three: what two of them differ by is linear in where it is.
  const differenceTo = (radius: number): number => (radius - first) * (2 * around - first - radius)
  const centreX = (base * base + differenceTo(second)) / (2 * base)
  const centreY =
    around === base ? 0 : ((first + third) ** 2 + differenceTo(third) - 2 * x * centreX) / (2 * y)
  return [
    { x: -centreX, y: -centreY },
    { x: base - centreX, y: -centreY },
    { x: x - centreX, y: y - centreY },
  ]
}
