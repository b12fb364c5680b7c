import { z } from 'zod'
import data from '../../data/conductors.json'
import { sourceId } from './sources'

const positive = z.number().positive()

const AwgRow = z.strictObject({
  gauge: z.int().nonnegative(),
  /** Null where NEC chapter 9 table 8 has no row: the resistance then follows from the diameter. */
  ohmPer1000Ft: z.strictObject({ solid: positive, stranded: positive }).nullable(),
  resistanceSource: sourceId,
  overcurrentA: positive,
  limitedSupplyOnly: z.boolean(),
  source: sourceId,
})

const Mm2Row = z.strictObject({
  areaMm2: positive,
  ohmPerKm: z.strictObject({ solidOrStranded: positive, flexible: positive }),
  resistanceSource: sourceId,
  capacityA: positive,
  flexibleOnly: z.boolean(),
  source: sourceId,
})

const Conductors = z.strictObject({
  awg: z.array(AwgRow).min(1),
  mm2: z.array(Mm2Row).min(1),
  copper: z.strictObject({ ohmMm2PerM: positive, perKelvin: positive, atC: z.number(), source: sourceId }),
  tableEight: z.strictObject({ perKelvin: positive, atC: z.number(), source: sourceId }),
  strandingPercent: z.strictObject({ value: positive, source: sourceId }),
  continuousPercent: z.strictObject({ value: positive.max(100), source: sourceId }),
})

/** Resistance and capacity of copper conductors, thinnest first, with the copper they are made of. */
export const conductors = Conductors.parse(data)
