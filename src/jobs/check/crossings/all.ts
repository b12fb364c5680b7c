import { cableInBox } from './cable-in-box'
import { cableThroughHole } from './cable-through-hole'
import type { Crossing } from './crossing'
import { driverHeat } from './driver-heat'
import { driverOnDimmer } from './driver-on-dimmer'
import { driversOnCircuit } from './drivers-on-circuit'
import { loadOfTape } from './load-of-tape'
import { readings } from './readings'
import { tapeOnDriver } from './tape-on-driver'
import { wetPlace } from './wet-place'

/** Every crossing. A new one takes one line here, and its id and words in `words.ts` and the prompts. */
export const crossings: readonly Crossing[] = [
  wetPlace,
  cableInBox,
  loadOfTape,
  tapeOnDriver,
  driverHeat,
  driverOnDimmer,
  driversOnCircuit,
  cableThroughHole,
  readings,
]
