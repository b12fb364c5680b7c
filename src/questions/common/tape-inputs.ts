import { copperRise } from '../../calculators/conductor'
import { countCutUnits, type TapeDesign, type TapeStyle } from '../../calculators/tape-network'
import type { System } from '../../quantities/systems'
import { conductors } from '../../tables/conductors'
import { assumed, choice, optional, plainNumber, quantity } from './fields'
import { exactly, printValue } from './printing'
import type { Step } from './question'
import type { FieldFault } from './read-inputs'

/** Tape of 24 V and above is cut every 100 mm, below that every 50 mm, when nobody says (common practice). */
export const usualCutLengthM = (known: { voltage: number }): number => (known.voltage >= 24 ? 0.1 : 0.05)

/** Loop resistance that rails may have, ohm/m. */
const railRange = { min: 0.005, max: 2 }

/** Copper of one ounce on a square foot is this thick, mm (common practice). */
const ounceMm = 0.035

/** Longest tape that is solved, cut units. */
const mostUnits = 5000

/**
 * What is assumed of a tape when its reel does not say: shared by every question that solves the tape. The rails are
 * `railResistance` where it is given, else copper of `copperWeight` and `railWidth`: see {@link railOhmPerMOf}.
 */
export const tapeInputs = {
  cutLength: assumed(quantity('length', 0.005, 0.5), usualCutLengthM),
  tapeStyle: assumed(choice('resistor', 'regulated'), (): TapeStyle => 'resistor'),
  railResistance: optional(quantity('resistancePerLength', railRange.min, railRange.max)),
  copperWeight: assumed(quantity('copperWeight', 0.25, 12), 2),
  railWidth: assumed(quantity('length', 0.0005, 0.05), 0.004),
  knee: assumed(plainNumber(0.5, 0.85), 0.7),
}

/** The inputs that describe the rails; widths and weights in the fixed JSON units. */
type RailValues = { railResistance?: number | undefined; copperWeight: number; railWidth: number }

const railAreaMm2 = ({ copperWeight, railWidth }: RailValues): number =>
  copperWeight * ounceMm * railWidth * 1000

/**
 * Loop resistance of both rails at 20 °C, ohm/m: as given, else `2·ρ/(thickness·width)` of annealed copper
 * (IEC 60028:1925), 0.12315 for the usual 70 µm of 4.0 mm width.
 */
export const railOhmPerMOf = (values: RailValues): number =>
  values.railResistance ?? (2 * conductors.copper.ohmMm2PerM) / railAreaMm2(values)

/** A tape, its length left open, rails at 20 °C. */
export const tapeOf = (
  values: RailValues & {
    voltage: number
    tapePower: number
    cutLength: number
    tapeStyle: TapeStyle
    knee: number
  },
): Omit<TapeDesign, 'lengthM'> => ({
  cutLengthM: values.cutLength,
  ratedV: values.voltage,
  ratedWPerM: values.tapePower,
  railOhmPerM: railOhmPerMOf(values),
  knee: values.knee,
  style: values.tapeStyle,
})

/** The working of {@link railOhmPerMOf}, under the label `rails`; none where the resistance was given. */
export const railSteps = (values: RailValues): Step[] =>
  values.railResistance === undefined
    ? [
        {
          id: 'rails',
          formula: 'r′ = 2 · ρ / A',
          substituted: `2 × ${exactly(conductors.copper.ohmMm2PerM, 'ohm')}·mm²/m / ${exactly(railAreaMm2(values), 'mm2')}`,
          result: exactly(railOhmPerMOf(values), 'ohm/m'),
          source: conductors.copper.source,
        },
      ]
    : []

/** The working of one cut unit's rated current, under the label `unit`. */
export const unitStep = ({
  voltage,
  tapePower,
  cutLength,
}: {
  voltage: number
  tapePower: number
  cutLength: number
}): Step => ({
  id: 'unit',
  formula: 'I₀ = w′ · s / V_n',
  substituted: `${exactly(tapePower, 'W/m')} × ${exactly(cutLength, 'm')} / ${exactly(voltage, 'V')}`,
  result: exactly((tapePower * cutLength) / voltage, 'A'),
})

/** Rails of tape at work, °C (common practice). */
const warmRailsC = 50

/** How many times their resistance at 20 °C the rails of tape at work have. */
export const warmRailRise = copperRise(warmRailsC)

/**
 * The caution that warm rails dim the tape, with the dimmest light, percent, of warm and of cold rails; none where
 * the two print the same.
 */
export function warmRailCautions(
  warmPercent: number,
  coldPercent: number,
  units: System,
): { id: string; values: Record<string, string> }[] {
  const print = (percent: number) => printValue(percent, '%', units, 'down')
  const values = { warm: print(warmPercent), cold: print(coldPercent) }
  return values.warm === values.cold ? [] : [{ id: 'warm-rails', values }]
}

/** The copper plays no part where the rails' resistance is given: for a question's `irrelevant`. */
export const irrelevantOfRails = ({ railResistance }: RailValues): readonly string[] =>
  railResistance === undefined ? [] : ['copperWeight', 'railWidth']

/**
 * Faults of a tape that one field alone does not show: its rails given in two ways or out of range, more cut units
 * than are solved, less than one. `knee` needs none: its range ends below the 0.90 at which a regulator takes over.
 */
export function tapeFaults(
  values: RailValues & { units: 'us' | 'metric'; cutLength: number; tapeLength?: number },
  given: ReadonlySet<string>,
): FieldFault[] {
  const { tapeLength } = values
  return [
    ...railFaults(values, given),
    ...(tapeLength === undefined ? [] : lengthFaults('tapeLength', tapeLength, values)),
  ]
}

function railFaults(
  values: RailValues & { units: 'us' | 'metric' },
  given: ReadonlySet<string>,
): FieldFault[] {
  const byCopper = ['copperWeight', 'railWidth'].filter((field) => given.has(field))
  if (given.has('railResistance')) {
    return byCopper.map((field) => ({
      field,
      reason: 'one-or-the-other',
      values: { other: 'railResistance' },
    }))
  }
  const ohmPerM = railOhmPerMOf(values)
  if (ohmPerM >= railRange.min && ohmPerM <= railRange.max) return []
  const print = (ohm: number) => printValue(ohm, 'ohm/m', values.units)
  const said = { found: print(ohmPerM), least: print(railRange.min), most: print(railRange.max) }
  return byCopper.map((field) => ({ field, reason: 'rails-out-of-range', values: said }))
}

/** Faults of one length of tape, m, in a field: less than one cut unit, or more of them than are solved. */
export function lengthFaults(
  field: string,
  lengthM: number,
  { units, cutLength }: { units: 'us' | 'metric'; cutLength: number },
): FieldFault[] {
  const cuts = countCutUnits(lengthM, cutLength)
  if (cuts < 1) {
    return [{ field, reason: 'less-than-a-cut', values: { least: printValue(cutLength, 'm', units, 'up') } }]
  }
  if (cuts <= mostUnits) return []
  const most = printValue(mostUnits * cutLength, 'm', units, 'down')
  return [{ field, reason: 'too-many-cuts', values: { most } }]
}
