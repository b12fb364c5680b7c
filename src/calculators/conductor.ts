import type { ConductorSize } from '../quantities/conductor-size'
import type { Rules } from '../quantities/systems'
import { conductors } from '../tables/conductors'

/** How a conductor is made: one solid wire, a few strands (class 2), or many fine ones (class 5). */
export type Strands = 'stranded' | 'solid' | 'flexible'

const metresPer1000Ft = 304.8

/**
 * Diameter of a solid round wire, `0.127·92^((36−n)/39)` mm.
 *
 * @param gauge AWG number (0 for 1/0, −1 for 2/0, and so on)
 * @returns mm. Source: ASTM B258-18.
 *
 * @example awgDiameterMm(36) // 0.127
 */
export function awgDiameterMm(gauge: number): number {
  return 0.127 * 92 ** ((36 - gauge) / 39)
}

/** The sizes that a set of rules offers, thinnest first: AWG under `nec`, mm² under `iec`. */
export function sizesFor(rules: Rules): readonly ConductorSize[] {
  return sizes[rules]
}

const sizes: Readonly<Record<Rules, readonly ConductorSize[]>> = {
  nec: conductors.awg.map(({ gauge }) => ({ value: gauge, unit: 'AWG' })),
  iec: conductors.mm2.map(({ areaMm2 }) => ({ value: areaMm2, unit: 'mm2' })),
}

/**
 * Resistance of one copper conductor, ohm/m (a two-wire cable's loop has twice this).
 *
 * AWG 18 and larger: NFPA 70-2023 chapter 9 table 8, carried to other temperatures by its note. Thinner AWG:
 * from the diameter and annealed copper (IEC 60028), stranded 2 % more. mm²: IEC 60228:2023 at 20 °C.
 * AWG has no `flexible` row; it counts as stranded.
 *
 * @param temperatureC conductor temperature, °C, −20…90
 * @returns ohm/m; `undefined` for a size that is not in the tables
 */
export function conductorOhmPerM({
  size,
  strands,
  temperatureC,
}: {
  size: ConductorSize
  strands: Strands
  temperatureC: number
}): number | undefined {
  return size.unit === 'AWG'
    ? awgOhmPerM(size.value, strands, temperatureC)
    : mm2OhmPerM(size.value, strands, temperatureC)
}

const awgRows = new Map(
  conductors.awg.map((row) => [
    row.gauge,
    { ...row, areaMm2: (Math.PI / 4) * awgDiameterMm(row.gauge) ** 2 },
  ]),
)
const mm2Rows = new Map(conductors.mm2.map((row) => [row.areaMm2, row]))

function awgOhmPerM(gauge: number, strands: Strands, temperatureC: number): number | undefined {
  const row = awgRows.get(gauge)
  if (!row) return undefined
  if (!row.ohmPer1000Ft) return ohmPerMByArea(row.areaMm2, strands, temperatureC)
  const { atC, perKelvin } = conductors.tableEight
  const listed = strands === 'solid' ? row.ohmPer1000Ft.solid : row.ohmPer1000Ft.stranded
  return (listed / metresPer1000Ft) * (1 + perKelvin * (temperatureC - atC))
}

/**
 * Resistance of one AWG conductor from its diameter and the resistivity of annealed copper, for sizes that
 * NEC table 8 leaves out; it gives that table's own rows within 1 %.
 *
 * @param gauge AWG number
 * @param temperatureC conductor temperature, °C
 * @returns ohm/m. Sources: ASTM B258-18, IEC 60028:1925.
 */
export function ohmPerMByDiameter(gauge: number, strands: Strands, temperatureC: number): number {
  return ohmPerMByArea((Math.PI / 4) * awgDiameterMm(gauge) ** 2, strands, temperatureC)
}

function ohmPerMByArea(areaMm2: number, strands: Strands, temperatureC: number): number {
  const stranding = strands === 'solid' ? 1 : 1 + conductors.strandingPercent.value / 100
  return (conductors.copper.ohmMm2PerM / areaMm2) * stranding * copperRise(temperatureC)
}

function mm2OhmPerM(areaMm2: number, strands: Strands, temperatureC: number): number | undefined {
  const row = mm2Rows.get(areaMm2)
  if (!row) return undefined
  const listed = strands === 'flexible' ? row.ohmPerKm.flexible : row.ohmPerKm.solidOrStranded
  return (listed / 1000) * copperRise(temperatureC)
}

/**
 * How many times its resistance at 20 °C copper has at another temperature (IEC 60028:1925).
 *
 * @param temperatureC °C
 */
export function copperRise(temperatureC: number): number {
  return 1 + conductors.copper.perKelvin * (temperatureC - conductors.copper.atC)
}

/** What a conductor may carry. */
export type Capacity = {
  /** The greatest rating of what protects it, A: its capacity for a load that is not continuous. */
  overcurrentA: number
  /** Its capacity for a continuous load, A: 80 % of the above under `nec`, all of it under `iec`. */
  continuousA: number
  /** Only on a Class 2 supply, or one limited otherwise. */
  limitedSupplyOnly: boolean
  /** Only as flexible cable. */
  flexibleOnly: boolean
  /** Id of the source in the bibliography. */
  source: string
}

/**
 * Capacity of a conductor at 30 °C, not bundled.
 *
 * @returns `undefined` for a size that is not in the tables. Sources: NFPA 70-2023 240.4(D) and table 310.16;
 * IEC 60364-5-52:2009+A1 method A1; BS 7671 for flexible cords; 20 and 22 AWG by common practice.
 */
export function capacityA(size: ConductorSize): Capacity | undefined {
  return capacities[size.unit].get(size.value)
}

const capacities: Readonly<Record<ConductorSize['unit'], ReadonlyMap<number, Capacity>>> = {
  AWG: new Map(
    conductors.awg.map(({ gauge, overcurrentA, limitedSupplyOnly, source }) => {
      const continuousA = (overcurrentA * conductors.continuousPercent.value) / 100
      return [gauge, { overcurrentA, continuousA, limitedSupplyOnly, flexibleOnly: false, source }]
    }),
  ),
  mm2: new Map(
    conductors.mm2.map(({ areaMm2, capacityA: amperes, flexibleOnly, source }) => [
      areaMm2,
      { overcurrentA: amperes, continuousA: amperes, limitedSupplyOnly: false, flexibleOnly, source },
    ]),
  ),
}
