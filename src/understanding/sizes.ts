import { conductors } from '../tables/conductors'

/** The AWG numbers that the trade buys. */
export const gaugeNumbers: ReadonlySet<number> = new Set(conductors.awg.map((row) => row.gauge))

/** The cross-sections that the trade buys, mm². */
export const conductorAreas: ReadonlySet<number> = new Set(conductors.mm2.map((row) => row.areaMm2))
