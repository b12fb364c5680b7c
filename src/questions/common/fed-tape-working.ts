import { capacityA } from '../../calculators/conductor'
import type { FeedLayout } from '../../calculators/feed-layout'
import type { TapeLight } from '../../calculators/tape-network'
import type { ConductorSize } from '../../quantities/conductor-size'
import { capacityStep, resistanceStep } from './cable-steps'
import {
  cableOhmPerM,
  type FedTape,
  type FedTapeValues,
  judgedCables,
  type LoadedCable,
  loadedCables,
  loopOhm,
  usualStrands,
} from './fed-tape'
import { exactly } from './printing'
import type { Step } from './question'
import { railSteps, unitStep } from './tape-inputs'

/** The ids of all steps that {@link fedTapeWorking} may give. */
export const fedTapeSteps = [
  'rails',
  'unit',
  'resistance',
  'network',
  'feedDrop',
  'trunkDrop',
  'law',
  'lawRegulated',
  'evenness',
  'capacity',
  'driver',
  'energy',
  'layout',
] as const

type FedTapeStep = Step & { id: (typeof fedTapeSteps)[number] }

/** Of more cables than this only those nearest their capacity are worked out in full. */
const mostDrops = 4

/** How a fed tape is worked out; `better` is a layout that does, with its description. */
export function fedTapeWorking(
  fed: FedTape,
  values: FedTapeValues,
  better: { layout: FeedLayout; text: string } | undefined,
): Step[] {
  const { conductorTemp } = values
  const strands = usualStrands(values)
  const cables = loadedCables(fed)
  const judged = judgedCables(fed).map(({ cable }) => cable)
  const steps = [
    ...railSteps(values),
    unitStep(values),
    ...eachSize(cables).map((size) => resistanceStep({ size, strands, conductorTemp })),
    networkStep(fed),
  ]
  if (fed.overloaded) return [...steps, ...driverSteps(fed, values)]
  return [
    ...steps,
    ...(cables.length > mostDrops ? judged : cables).map((cable) => dropStep(cable, values)),
    lawStep(fed.light, values),
    evennessStep(fed.light),
    ...judged.flatMap(carriedStep),
    ...driverSteps(fed, values),
    energyStep(fed, values),
    ...(better ? [layoutStep(better.layout, better.text)] : []),
  ]
}

const eachSize = (cables: readonly LoadedCable[]): ConductorSize[] =>
  cables
    .map(({ size }) => size)
    .filter((size, i, all) => all.findIndex(({ value }) => value === size.value) === i)

const networkStep = ({ design, feeds, tape }: FedTape): FedTapeStep => ({
  id: 'network',
  formula: 'Σ I = 0 at each cut unit; r = r′ · s from one to the next',
  substituted: `${tape.unitV.length} cut units, ${feeds.length} fed, r = ${exactly(design.railOhmPerM, 'ohm/m')} × ${exactly(design.cutLengthM, 'm')}`,
  result: exactly(tape.sourceA, 'A'),
})

const dropStep = (cable: LoadedCable, values: FedTapeValues): FedTapeStep => ({
  id: cable.id === 'trunkCapacity' ? 'trunkDrop' : 'feedDrop',
  formula: 'drop = 2 · I · R′ · d',
  substituted: `2 × ${exactly(cable.amperes, 'A')} × ${exactly(cableOhmPerM(cable.size, values), 'ohm/m')} × ${exactly(cable.distanceM, 'm')}`,
  result: exactly(cable.amperes * loopOhm(cable, values), 'V'),
})

/** The working of the dimmest unit's light, under the label `law` or `lawRegulated`. */
export function lawStep(
  light: TapeLight,
  { voltage, knee, tapeStyle }: Pick<FedTapeValues, 'voltage' | 'knee' | 'tapeStyle'>,
): FedTapeStep {
  const regulated = tapeStyle === 'regulated'
  const kneeV = knee * voltage
  const fullV = regulated ? 0.9 * voltage : voltage
  return {
    id: regulated ? 'lawRegulated' : 'law',
    formula: `I / I₀ = (V − V_k) / (${regulated ? '0.9 · V_n' : 'V_n'} − V_k), V_k = k · V_n; ${regulated ? 'from 0 to 1' : 'not below 0'}`,
    substituted: `(${exactly(light.lowestV, 'V')} − ${exactly(kneeV, 'V')}) / (${exactly(fullV, 'V')} − ${exactly(kneeV, 'V')})`,
    result: exactly(light.dimmestPercent, '%'),
    source: 'common-practice-tape-knee',
  }
}

/** The working of the evenness, under the label `evenness`. */
export const evennessStep = (light: TapeLight): FedTapeStep => ({
  id: 'evenness',
  formula: '100 · dimmest / brightest',
  substituted: `100 × ${exactly(light.dimmestPercent, '%')} / ${exactly(light.brightestPercent, '%')}`,
  result: exactly(light.evennessPercent, '%'),
})

function carriedStep({ size, amperes }: LoadedCable): Step[] {
  const capacity = capacityA(size)
  return capacity ? [capacityStep(capacity, { size, allowedA: capacity.continuousA, currentA: amperes })] : []
}

const driverSteps = (
  { driverA, tape }: FedTape,
  { driverPower = 0, voltage }: FedTapeValues,
): FedTapeStep[] =>
  driverA === undefined
    ? []
    : [
        {
          id: 'driver',
          formula: 'P / V_n ≥ I',
          substituted: `${exactly(driverPower, 'W')} / ${exactly(voltage, 'V')}`,
          result: `${exactly(driverA, 'A')}, against ${exactly(tape.sourceA, 'A')}`,
        },
      ]

const energyStep = ({ tape }: FedTape, { sourceVoltage }: FedTapeValues): FedTapeStep => ({
  id: 'energy',
  formula: 'V · I = tape + rails + cables',
  substituted: `${exactly(sourceVoltage, 'V')} × ${exactly(tape.sourceA, 'A')}`,
  result: `${exactly(tape.tapeW, 'W')} + ${exactly(tape.railLossW, 'W')} + ${exactly(tape.feedLossW + tape.trunkLossW, 'W')}`,
})

const layoutStep = ({ light }: FeedLayout, text: string): FedTapeStep => ({
  id: 'layout',
  formula: 'one end, middle, both ends, more feeds; then heavier cable',
  substituted: text,
  result: `${exactly(light.evennessPercent, '%')}, ${exactly(light.dimmestPercent, '%')}`,
})
