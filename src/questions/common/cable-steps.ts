import { awgDiameterMm, type Capacity, conductorOhmPerM, type Strands } from '../../calculators/conductor'
import { type ConductorSize, printConductorSize } from '../../quantities/conductor-size'
import { conductors } from '../../tables/conductors'
import { exactly } from './printing'
import type { Step } from './question'

/** One conductor of a cable, copper of this temperature, °C. */
export type Conductor = { size: ConductorSize; strands: Strands; conductorTemp: number }

/** NEC chapter 9 table 8 begins with this gauge; thinner ones follow from their diameter. */
const thinnestListedAwg = 18

const isListed = ({ unit, value }: ConductorSize): boolean => unit === 'mm2' || value <= thinnestListedAwg

/** Id of the source that a conductor's resistance is taken from. */
export const resistanceSource = (size: ConductorSize): string => {
  if (size.unit === 'mm2') return 'iec-60228'
  return isListed(size) ? 'nec-ch9-t8' : 'iec-60028'
}

/** The working of one conductor's resistance, under the label `resistance`. */
export function resistanceStep({ size, strands, conductorTemp }: Conductor): Step {
  const { copper, tableEight, strandingPercent } = conductors
  const { atC, perKelvin } = size.unit === 'mm2' || !isListed(size) ? copper : tableEight
  const at = (temperatureC: number) =>
    exactly(conductorOhmPerM({ size, strands, temperatureC }) ?? 0, 'ohm/m')
  const rise = `(1 + ${perKelvin} × (${exactly(conductorTemp, '')} − ${atC}))`
  const twist = strands === 'solid' ? 1 : 1 + strandingPercent.value / 100
  const areaMm2 = (Math.PI / 4) * awgDiameterMm(size.value) ** 2
  const copperOhm = `${exactly(copper.ohmMm2PerM, 'ohm')}·mm²/m`
  const start = isListed(size) ? at(atC) : `${copperOhm} / ${exactly(areaMm2, 'mm2')} × ${twist}`
  return {
    id: 'resistance',
    formula: `R′ = ${isListed(size) ? `R′(${atC} °C)` : 'ρ / A · twist'} · (1 + ${perKelvin} · (T − ${atC}))`,
    substituted: `${printConductorSize(size)} ${strands}: ${start} × ${rise}`,
    result: at(conductorTemp),
    source: resistanceSource(size),
  }
}

/** The working of what a size may carry, A, beside what it does carry, A; under the label `capacity` unless said. */
export const capacityStep = (
  { overcurrentA, source }: Capacity,
  { size, allowedA, currentA }: { size: ConductorSize; allowedA: number; currentA: number },
  id = 'capacity',
): Step => ({
  id,
  formula: 'share · limit of the size ≥ I',
  substituted: `${exactly((100 * allowedA) / overcurrentA, '%')} × ${exactly(overcurrentA, 'A')} (${printConductorSize(size)})`,
  result: `${exactly(allowedA, 'A')}, against ${exactly(currentA, 'A')}`,
  source,
})
