import type { DeratingLine, DriverSize } from '../../calculators/driver'
import { countCutUnits } from '../../calculators/tape-network'
import { driverSizes } from '../../tables/driver-sizes'
import type { Setting } from './answer'
import { classTwoStep } from './class-two'
import { exactly } from './printing'
import type { Step } from './question'

/** What a driver is sized from, in the fixed JSON units. */
type DriverValues = Setting & {
  voltage: number
  tapePower?: number | undefined
  tapeLength?: readonly number[] | undefined
  cutLength: number
  driverLoadLimit: number
  ambient: number
  fullOutputTo?: number | undefined
  derateAt?: number | undefined
  derateTo?: number | undefined
  efficiency: number
  powerFactor: number
  supply: number
  classTwo: 'prefer' | 'no-matter'
  classTwoNameplate: number
}

/** The ids of all steps that {@link driverWorking} may give. */
export const driverSteps = [
  'load',
  'derating',
  'needed',
  'rating',
  'drivers',
  'driverLoad',
  'outputCurrent',
  'inputPower',
  'inputCurrent',
  'heat',
  'classTwo',
  'usable',
  'units',
  'outputs',
] as const

/** The largest driver that is commonly sold, W. */
export const largestDriverW = Math.max(...driverSizes.ratingsW)

/** The temperature line of the label, when all of it is known. */
export function deratingOf({ fullOutputTo, derateAt, derateTo }: DriverValues): DeratingLine | undefined {
  return fullOutputTo === undefined || derateAt === undefined || derateTo === undefined
    ? undefined
    : { fullOutputToC: fullOutputTo, derateAtC: derateAt, derateToPercent: derateTo }
}

/** Class 2 is a class of the NEC; elsewhere its outputs are counted only for those who want them. */
export const countsOutputs = ({ rules, classTwo }: Pick<DriverValues, 'rules' | 'classTwo'>): boolean =>
  rules === 'nec' || classTwo === 'prefer'

/** How a driver is sized, and how many Class 2 outputs would share its load. */
export function driverWorking(size: DriverSize, values: DriverValues): Step[] {
  return [
    ...loadSteps(size, values),
    ...ratingSteps(size, values),
    ...lineSteps(size, values),
    ...(countsOutputs(values) ? [classTwoStep(values.voltage), ...outputSteps(size, values)] : []),
  ]
}

function loadSteps({ loadW, deratedToPercent }: DriverSize, values: DriverValues): Step[] {
  const { tapePower, tapeLength = [], ambient } = values
  const lengths = tapeLength.map((lengthM) => exactly(lengthM, 'm')).join(' + ')
  const load: Step[] =
    tapePower === undefined
      ? []
      : [
          {
            id: 'load',
            formula: 'P = w′ · L',
            substituted: `${exactly(tapePower, 'W/m')} × ${tapeLength.length > 1 ? `(${lengths})` : lengths}`,
            result: exactly(loadW, 'W'),
          },
        ]
  const line = deratingOf(values)
  if (!line) return load
  const { fullOutputToC, derateAtC, derateToPercent } = line
  const derating: Step = {
    id: 'derating',
    formula: '100 % − (100 % − least) · (T − T full) / (T least − T full), up to 100 %',
    substituted: `100 % − (100 % − ${exactly(derateToPercent, '%')}) × (${exactly(ambient, 'degC')} − ${exactly(fullOutputToC, 'degC')}) / (${exactly(derateAtC, 'degC')} − ${exactly(fullOutputToC, 'degC')})`,
    result: exactly(deratedToPercent, '%'),
  }
  return [...load, derating]
}

function ratingSteps(size: DriverSize, values: DriverValues): Step[] {
  const { loadW, neededW, ratingW, drivers, deratedToPercent, loadPercentOfRating } = size
  const derated = deratedToPercent < 100 ? ` / ${exactly(deratedToPercent, '%')}` : ''
  const needed: Step = {
    id: 'needed',
    formula: 'P / load limit / output left',
    substituted: `${exactly(loadW, 'W')} / ${exactly(values.driverLoadLimit, '%')}${derated}`,
    result: exactly(neededW, 'W'),
    source: 'common-practice-driver-load',
  }
  if (ratingW === undefined || loadPercentOfRating === undefined) {
    const count: Step = {
      id: 'drivers',
      formula: 'rating needed / largest size, up to a whole number',
      substituted: `${exactly(neededW, 'W')} / ${exactly(largestDriverW, 'W')}`,
      result: String(drivers),
      source: driverSizes.source,
    }
    return [needed, count]
  }
  const rating: Step = {
    id: 'rating',
    formula: 'least size of at least the rating needed',
    substituted: driverSizes.ratingsW.join(', '),
    result: exactly(ratingW, 'W'),
    source: driverSizes.source,
  }
  const driverLoad: Step = {
    id: 'driverLoad',
    formula: '100 · P / rating',
    substituted: `100 × ${exactly(loadW, 'W')} / ${exactly(ratingW, 'W')}`,
    result: exactly(loadPercentOfRating, '%'),
  }
  return [needed, rating, driverLoad]
}

const lineSteps = (size: DriverSize, { voltage, efficiency, powerFactor, supply }: DriverValues): Step[] => [
  {
    id: 'outputCurrent',
    formula: 'I = P / V',
    substituted: `${exactly(size.loadW, 'W')} / ${exactly(voltage, 'V')}`,
    result: exactly(size.outputA, 'A'),
  },
  {
    id: 'inputPower',
    formula: 'P in = P / efficiency',
    substituted: `${exactly(size.loadW, 'W')} / ${exactly(efficiency, '%')}`,
    result: exactly(size.inputW, 'W'),
  },
  {
    id: 'inputCurrent',
    formula: 'I in = P in / (pf · V line)',
    substituted: `${exactly(size.inputW, 'W')} / (${powerFactor} × ${exactly(supply, 'V')})`,
    result: exactly(size.inputA, 'A'),
  },
  {
    id: 'heat',
    formula: 'P in − P',
    substituted: `${exactly(size.inputW, 'W')} − ${exactly(size.loadW, 'W')}`,
    result: exactly(size.heatW, 'W'),
  },
]

function outputSteps(size: DriverSize, values: DriverValues): Step[] {
  const { usableW, unitsPerOutput, outputs } = size.classTwo
  const { classTwoNameplate, driverLoadLimit, tapePower = 0, cutLength } = values
  const derated = size.deratedToPercent < 100 ? ` × ${exactly(size.deratedToPercent, '%')}` : ''
  const usable: Step = {
    id: 'usable',
    formula: 'nameplate · load limit · output left',
    substituted: `${exactly(classTwoNameplate, 'W')} × ${exactly(driverLoadLimit, '%')}${derated}`,
    result: exactly(usableW, 'W'),
  }
  const units: Step[] =
    unitsPerOutput === undefined
      ? []
      : [
          {
            id: 'units',
            formula: 'usable / (w′ · s), down to a whole cut',
            substituted: `${exactly(usableW, 'W')} / (${exactly(tapePower, 'W/m')} × ${exactly(cutLength, 'm')})`,
            result: String(unitsPerOutput),
          },
        ]
  return outputs === undefined ? [usable, ...units] : [usable, ...units, outputsStep(size, outputs, values)]
}

function outputsStep({ loadW, classTwo }: DriverSize, outputs: number, values: DriverValues): Step {
  const { tapeLength = [], cutLength } = values
  const { usableW, unitsPerOutput } = classTwo
  const cuts = tapeLength.map((lengthM) => countCutUnits(lengthM, cutLength))
  const result = String(outputs)
  if (unitsPerOutput === undefined) {
    const substituted = `${exactly(loadW, 'W')} / ${exactly(usableW, 'W')}`
    return { id: 'outputs', formula: 'P / usable, up to a whole number', substituted, result }
  }
  return cuts.length === 1
    ? {
        id: 'outputs',
        formula: 'cuts / cuts for each output, up to a whole number',
        substituted: `${cuts[0]} / ${unitsPerOutput}`,
        result,
      }
    : {
        id: 'outputs',
        formula: 'fewest outputs that hold the runs, each whole where it fits',
        substituted: `${cuts.join(' + ')} cuts, ${unitsPerOutput} on each output`,
        result,
      }
}
