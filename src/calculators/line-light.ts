/** A straight, diffuse (Lambertian) tape that lies parallel to the work and faces it. */
export type LineOfLight = {
  /** Light that leaves the tape per metre of its length, > 0, lm/m. */
  lumensPerM: number
  /** Length of the tape, > 0, m. */
  lengthM: number
  /** Height of the tape above the work, > 0, m. */
  heightM: number
}

/** A point of the work. */
export type PointOnWork = {
  /** Along the tape, from below its middle, m. */
  alongM: number
  /** Across, from the line below the tape, m. */
  acrossM: number
}

/** What lies between the tape's own light and the work, each 0–100 %. */
export type LightKept = {
  /** What the cover lets pass. */
  coverPassesPercent: number
  /** What is left when tape and cover have aged and gathered dust (the maintenance factor). */
  maintainedPercent: number
  /** How far the light is dimmed; 100 is full. */
  dimPercent: number
}

export type LightOnWork = {
  /** Maintained, at the given dim, lx. */
  lux: number
  /** The same when tape and cover are new, lx. */
  luxNew: number
  /** Maintained, at the given dim, at the same height and offset below the tape's end, lx. */
  luxAtEnd: number
  /** Light of the bare new tape at full that keeps the target at this point, lm/m. */
  neededLumensPerM: number
  /** Dim setting that meets the target; above 100 it cannot be met, %. */
  dimToPercent: number
  /** How bright the dimmed light looks, % of full. */
  seenAsPercent: number
}

/**
 * The light that a tape throws straight onto a level point below it, in lux; nothing reflected is counted.
 *
 * Closed form of ∫ (Φ'/π)·h²/d⁴ dl over the tape: a Lambertian source of Φ' lumens per metre has the intensity
 * Φ'/π·cos θ per metre straight ahead, and the inverse-square and cosine laws do the rest (IES *Lighting Handbook*,
 * calculation of direct illuminance). Valid while the tape is narrow against its height.
 */
export function illuminance(tape: LineOfLight, { alongM, acrossM }: PointOnWork): number {
  const { lumensPerM, lengthM, heightM } = tape
  const q = Math.hypot(heightM, acrossM)
  const integral = (l: number) => l / (2 * q ** 2 * (q ** 2 + l ** 2)) + Math.atan(l / q) / (2 * q ** 3)
  const span = integral(lengthM / 2 - alongM) + integral(lengthM / 2 + alongM)
  return (lumensPerM / Math.PI) * heightM ** 2 * span
}

/**
 * How bright the work is, and what it would take to reach a target there.
 *
 * @param tape the bare, new tape at full output
 * @param targetLux light wanted on the work, maintained, > 0, lx
 */
export function lightOnWork(
  tape: LineOfLight,
  point: PointOnWork,
  kept: LightKept,
  targetLux: number,
): LightOnWork {
  const bare = illuminance(tape, point)
  const fresh = kept.coverPassesPercent / 100
  const maintained = (fresh * kept.maintainedPercent) / 100
  const dim = kept.dimPercent / 100
  const belowEnd = { alongM: tape.lengthM / 2, acrossM: point.acrossM }
  return {
    lux: bare * maintained * dim,
    luxNew: bare * fresh * dim,
    luxAtEnd: illuminance(tape, belowEnd) * maintained * dim,
    neededLumensPerM: (targetLux / (bare * maintained)) * tape.lumensPerM,
    dimToPercent: (targetLux / (bare * maintained)) * 100,
    seenAsPercent: perceivedBrightness(kept.dimPercent),
  }
}

/**
 * How bright a dimmed light looks to an eye that has grown used to it, % of full: the square root of the measured
 * light (IES *Lighting Handbook*, 9th edition, "square law" of dimming).
 *
 * @param measuredPercent 0–100 %
 */
export function perceivedBrightness(measuredPercent: number): number {
  return 100 * Math.sqrt(measuredPercent / 100)
}

export type LuxAt = { atM: number; lux: number }

/**
 * Light along and across the bench through one point of it, for a picture: evenly spaced samples, both ends
 * included, maintained and at the given dim. `along` is measured from the tape's middle, `across` from the line
 * below the tape.
 *
 * @param reach how far to either side the samples go, > 0, m
 * @param count samples in each direction, >= 2
 */
export function lightOverBench(
  tape: LineOfLight,
  point: PointOnWork,
  kept: LightKept,
  reach: { alongM: number; acrossM: number },
  count = 61,
): { along: LuxAt[]; across: LuxAt[] } {
  const part = (kept.coverPassesPercent * kept.maintainedPercent * kept.dimPercent) / 100 ** 3
  const positions = (reachM: number) =>
    Array.from({ length: count }, (_, index) => reachM * ((2 * index) / (count - 1) - 1))
  const sample = (atM: number, at: PointOnWork) => ({ atM, lux: illuminance(tape, at) * part })
  return {
    along: positions(reach.alongM).map((alongM) => sample(alongM, { ...point, alongM })),
    across: positions(reach.acrossM).map((acrossM) => sample(acrossM, { ...point, acrossM })),
  }
}
