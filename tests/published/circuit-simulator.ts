import { Simulation } from 'eecircuit-engine'
import type { TapeDesign, TapeFeed, TapeSupply } from '../../src/calculators/tape-network'

/**
 * The tape as a netlist for the ngspice circuit simulator: resistors for rails and cables, and for each unit a
 * behavioural current source that follows the unit's law. Written from the description of the network, and shares
 * no code with the solver under test.
 */
export function tapeNetlist(design: TapeDesign, feeds: readonly TapeFeed[], supply: TapeSupply): string {
  const { lengthM, cutLengthM, ratedV, ratedWPerM, railOhmPerM, knee, style } = design
  const units = Math.floor(lengthM / cutLengthM + 1e-6)
  const ratedA = (ratedWPerM * cutLengthM) / ratedV
  const kneeV = knee * ratedV
  const slope = ratedA / ((style === 'resistor' ? ratedV : 0.9 * ratedV) - kneeV)
  const split = supply.trunkOhm > 0 ? 'split' : 'source'
  const node = (unit: number): string => `u${unit}`

  const lines = ['* tape', `Vsource source 0 ${supply.sourceV}`]
  if (supply.trunkOhm > 0) lines.push(`Rtrunk source split ${supply.trunkOhm}`)
  feeds.forEach(({ atM, ohm }, i) => {
    const joined = node(Math.min(units - 1, Math.floor(atM / cutLengthM + 1e-6)))
    lines.push(ohm > 0 ? `Rfeed${i} ${split} ${joined} ${ohm}` : `Vfeed${i} ${split} ${joined} 0`)
  })
  for (let k = 0; k < units; k++) {
    const line = `${slope}*(V(${node(k)})-${kneeV})`
    const law = style === 'resistor' ? `max(0,${line})` : `min(${ratedA},max(0,${line}))`
    lines.push(`Bunit${k} ${node(k)} 0 I=${law}`)
    if (k + 1 === units) continue
    // A part behind a break has no path to ground, which the simulator needs: 1 GΩ, as no meter has.
    lines.push(
      Number.isFinite(linkOhm(k))
        ? `Rrail${k} ${node(k)} ${node(k + 1)} ${linkOhm(k)}`
        : `Rleak${k} ${node(k + 1)} 0 1e9`,
    )
  }
  lines.push('.options reltol=1e-7 vntol=1e-9 abstol=1e-12', '.op', '.end')
  return lines.join('\n')

  function linkOhm(k: number): number {
    const between = (atM: number): boolean => atM > (k + 0.5) * cutLengthM && atM <= (k + 1.5) * cutLengthM
    const joints = (supply.joints ?? []).filter(({ atM }) => between(atM))
    return joints.reduce((ohms, joint) => ohms + joint.ohm, railOhmPerM * cutLengthM)
  }
}

let simulator: Promise<Simulation> | undefined

async function start(): Promise<Simulation> {
  const simulation = new Simulation()
  await simulation.start()
  return simulation
}

/** Runs a netlist to its operating point: the voltage of each node, by name. */
export async function operatingPoint(netlist: string): Promise<Map<string, number>> {
  simulator ??= start()
  const simulation = await simulator
  simulation.setNetList(netlist)
  const result = await simulation.runSim()
  const nodes = new Map<string, number>()
  for (const { name, values } of result.data) {
    const value = values[0]
    if (typeof value === 'number') nodes.set(name.toLowerCase(), value)
  }
  return nodes
}

/** The voltage at each unit of a tape, V, as the circuit simulator finds it. */
export async function solveWithCircuitSimulator(
  design: TapeDesign,
  feeds: readonly TapeFeed[],
  supply: TapeSupply,
): Promise<number[]> {
  const nodes = await operatingPoint(tapeNetlist(design, feeds, supply))
  const units = Math.floor(design.lengthM / design.cutLengthM + 1e-6)
  return Array.from({ length: units }, (_, k) => {
    const volts = nodes.get(`v(u${k})`)
    if (volts === undefined) throw new Error(`The circuit simulator has no node u${k}.`)
    return volts
  })
}
