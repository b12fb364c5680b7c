import {
  CM3_PER_CUBIC_INCH,
  fahrenheit,
  LUX_PER_FOOT_CANDLE,
  METRES_PER_FOOT,
  METRES_PER_INCH,
} from './convert'
import type { System } from './systems'

/** Which way a figure is rounded: the caller names the safe one. `down` is towards smaller, also below 0. */
export type Rounding = 'down' | 'up' | 'nearest'

/** How many digits a number shows. Zeros at the end of its decimals are dropped unless kept. */
export type NumberFormat = { rounding?: Rounding; keepZeros?: boolean } & (
  | { decimals: number }
  | { significantDigits: number }
)

/** Units that a figure is printed in as it stands, the same in both systems. */
export type PrintedUnit = 'V' | 'A' | 'W' | 'VA' | '%' | 'ohm' | 'Hz' | 'h' | 'kWh' | 'count' | 'lm/W'

const INCHES_PER_FOOT = 12
const SIXTEENTHS_PER_INCH = 16

/**
 * A number of steps (sixteenths, millimetres, hundredths) as a whole number.
 *
 * A millionth of a step, or a billionth of the value, is the noise of binary fractions and no reason to
 * go a step further: 5.3 m rounded down to the millimetre is 5300 of them.
 */
function wholeSteps(steps: number, rounding: Rounding): number {
  if (!Number.isFinite(steps)) throw new RangeError('Only a finite number can be printed')
  const noise = Math.max(1e-6, Math.abs(steps) * 1e-9)
  const nearest = Math.round(steps)
  if (rounding === 'nearest' || Math.abs(steps - nearest) <= noise) return nearest + 0
  return (rounding === 'down' ? Math.floor(steps) : Math.ceil(steps)) + 0
}

/** Of up to 12 decimals. */
const POWERS_OF_TEN = Array.from({ length: 13 }, (_, decimals) => 10 ** decimals)

const magnitudeOf = (value: number) => (value === 0 ? 0 : Math.floor(Math.log10(Math.abs(value)) + 1e-9))

/**
 * A number as text, with a decimal point and without thousands separators.
 *
 * @param value any finite number
 * @param format decimals (0 to 12), or significant digits (1 to 12; digits before the point are all
 *   shown), and the rounding (nearest unless said)
 * @throws RangeError where the value is not finite: no figure that is printed may be
 */
export function printNumber(value: number, format: NumberFormat): string {
  const decimals =
    'decimals' in format
      ? format.decimals
      : Math.max(0, Math.min(12, format.significantDigits - 1 - magnitudeOf(value)))
  const scale = POWERS_OF_TEN[decimals] ?? 10 ** decimals
  const rounded = wholeSteps(value * scale, format.rounding ?? 'nearest') / scale
  // Within these the shortest text of a number has no exponent, and no zeros at its end.
  const isShort = Math.abs(rounded) >= 1e-6 && Math.abs(rounded) < 1e21
  if (isShort && !format.keepZeros) return String(rounded)
  const text = rounded.toFixed(decimals)
  return format.keepZeros || decimals === 0 ? text : text.replace(/\.?0+$/, '')
}

const DECIMALS: Readonly<Record<PrintedUnit, number>> = {
  V: 2,
  A: 2,
  W: 1,
  VA: 1,
  '%': 1,
  ohm: 3,
  Hz: 0,
  h: 1,
  kWh: 1,
  count: 0,
  'lm/W': 0,
}

const SYMBOLS: Partial<Record<PrintedUnit, string>> = { ohm: ' Ω', count: '' }

/**
 * A figure with its unit: `2.62 %`, `176 W`, `0.31 Ω`, `50`. Small figures keep three significant digits.
 *
 * @param value in the unit; any finite number
 * @param options.decimals instead of those usual for the unit
 * @throws RangeError where the value is not finite
 */
export function printQuantity(
  value: number,
  unit: PrintedUnit,
  options: { rounding?: Rounding; decimals?: number } = {},
): string {
  const enoughForSmall = unit === 'count' ? 0 : Math.min(12, 2 - magnitudeOf(value))
  const decimals = options.decimals ?? Math.max(DECIMALS[unit], value === 0 ? 0 : enoughForSmall)
  return (
    printNumber(value, { decimals, rounding: options.rounding ?? 'nearest' }) + (SYMBOLS[unit] ?? ` ${unit}`)
  )
}

function lowestTerms(sixteenths: number): string {
  let [above, below] = [sixteenths, SIXTEENTHS_PER_INCH]
  while (above % 2 === 0) {
    above /= 2
    below /= 2
  }
  return `${above}/${below}`
}

function printFeetAndInches(lengthM: number, rounding: Rounding): string {
  const signed = wholeSteps((lengthM / METRES_PER_INCH) * SIXTEENTHS_PER_INCH, rounding)
  const total = Math.abs(signed)
  const wholeInches = Math.floor(total / SIXTEENTHS_PER_INCH)
  const sixteenths = total % SIXTEENTHS_PER_INCH
  const feet = Math.floor(wholeInches / INCHES_PER_FOOT)
  const inches = wholeInches % INCHES_PER_FOOT
  const fraction = sixteenths === 0 ? '' : lowestTerms(sixteenths)
  const startsWithFraction = fraction !== '' && inches === 0 && feet === 0
  const inchText = startsWithFraction ? fraction : inches + (fraction === '' ? '' : `-${fraction}`)
  return `${signed < 0 ? '-' : ''}${feet === 0 ? '' : `${feet}' `}${inchText}"`
}

function printMetres(lengthM: number, rounding: Rounding): string {
  const millimetres = wholeSteps(lengthM * 1000, rounding)
  return Math.abs(millimetres) < 1000 ? `${millimetres} mm` : `${(millimetres / 1000).toFixed(3)} m`
}

/**
 * A length as a tape measure shows it: `17' 4-5/8"` to 1/16 in, or `5.283 m`, `283 mm` to 1 mm.
 * Rounded `down` it is never more than the length, `up` never less (but for a millionth of the step).
 *
 * @param lengthM length in m; any finite number
 * @throws RangeError where the length is not finite
 */
export function printLength(lengthM: number, system: System, rounding: Rounding): string {
  return system === 'us' ? printFeetAndInches(lengthM, rounding) : printMetres(lengthM, rounding)
}

const OTHER: Readonly<Record<System, System>> = { us: 'metric', metric: 'us' }

function inBoth(system: System, print: (system: System) => string): string {
  return `${print(system)} (${print(OTHER[system])})`
}

/**
 * A length in both systems, the reader's own first: `17' 4-5/8" (5.300 m)`. Each is rounded by itself,
 * so that both are on the safe side.
 *
 * @param lengthM length in m; any finite number
 * @throws RangeError where the length is not finite
 */
export function printBothLengths(lengthM: number, system: System, rounding: Rounding): string {
  return inBoth(system, (each) => printLength(lengthM, each, rounding))
}

const printIn = (unit: string, value: number, format: NumberFormat) => `${printNumber(value, format)} ${unit}`

/**
 * A temperature in both systems, to the degree: `25 °C (77 °F)`.
 *
 * @param degC temperature in °C; any finite number
 * @throws RangeError where it is not finite
 */
export function printTemperature(degC: number, system: System, rounding: Rounding = 'nearest'): string {
  const format = { decimals: 0, rounding }
  return inBoth(system, (each) =>
    each === 'us' ? printIn('°F', fahrenheit(degC), format) : printIn('°C', degC, format),
  )
}

/**
 * An illuminance in both systems, to three digits: `538 lx (50 fc)`.
 *
 * @param lx illuminance in lx; any finite number
 * @throws RangeError where it is not finite
 */
export function printIlluminance(lx: number, system: System, rounding: Rounding = 'nearest'): string {
  const format = { significantDigits: 3, rounding }
  return inBoth(system, (each) =>
    each === 'us' ? printIn('fc', lx / LUX_PER_FOOT_CANDLE, format) : printIn('lx', lx, format),
  )
}

/**
 * A volume in both systems: `15.50 in³ (254.0 cm³)`, to 0.01 in³ and 0.1 cm³.
 *
 * @param cm3 volume in cm³; any finite number
 * @throws RangeError where it is not finite
 */
export function printVolume(cm3: number, system: System, rounding: Rounding): string {
  return inBoth(system, (each) =>
    each === 'us'
      ? printIn('in³', cm3 / CM3_PER_CUBIC_INCH, { decimals: 2, rounding, keepZeros: true })
      : printIn('cm³', cm3, { decimals: 1, rounding, keepZeros: true }),
  )
}

function printPerLength(
  perMetre: number,
  unit: string,
  system: System,
  digits: number,
  rounding: Rounding,
): string {
  const format = { significantDigits: digits, rounding }
  return inBoth(system, (each) =>
    each === 'us'
      ? printIn(`${unit}/ft`, perMetre * METRES_PER_FOOT, format)
      : printIn(`${unit}/m`, perMetre, format),
  )
}

/**
 * A tape's power in both systems, to three digits: `4.39 W/ft (14.4 W/m)`.
 *
 * @param wattsPerM power in W/m; any finite number
 * @throws RangeError where it is not finite
 */
export function printPowerPerLength(
  wattsPerM: number,
  system: System,
  rounding: Rounding = 'nearest',
): string {
  return printPerLength(wattsPerM, 'W', system, 3, rounding)
}

/**
 * A tape's light in both systems, to three digits: `305 lm/ft (1000 lm/m)`.
 *
 * @param lumensPerM luminous flux in lm/m; any finite number
 * @throws RangeError where it is not finite
 */
export function printLumensPerLength(
  lumensPerM: number,
  system: System,
  rounding: Rounding = 'nearest',
): string {
  return printPerLength(lumensPerM, 'lm', system, 3, rounding)
}

/**
 * A conductor's resistance in both systems, to four digits: `0.03754 Ω/ft (0.1232 Ω/m)`.
 *
 * @param ohmPerM resistance in ohm/m; any finite number
 * @throws RangeError where it is not finite
 */
export function printResistancePerLength(
  ohmPerM: number,
  system: System,
  rounding: Rounding = 'nearest',
): string {
  return printPerLength(ohmPerM, 'Ω', system, 4, rounding)
}
