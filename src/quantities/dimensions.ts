import type { System } from './systems'
import { type Measured, measured, sameDimension } from './units'

export type Dimension =
  | 'length'
  | 'voltage'
  | 'current'
  | 'power'
  | 'apparentPower'
  | 'powerPerLength'
  | 'resistance'
  | 'resistancePerLength'
  | 'area'
  | 'volume'
  | 'temperature'
  | 'lumensPerLength'
  | 'efficacy'
  | 'illuminance'
  | 'frequency'
  | 'time'
  | 'energy'
  | 'percent'
  | 'copperWeight'

/** How a dimension is written. */
export type DimensionNotation = {
  /** The fixed unit of every JSON number of this dimension. */
  unit: string
  /** The same unit as mathjs writes it. */
  expression: string
  /** A value as a person of each system would type it. */
  example: Record<System, string>
}

const notation = (unit: string, us: string, metric = us, expression = unit): DimensionNotation => ({
  unit,
  expression,
  example: { us, metric },
})

/** Every dimension with its JSON unit and an example to show when an input is refused. */
export const DIMENSIONS: Readonly<Record<Dimension, DimensionNotation>> = {
  length: notation('m', '12 ft 6 in', '3.8 m'),
  voltage: notation('V', '24 V'),
  current: notation('A', '2.5 A'),
  power: notation('W', '96 W'),
  apparentPower: notation('VA', '150 VA', '150 VA', 'voltampere'),
  powerPerLength: notation('W/m', '4.4 W/ft', '14.4 W/m'),
  resistance: notation('ohm', '0.5 ohm'),
  resistancePerLength: notation('ohm/m', '0.0375 ohm/ft', '0.123 ohm/m'),
  area: notation('mm2', '1.5 mm2', '1.5 mm2', 'mm^2'),
  volume: notation('cm3', '15.5 in3', '254 cm3', 'cm^3'),
  temperature: notation('degC', '77 °F', '25 °C'),
  lumensPerLength: notation('lm/m', '300 lm/ft', '1000 lm/m', 'lumen/m'),
  efficacy: notation('lm/W', '100 lm/W', '100 lm/W', 'lumen/W'),
  illuminance: notation('lx', '50 fc', '500 lx', 'lumen/m^2'),
  frequency: notation('Hz', '120 Hz', '100 Hz'),
  time: notation('h', '4 h'),
  energy: notation('kWh', '99.5 kWh'),
  percent: notation('%', '85 %', '85 %', 'percentage'),
  copperWeight: notation('oz/ft2', '2 oz/ft2', '2 oz/ft2', 'oz/ft^2'),
}

const ONE_OF_EACH = Object.entries(DIMENSIONS).map(
  ([dimension, { expression }]) => [dimension as Dimension, measured(1, expression)] as const,
)

/** The dimension of a quantity, or undefined where it is none that any question asks for. */
export function dimensionOf(quantity: Measured): Dimension | undefined {
  return ONE_OF_EACH.find(([, one]) => sameDimension(one, quantity))?.[0]
}
