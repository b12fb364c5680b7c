import { DIMENSIONS, type Dimension } from '../../quantities/dimensions'
import {
  type PrintedUnit,
  printBothLengths,
  printIlluminance,
  printLumensPerLength,
  printNumber,
  printPowerPerLength,
  printQuantity,
  printResistancePerLength,
  printTemperature,
  printVolume,
  type Rounding,
} from '../../quantities/print'
import type { System } from '../../quantities/systems'
import type { Setting } from './answer'

type Printer = (value: number, system: System, rounding: Rounding) => string

/** The units that read differently in the two systems. */
const bySystem: Readonly<Record<string, Printer>> = {
  m: printBothLengths,
  degC: printTemperature,
  lx: printIlluminance,
  cm3: printVolume,
  'W/m': printPowerPerLength,
  'lm/m': printLumensPerLength,
  'ohm/m': printResistancePerLength,
  AWG: (value) => `${value} AWG`,
  mm2: (value) => `${value} mm²`,
  'oz/ft2': (value, _, rounding) => `${printNumber(value, { significantDigits: 3, rounding })} oz/ft²`,
  'per kWh': (value, _, rounding) => `${printNumber(value, { significantDigits: 3, rounding })} per kWh`,
  '': (value, _, rounding) => printNumber(value, { significantDigits: 3, rounding }),
}

/** Whoever means more than this mistyped it; it is shown as it was read, since rounding it could leave the numbers. */
const largestRounded = 1e15

/**
 * A value in a fixed JSON unit, for a person: lengths, temperatures and light in both systems, the person's own
 * first. `rounding` goes the safe way, which only the caller knows.
 */
export function printValue(
  value: number,
  unit: string,
  system: System,
  rounding: Rounding = 'nearest',
): string {
  if (Math.abs(value) > largestRounded) return `${value} ${unit}`
  const printer = bySystem[unit]
  return printer ? printer(value, system, rounding) : printQuantity(value, unit as PrintedUnit, { rounding })
}

const dimensionByUnit = new Map<string, Dimension>(
  (Object.keys(DIMENSIONS) as Dimension[]).map((dimension) => [DIMENSIONS[dimension].unit, dimension]),
)

/** The dimension that a fixed JSON unit belongs to, if it has one. */
export const dimensionOfUnit = (unit: string): Dimension | undefined => dimensionByUnit.get(unit)

/** The unit of a figure in this case: `size` is AWG or mm² by the rules. */
export function figureUnit<V extends Setting>(
  figure: { unit: string; unitOf?(values: V): string },
  values: V,
): string {
  const unit = figure.unitOf?.(values) ?? figure.unit
  if (unit !== 'size') return unit
  return values.rules === 'iec' ? 'mm2' : 'AWG'
}

const symbols: Readonly<Record<string, string>> = {
  ohm: 'Ω',
  'ohm/m': 'Ω/m',
  mm2: 'mm²',
  cm3: 'cm³',
  degC: '°C',
  count: '',
  '': '',
}

/** A number as working shows it: in its fixed unit, with five digits, so that a reader can check the sum. */
export const exactly = (value: number, unit: string): string =>
  `${printNumber(value, { significantDigits: 5 })} ${symbols[unit] ?? unit}`.trimEnd()
