import type { TapeStyle } from '../../calculators/tape-network'
import { assumed, choice, optional, plainNumber, quantity } from './fields'

/** Tape of 24 V and above is cut every 100 mm, below that every 50 mm, when nobody says (common practice). */
export const usualCutLengthM = (known: { voltage: number }): number => (known.voltage >= 24 ? 0.1 : 0.05)

/** What is assumed of a tape when its reel does not say: shared by every question that solves the tape. */
export const tapeInputs = {
  cutLength: assumed(quantity('length', 0.005, 0.5), usualCutLengthM),
  tapeStyle: assumed(choice('resistor', 'regulated'), (): TapeStyle => 'resistor'),
  railResistance: optional(quantity('resistancePerLength', 0.005, 2)),
  copperWeight: optional(quantity('copperWeight', 0.25, 12)),
  railWidth: optional(quantity('length', 0.0005, 0.05)),
  knee: assumed(plainNumber(0.5, 0.85), 0.7),
}
