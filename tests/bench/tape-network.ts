import {
  solveTape,
  type TapeDesign,
  type TapeFeed,
  type TapeSupply,
} from '../../src/calculators/tape-network'
import { operatingPoint, tapeNetlist } from '../published/circuit-simulator'
import { type Measured, median } from './measured'

/** Keeps the optimizer from dropping work whose result nobody reads. */
let sink = 0

/**
 * The tape solver at three sizes against a bare sweep of one tridiagonal system of the same size, and against the
 * circuit simulator on the same netlist: medians of runs taken in turn in this process.
 */
export async function benchTapeNetwork(): Promise<Measured[]> {
  const measured: Measured[] = []
  for (const units of [50, 500, 5000]) {
    for (const kind of ['one feed', 'four feeds and trunk', 'regulated, far too long'] as const) {
      measured.push(againstBareSweep(units, kind))
    }
  }
  for (const units of [50, 500, 5000]) measured.push(await againstSimulator(units))
  return measured
}

type Kind = 'one feed' | 'four feeds and trunk' | 'regulated, far too long'

function site(units: number, kind: Kind): [TapeDesign, TapeFeed[], TapeSupply] {
  const cutLengthM = kind === 'regulated, far too long' ? Math.max(0.02, 20 / units) : 5 / units
  const lengthM = units * cutLengthM
  const design: TapeDesign = {
    lengthM,
    cutLengthM,
    ratedV: 24,
    ratedWPerM: 14.4,
    railOhmPerM: 0.12315,
    knee: 0.7,
    style: kind === 'regulated, far too long' ? 'regulated' : 'resistor',
  }
  if (kind !== 'four feeds and trunk') {
    return [design, [{ atM: 0, ohm: 0.1 }], { sourceV: 24, trunkOhm: 0 }]
  }
  const feeds = [0, 0.3, 0.6, 1].map((part) => ({ atM: part * lengthM, ohm: 0.2 }))
  return [design, feeds, { sourceV: 24, trunkOhm: 0.1 }]
}

function againstBareSweep(units: number, kind: Kind): Measured {
  const [design, feeds, supply] = site(units, kind)
  const sweep = bareSweep(units)
  const repeats = Math.ceil(50_000 / units)
  const ratio = medianRatio(
    61,
    () => timeOf(repeats, () => (sink += solveTape(design, feeds, supply).sourceA)),
    () => timeOf(repeats, () => (sink += sweep())),
  )
  return { name: `${units} units, ${kind}, per bare sweep`, ratio, target: 12, is: 'at most' }
}

/** One elimination and back substitution of a tridiagonal system, on typed arrays that are already there. */
function bareSweep(units: number): () => number {
  const below = new Float64Array(units).fill(-1)
  const middle = new Float64Array(units).fill(2.001)
  const above = new Float64Array(units).fill(-1)
  const right = new Float64Array(units).fill(0.01)
  const factor = new Float64Array(units)
  const answer = new Float64Array(units)
  return () => {
    let carried = 0
    let value = 0
    for (let k = 0; k < units; k++) {
      const pivot = (middle[k] as number) - (below[k] as number) * carried
      carried = (above[k] as number) / pivot
      value = ((right[k] as number) - (below[k] as number) * value) / pivot
      factor[k] = carried
      answer[k] = value
    }
    value = 0
    for (let k = units - 1; k >= 0; k--) {
      value = (answer[k] as number) - (factor[k] as number) * value
      answer[k] = value
    }
    return value
  }
}

async function againstSimulator(units: number): Promise<Measured> {
  const [design, feeds, supply] = site(units, 'one feed')
  const netlist = tapeNetlist(design, feeds, supply)
  const solve = () => (sink += solveTape(design, feeds, supply).sourceA)
  // Both warmed up: the simulator is compiled code from the start, the solver only after some runs.
  await operatingPoint(netlist)
  timeOf(1000, solve)
  const ratios: number[] = []
  for (let run = 0; run < 9; run++) {
    const start = performance.now()
    await operatingPoint(netlist)
    const simulatorMs = performance.now() - start
    const solverMs = timeOf(100, solve) / 100
    ratios.push(simulatorMs / solverMs)
  }
  return {
    name: `${units} units, times faster than the circuit simulator`,
    ratio: median(ratios),
    target: 100,
    is: 'at least',
  }
}

function medianRatio(runs: number, ours: () => number, theirs: () => number): number {
  for (let warm = 0; warm < 10; warm++) {
    ours()
    theirs()
  }
  const times = Array.from({ length: runs }, () => [ours(), theirs()] as const)
  return median(times.map(([mine]) => mine)) / median(times.map(([, other]) => other))
}

function timeOf(repeats: number, work: () => void): number {
  const start = performance.now()
  for (let i = 0; i < repeats; i++) work()
  return performance.now() - start
}
